import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from jobnotes.errors import (
    DamagedFileError,
    EmptyFileError,
    FormatError,
    MissingFileError,
    OpenFlagsError,
    OutputError,
    ReviewError,
    SettingsError,
    TooLargeError,
    UnknownJobError,
)

README = "\n".join(
    line
    for line in (Path(__file__).parent.parent / "README.md").read_text("utf-8").splitlines()
    if line.startswith("    jobnotes ") or "`jobnotes " in line
)
SAID = """complaint is it will not idle
battery voltage, key off, twelve point four volts
set the spark plug gap to thirty thou
part number k l dash four four two, ordered
labour forty minutes
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    folder = tmp_path / "shop"
    folder.mkdir()
    return folder


def jobnotes(shop: Path, *arguments: object) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "JOBNOTES_HOME": str(shop)}
    command = [sys.executable, "-m", "jobnotes.cli", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, env=environment)


def text(folder: Path, said: str = SAID) -> Path:
    path = folder / "said.txt"
    path.write_text(said, encoding="utf-8")
    return path


def test_facts_of_a_text_are_one_json_object(shop):
    told = jobnotes(shop, "facts", text(shop))
    facts = json.loads(told.stdout)
    assert [(one["value"], one["unit"]) for one in facts["readings"]] == [(12.4, "V"), (30, "thou")]
    assert facts["labour_minutes"] == 40


def test_facts_leave_nothing_behind(shop):
    said = text(shop)
    jobnotes(shop, "facts", said)
    assert list(shop.iterdir()) == [said]


@pytest.mark.parametrize(
    ("name", "content", "error"),
    [
        ("none.wav", None, MissingFileError),
        ("empty.wav", b"", EmptyFileError),
        ("empty.txt", b"", EmptyFileError),
        ("text.wav", b"battery voltage is twelve volts\n" * 40, FormatError),
        ("latin.txt", "Öldruck fünf bar\n".encode("latin-1"), FormatError),
    ],
)
def test_a_source_that_cannot_be_used_ends_with_its_own_exit_code(shop, name, content, error):
    source = shop / name
    if content is not None:
        source.write_bytes(content)
    told = jobnotes(shop, "facts", source)
    assert told.returncode == error.exit_code
    assert told.stdout == ""
    assert told.stderr.startswith("jobnotes: ")
    assert "Traceback" not in told.stderr


def new_job(shop: Path) -> str:
    return jobnotes(shop, "new", "--machine", "tiller", "--customer", "Ms Okafor").stdout.strip()


def test_a_bad_file_does_not_keep_a_good_one_from_being_taken_in(shop):
    from PIL import Image

    job, good, bad = new_job(shop), shop / "good.jpg", shop / "bad.jpg"
    Image.effect_noise((64, 48), 80).convert("RGB").save(good)
    bad.write_bytes(good.read_bytes()[: good.stat().st_size // 2])
    told = jobnotes(shop, "add", job, bad, good)
    assert told.returncode == DamagedFileError.exit_code
    assert "bad.jpg" in told.stderr
    record = json.loads(jobnotes(shop, "show", job, "--json").stdout)
    assert [photo["name"] for photo in record["photos"]] == ["good.jpg"]


def test_a_picture_of_900_megapixels_is_refused_before_it_is_decoded(shop):
    from PIL import Image

    job, huge = new_job(shop), shop / "huge.png"
    Image.new("1", (30000, 30000)).save(huge)
    told = jobnotes(shop, "add", job, huge)
    assert told.returncode == TooLargeError.exit_code


@pytest.mark.parametrize(
    ("name", "content", "error"),
    [
        ("drawing.jpg", b'<svg xmlns="http://www.w3.org/2000/svg"/>', FormatError),
        ("empty.jpg", b"", EmptyFileError),
    ],
)
def test_a_photo_that_is_none_ends_with_its_own_exit_code(shop, name, content, error):
    job, photo = new_job(shop), shop / name
    photo.write_bytes(content)
    assert jobnotes(shop, "add", job, photo).returncode == error.exit_code


def test_a_job_that_is_not_there_is_named(shop):
    told = jobnotes(shop, "show", "1999-0001")
    assert told.returncode == UnknownJobError.exit_code
    assert "1999-0001" in told.stderr


def test_a_report_is_not_issued_before_its_facts_are_settled(shop):
    job = new_job(shop)
    jobnotes(shop, "add", job, text(shop))
    jobnotes(shop, "run", job)
    told = jobnotes(shop, "report", job, "--out", shop / "story.pdf")
    assert told.returncode == OpenFlagsError.exit_code
    assert not (shop / "story.pdf").exists()


def test_a_page_is_not_issued_before_its_facts_are_settled(shop):
    job = new_job(shop)
    jobnotes(shop, "add", job, text(shop))
    jobnotes(shop, "run", job)
    told = jobnotes(shop, "report", job, "--out", shop / "story.html")
    assert told.returncode == OpenFlagsError.exit_code
    assert not (shop / "story.html").exists()


@pytest.mark.parametrize("name", ["story.html", "STORY.HTM"])
def test_a_report_whose_name_ends_in_html_is_a_page(shop, name):
    job = new_job(shop)
    jobnotes(shop, "add", job, text(shop))
    jobnotes(shop, "run", job)
    jobnotes(shop, "confirm", job, "--unflagged", "--who", "Ada")
    assert jobnotes(shop, "report", job, "--out", shop / name).returncode == 0
    page = (shop / name).read_text("utf-8")
    assert page.startswith("<!doctype html>")
    assert "12.4\N{NO-BREAK SPACE}V" in page


def test_a_report_is_of_no_other_form(shop):
    told = jobnotes(shop, "report", new_job(shop), "--draft", "--out", shop / "story.docx")
    assert told.returncode == OutputError.exit_code
    assert "ends in .pdf, .html or .htm" in told.stderr


@pytest.mark.parametrize("setting", ["", "print_prices = true\n"])
def test_prices_are_printed_only_when_the_shop_says_so(shop, setting):
    (shop / "settings.toml").write_text(setting)
    job, page = new_job(shop), shop / "story.html"
    said = "installed a new drive belt part number k l dash four four two, nineteen dollars\n"
    jobnotes(shop, "add", job, text(shop, said))
    jobnotes(shop, "run", job)
    jobnotes(shop, "report", job, "--draft", "--out", page)
    assert ("dollars" in page.read_text("utf-8")) == bool(setting)


def test_a_settled_job_becomes_a_pdf(shop):
    from pypdf import PdfReader

    job, story = new_job(shop), shop / "story.pdf"
    jobnotes(shop, "add", job, text(shop))
    jobnotes(shop, "run", job)
    jobnotes(shop, "confirm", job, "--unflagged", "--who", "Ada")
    assert jobnotes(shop, "report", job, "--out", story).returncode == 0
    printed = "\n".join(page.extract_text() for page in PdfReader(story).pages)
    assert "12.4 V" in printed


def test_verify_finds_an_altered_original(shop):
    from PIL import Image

    job, photo = new_job(shop), shop / "photo.png"
    Image.effect_noise((64, 48), 80).save(photo)
    jobnotes(shop, "add", job, photo)
    assert jobnotes(shop, "verify").returncode == 0
    (kept,) = [path for path in (shop / "originals").rglob("*") if path.is_file()]
    kept.chmod(0o600)
    kept.write_bytes(kept.read_bytes()[:-1] + b"x")
    told = jobnotes(shop, "verify")
    assert told.returncode != 0
    assert "photo.png" in told.stderr or kept.name in told.stderr


def test_the_help_names_every_command(shop):
    told = jobnotes(shop, "--help")
    assert told.returncode == 0
    for command in sorted({one.group(1) for one in re.finditer(r"`?jobnotes ([a-z]+)\b", README)}):
        assert f"  {command} " in told.stdout


def test_a_recording_without_speech_holds_the_report_until_somebody_has_listened(shop, weights):
    import wave

    job, hum, story = new_job(shop), shop / "hum.wav", shop / "story.pdf"
    with wave.open(str(hum), "wb") as file:
        file.setparams((1, 2, 16000, 0, "NONE", ""))
        file.writeframes(bytes(2 * 16000 * 4))
    jobnotes(shop, "add", job, text(shop), hum)
    jobnotes(shop, "run", job)
    jobnotes(shop, "confirm", job, "--unflagged", "--who", "Ada")
    told = jobnotes(shop, "report", job, "--out", story)
    assert told.returncode == OpenFlagsError.exit_code
    assert "hum.wav" in told.stderr
    jobnotes(shop, "settle", job, "r2", "no-speech", "--who", "Ada")
    assert jobnotes(shop, "report", job, "--out", story).returncode == 0


@pytest.mark.parametrize("place", ["none/story.pdf", "."])
def test_a_report_that_cannot_be_written_says_where(shop, place):
    told = jobnotes(shop, "report", new_job(shop), "--draft", "--out", shop / place)
    assert told.returncode == OutputError.exit_code
    assert str(shop / place) in told.stderr


def test_a_data_folder_that_cannot_be_made_is_named(tmp_path):
    (tmp_path / "file").write_text("not a folder")
    told = jobnotes(tmp_path / "file" / "shop", "list")
    assert told.returncode == SettingsError.exit_code
    assert "JOBNOTES_HOME" in told.stderr


def test_several_facts_are_confirmed_or_none(shop):
    job = new_job(shop)
    jobnotes(shop, "add", job, text(shop))
    jobnotes(shop, "run", job)
    record = json.loads(jobnotes(shop, "show", job, "--json").stdout)
    known = record["facts"][0]["id"]
    told = jobnotes(shop, "confirm", job, known, "nofact", "--who", "Ada")
    assert told.returncode == ReviewError.exit_code
    record = json.loads(jobnotes(shop, "show", job, "--json").stdout)
    assert record["events"] == []

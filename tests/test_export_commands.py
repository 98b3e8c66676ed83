"""The commands that write a job for others and take one in, as a clerk gives them.

They run inside this process, which is cheap; only the record's has a process of its own.
"""

import csv
import json
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from shutil import copytree
from subprocess import CompletedProcess

import pytest
from test_command_line import jobnotes as in_its_own_process
from test_command_line import text

from jobnotes import cli
from jobnotes.desk import open_desk
from jobnotes.errors import (
    BundleError,
    KnownJobError,
    OpenFlagsError,
    OutputError,
    UnknownJobError,
)
from jobnotes.record import Reading
from jobnotes.review import events
from jobnotes.settings import load

Command = Callable[..., CompletedProcess[str]]


@pytest.fixture
def jobnotes(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """Give a command as the shell does, and return how it ended with what it wrote."""

    def run(shop: Path, *arguments: object) -> CompletedProcess[str]:
        command = ["jobnotes", *map(str, arguments)]
        monkeypatch.setattr(sys, "argv", command)
        monkeypatch.setenv("JOBNOTES_HOME", str(shop))
        with pytest.raises(SystemExit) as ended:
            cli.main()
        return CompletedProcess(command, int(ended.value.code or 0), *capsys.readouterr())

    return run


@pytest.fixture(scope="module")
def reviewed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A shop with one reviewed job, and that job's number."""
    folder = tmp_path_factory.mktemp("reviewed")
    desk = open_desk(load(folder))
    job = desk.new(machine="tiller").id
    desk.add(job, [text(folder)])
    desk.run(job)
    desk.review(job, partial(events.confirm_unflagged, who="Ada", at=datetime.now(UTC)))
    return folder, job


@pytest.fixture
def shop(reviewed: tuple[Path, str], tmp_path: Path) -> Path:
    """A copy of that shop, for one test to change."""
    return copytree(reviewed[0], tmp_path / "shop")


@pytest.fixture
def job(reviewed: tuple[Path, str]) -> str:
    return reviewed[1]


def test_a_job_goes_from_shop_to_shop_with_its_issued_report(jobnotes, shop, job, tmp_path):
    bundle, other = shop / "job.zip", tmp_path / "other"
    jobnotes(shop, "report", job, "--out", shop / "story.pdf")
    assert jobnotes(shop, "export", job, "--out", bundle).returncode == 0
    assert jobnotes(other, "receive", bundle).stdout.strip() == job
    there = open_desk(load(other))
    (report,) = there.load(job).reports
    assert report.name == "story.pdf"
    assert there.media.path(report.sha256).read_bytes() == (shop / "story.pdf").read_bytes()
    assert jobnotes(other, "receive", bundle).returncode == KnownJobError.exit_code


def test_a_draft_is_not_noted_as_issued(jobnotes, shop, job):
    jobnotes(shop, "report", job, "--draft", "--out", shop / "story.pdf")
    assert (shop / "story.pdf").exists()
    assert open_desk(load(shop)).load(job).reports == ()


def test_a_job_is_written_whole_as_json(jobnotes, shop, job):
    assert jobnotes(shop, "export", job, "--out", shop / "a.json").returncode == 0
    assert json.loads((shop / "a.json").read_text("utf-8"))["id"] == job


def test_what_is_to_be_billed_is_written_as_a_table(jobnotes, shop, job):
    assert jobnotes(shop, "export", job, "--out", shop / "a.csv").returncode == 0
    with (shop / "a.csv").open(encoding="utf-8", newline="") as table:
        assert [line["line"] for line in csv.DictReader(table)] == ["part", "labour"]


def test_another_ending_names_those_that_are_known(jobnotes, shop, job):
    told = jobnotes(shop, "export", job, "--out", shop / "job.doc")
    assert told.returncode == OutputError.exit_code
    assert ".zip" in told.stderr


def test_a_missed_fact_is_entered_explained_and_stays_when_the_job_runs_again(jobnotes, shop, job):
    given = ("reading", "what=float height", "value=30", "unit=thou", "--words", "it will not idle")
    assert "e1  reading" in jobnotes(shop, "enter", job, *given, "--who", "Ada").stdout
    open_desk(load(shop)).run(job)
    told = jobnotes(shop, "explain", job, "e1").stdout
    assert "complaint is [it will not idle]" in told
    assert "office.entered" in told
    assert "Ada: enter" in told


def test_a_typed_slip_is_shown_when_it_is_typed(jobnotes, shop, job):
    facts = open_desk(load(shop)).load(job).facts
    (volts,) = [fact.id for fact in facts if isinstance(fact, Reading) and fact.unit == "V"]
    told = jobnotes(shop, "correct", job, volts, "value=1240", "unit=volts", "--who", "Ada")
    assert "! unlikely" in told.stdout
    told = jobnotes(shop, "report", job, "--out", shop / "story.pdf")
    assert told.returncode == OpenFlagsError.exit_code


@pytest.mark.parametrize(
    ("name", "first", "last"), [("a.pdf", b"%PDF", b"%%EOF"), ("a.html", b"<!", b"</html>")]
)
def test_the_ending_says_in_which_form_the_record_is_written(shop, job, name, first, last):
    assert in_its_own_process(shop, "record", job, "--out", shop / name).returncode == 0
    written = (shop / name).read_bytes().strip()
    assert written.startswith(first)
    assert written.endswith(last)


def test_a_record_is_of_no_other_form(jobnotes, shop, job):
    told = jobnotes(shop, "record", job, "--out", shop / "a.doc")
    assert told.returncode == OutputError.exit_code


def test_a_machine_is_found_by_its_serial_number(jobnotes, shop):
    job = jobnotes(shop, "new", "--machine", "tiller", "--serial", "TX-1").stdout.strip()
    assert job in jobnotes(shop, "history", "tx1").stdout
    assert jobnotes(shop, "history", "tx2").returncode == UnknownJobError.exit_code


def test_words_that_look_like_styling_are_listed_as_they_stand(jobnotes, shop):
    jobnotes(shop, "new", "--machine", "[/b] tiller")
    assert "[/b] tiller" in jobnotes(shop, "list").stdout


def test_a_file_that_is_no_bundle_is_refused_in_plain_words(jobnotes, shop):
    told = jobnotes(shop, "receive", text(shop))
    assert told.returncode == BundleError.exit_code
    assert told.stderr.startswith("jobnotes: said.txt is no bundle")

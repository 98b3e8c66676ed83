"""The commands that write a job for others and take one in, as a clerk gives them."""

import csv
import json
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import pytest
from test_command_line import jobnotes, new_job, text

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


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    folder = tmp_path / "shop"
    folder.mkdir()
    return folder


def settled(shop) -> str:
    """Make a reviewed job, in this process since only the commands under test need their own."""
    desk = open_desk(load(shop))
    job = desk.new(machine="tiller")
    desk.add(job.id, [text(shop)])
    desk.run(job.id)
    desk.review(job.id, partial(events.confirm_unflagged, who="Ada", at=datetime.now(UTC)))
    return job.id


def test_a_job_goes_from_shop_to_shop_with_its_issued_report(shop, tmp_path):
    job, bundle, other = settled(shop), shop / "job.zip", tmp_path / "other"
    jobnotes(shop, "report", job, "--out", shop / "story.pdf")
    assert jobnotes(shop, "export", job, "--out", bundle).returncode == 0
    assert jobnotes(other, "receive", bundle).stdout.strip() == job
    there = open_desk(load(other))
    (report,) = there.load(job).reports
    assert report.name == "story.pdf"
    assert there.media.path(report.sha256).read_bytes() == (shop / "story.pdf").read_bytes()
    assert jobnotes(other, "receive", bundle).returncode == KnownJobError.exit_code


def test_a_draft_is_not_noted_as_issued(shop):
    job = settled(shop)
    jobnotes(shop, "report", job, "--draft", "--out", shop / "story.pdf")
    assert open_desk(load(shop)).load(job).reports == ()


def test_the_ending_says_in_which_form_a_job_is_written(shop):
    job = settled(shop)
    for name in ("a.json", "a.csv"):
        assert jobnotes(shop, "export", job, "--out", shop / name).returncode == 0
    assert json.loads((shop / "a.json").read_text("utf-8"))["id"] == job
    with (shop / "a.csv").open(encoding="utf-8", newline="") as table:
        assert [line["line"] for line in csv.DictReader(table)] == ["part", "labour"]


def test_another_ending_names_those_that_are_known(shop):
    told = jobnotes(shop, "export", new_job(shop), "--out", shop / "job.doc")
    assert told.returncode == OutputError.exit_code
    assert ".zip" in told.stderr


def test_a_missed_fact_is_entered_explained_and_stays_when_the_job_runs_again(shop):
    job = settled(shop)
    given = ("reading", "what=float height", "value=30", "unit=thou", "--words", "it will not idle")
    assert "e1  reading" in jobnotes(shop, "enter", job, *given, "--who", "Ada").stdout
    open_desk(load(shop)).run(job)
    told = jobnotes(shop, "explain", job, "e1").stdout
    assert "complaint is [it will not idle]" in told
    assert "office.entered" in told
    assert "Ada: enter" in told


def test_a_typed_slip_is_shown_when_it_is_typed(shop):
    job = settled(shop)
    facts = open_desk(load(shop)).load(job).facts
    (volts,) = [fact.id for fact in facts if isinstance(fact, Reading) and fact.unit == "V"]
    told = jobnotes(shop, "correct", job, volts, "value=1240", "unit=volts", "--who", "Ada")
    assert "! unlikely" in told.stdout
    told = jobnotes(shop, "report", job, "--out", shop / "story.pdf")
    assert told.returncode == OpenFlagsError.exit_code


def test_the_record_and_the_history_of_a_machine_are_written(shop):
    job = jobnotes(shop, "new", "--machine", "[/b] tiller", "--serial", "TX-1").stdout.strip()
    for name in ("a.pdf", "a.html"):
        assert jobnotes(shop, "record", job, "--out", shop / name).returncode == 0
    assert (shop / "a.pdf").read_bytes().startswith(b"%PDF")
    assert "</html>" in (shop / "a.html").read_text("utf-8")
    assert job in jobnotes(shop, "history", "tx1").stdout
    assert "[/b] tiller" in jobnotes(shop, "list").stdout
    assert jobnotes(shop, "history", "tx2").returncode == UnknownJobError.exit_code
    told = jobnotes(shop, "record", job, "--out", shop / "a.doc")
    assert told.returncode == OutputError.exit_code


def test_a_file_that_is_no_bundle_is_refused_in_plain_words(shop):
    told = jobnotes(shop, "receive", text(shop))
    assert told.returncode == BundleError.exit_code
    assert told.stderr.startswith("jobnotes: said.txt is no bundle")

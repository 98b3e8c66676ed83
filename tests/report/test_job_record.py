"""What the job record holds, apart from its form."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from report_jobs import FLAG, NOW, SHOP, Bench, changed, repair

from jobnotes.record import (
    Audience,
    Complaint,
    Evidence,
    Flag,
    Issued,
    Job,
    Labour,
    Part,
    Question,
    Recording,
    Spec,
    State,
    Test,
)
from jobnotes.report.record_content import record
from jobnotes.report.record_form import Chapter, Row, marks
from jobnotes.review import events

LATER = datetime(2026, 3, 14, 16, 5, tzinfo=UTC)


def chapter(job: Job, key: str) -> Chapter:
    return next(one for one in record(job, SHOP).chapters if one.key == key)


def rows(job: Job, key: str) -> tuple[Row, ...]:
    return chapter(job, key).rows


def test_complaint_cause_and_correction_come_first_and_in_that_order():
    keys = [one.key for one in record(repair().job(), SHOP).chapters]
    assert keys[:3] == ["complaint", "cause", "correction"]


def test_every_fact_that_was_not_rejected_has_a_line():
    job = repair().job()
    told = {name for one in record(job, SHOP).chapters for row in one.rows for name in row.facts}
    assert told == {fact.id for fact in job.facts}


def test_a_rejected_fact_is_counted_and_left_out():
    job = changed(repair().job(), "f1", state=State.REJECTED)
    told = record(job, SHOP)
    assert all("f1" not in row.facts for one in told.chapters for row in one.rows)
    assert "1 statement was rejected and left out." in told.notes


def test_each_line_names_recording_and_minute():
    made = Bench()
    made.say("and " * 160)
    made.say("it jams")
    made.fact(Complaint, text="it jams")
    (row,) = rows(made.job(), "complaint")
    assert row.said == "r1 1:20"


def test_a_line_said_in_two_places_names_both():
    made = Bench()
    made.say("it jams it jams")
    made.fact(Complaint, text="it jams", evidence=(at("r1", 3.0), at("r1", 65.0), at("r2", 5.0)))
    (row,) = rows(made.job(), "complaint")
    assert row.said == "r1 0:03, 1:05; r2 0:05"


def at(recording: str, start: float) -> Evidence:
    return Evidence(recording=recording, first=0, last=1, start_s=start, end_s=start, text="it")


def test_typed_lines_have_no_minute():
    made = Bench()
    made.say("it jams")
    made.fact(Complaint, text="it jams")
    typed = Recording(id="r1", name="typed", format="text")
    (row,) = rows(made.job(recordings=(typed,)), "complaint")
    assert row.said == "r1"


def test_a_reviewed_line_says_by_whom_and_when():
    job = events.correct(repair().job(), "f1", "Ada", LATER, {"text": "it jams on wet leaves"})
    (row,) = [row for row in rows(job, "complaint") if row.facts == ("f1",)]
    assert row.reviewed == "corrected, Ada, 2026-03-14 16:05 UTC"


def test_a_step_that_was_undone_is_not_the_review():
    job = events.confirm(repair().job(), "f1", "Ada", NOW)
    job = events.undo(events.reject(job, "f1", "Bo", LATER), "Bo", LATER)
    (row,) = [row for row in rows(job, "complaint") if row.facts == ("f1",)]
    assert row.reviewed == "confirmed, Ada, 2026-03-14 09:30 UTC"


def test_what_nobody_looked_at_says_so():
    job = changed(repair().job(), "f1", state=State.PROPOSED)
    (row,) = [row for row in rows(job, "complaint") if row.facts == ("f1",)]
    assert row.reviewed == "not yet"


def gauge(value: str, low: str | None, high: str | None, **fields: object) -> Row:
    made = Bench()
    made.say("gauge reads it and it should be that")
    made.reading("oil pressure", value, "psi", **fields)
    made.spec("oil pressure", low, high, "psi")
    (row,) = rows(made.job(), "readings")
    return row


@pytest.mark.parametrize(
    ("value", "low", "high", "verdict"),
    [
        ("44", "40", "60", "within limits"),
        ("39.9", "40", None, "below the limit"),
        ("61", None, "60", "above the limit"),
        ("60", "60", "60", "as it should be"),
        ("59", "60", "60", "less than it should be"),
        ("61", "60", "60", "more than it should be"),
    ],
)
def test_a_reading_is_judged_in_words(value, low, high, verdict):
    assert gauge(value, low, high).cells[-1] == verdict


def test_a_reading_in_doubt_is_not_judged_and_says_why():
    row = gauge("44", "40", "60", flags=(FLAG,))
    assert row.cells[-1] == "in doubt"
    assert marks(row) == (f"In doubt: {FLAG.why}",)


def test_a_doubt_between_two_readings_names_both():
    flag = FLAG.having(options=("44 psi", "4.4 psi"))
    assert gauge("44", "40", "60", flags=(flag,)).doubts[0].endswith("It may be 44 psi or 4.4 psi.")


def test_a_settled_doubt_is_not_shown():
    row = gauge("44", "40", "60", flags=(FLAG.having(open=False),))
    assert (row.cells[-1], marks(row)) == ("within limits", ())


def test_a_reading_tells_its_place_and_moment():
    row = gauge("44", "40", "60", where="at the filter", when="hot", phase="after")
    assert row.cells[:3] == (
        "Oil pressure",
        "after, at the filter, hot",
        "44\N{NO-BREAK SPACE}psi (303\N{NO-BREAK SPACE}kPa)",
    )


def test_limits_of_the_shop_s_own_book_are_told_with_their_source():
    booked = Spec(
        what="idle speed", low=Decimal(1300), high=None, unit="rpm", as_said="", source="sticker"
    )
    (row,) = rows(repair().job(booked=(booked,)), "limits")[1:]
    assert row.cells == ("Idle speed", "", "at least 1,300\N{NO-BREAK SPACE}rpm", "sticker")
    assert row.reviewed == "spec book of the shop"


def test_a_part_has_its_old_number_its_fate_and_its_price():
    made = Bench()
    made.say("the jet")
    part = {"number": "KL-450", "supersedes": "KL-442-A", "price": "nineteen fifty"}
    made.fact(Part, name="main jet", status="ordered", quantity=2, **part)
    (row,) = rows(made.job(), "parts")
    assert row.cells == ("Main jet", "KL-450", "KL-442-A", "On order", "2", "nineteen fifty")


def test_a_part_that_was_only_mentioned_is_told_as_such():
    made = Bench()
    made.say("the jet")
    made.fact(Part, name="main jet", number="")
    assert rows(made.job(), "parts")[0].cells[3] == "Only mentioned"


def test_what_is_not_for_the_customer_is_marked():
    (private,) = rows(repair().job(), "private")
    assert marks(private) == ("Not for the customer.",)
    job = changed(repair().job(), "f1", audience=Audience.OFFICE)
    (row,) = [row for row in rows(job, "complaint") if row.facts == ("f1",)]
    assert row.private


def test_labour_is_told_in_hours_and_as_said():
    made = Bench()
    made.say("two and a quarter hours")
    made.fact(Labour, minutes=Decimal(135), as_said="two and a quarter hours")
    (row,) = rows(made.job(), "labour")
    assert row.cells == ("2\N{NO-BREAK SPACE}h 15\N{NO-BREAK SPACE}min", "two and a quarter hours")


def test_a_test_does_not_tell_its_condition_twice():
    made = Bench()
    made.say("load test at ten amps")
    made.fact(Test, method="load test at ten amps", condition="at ten amps", observed="drops")
    assert rows(made.job(), "tests")[0].cells == ("Load test at ten amps", "", "drops", "")


def test_open_flags_and_questions_are_listed_before_anything_else():
    silent = Flag(by="speech", code="no-speech", why="No speech was heard.")
    hum = Recording(id="r2", name="hum.wav", format="wav", flags=(silent,))
    job = changed(repair().job(), "f1", flags=(FLAG,))
    job = job.having(
        recordings=(*job.recordings, hum), questions=(Question(code="cause", ask="Why?"),)
    )
    told = record(job, SHOP)
    assert told.chapters[0].key == "open"
    assert [row.cells[1] for row in told.chapters[0].rows] == [silent.why, FLAG.why, "Why?"]
    assert "3 points are still open." in told.notes


def test_an_unfinished_stage_is_named():
    assert any("'check'" in note for note in record(repair().job(stages=()), SHOP).notes)


def test_photos_tell_their_file_and_where_they_were_spoken_of():
    (picture,) = chapter(repair().job(), "photos").pictures
    assert picture.caption.text.startswith("Photo 1. The glazed drive belt. (photo-1.jpg; r1 0:")


def test_a_photo_kept_from_the_customer_is_here_and_says_so():
    job = events.include(repair().job(), "p1", "Ada", LATER, False)
    (picture,) = chapter(job, "photos").pictures
    assert "not for the customer" in picture.caption.text


def test_a_report_that_went_out_is_listed():
    issued = Issued(at=LATER, name="story.pdf", sha256="a" * 64)
    row = rows(repair().job(reports=(issued,)), "sources")[-1]
    assert row.cells == ("Report story.pdf", "2026-03-14 16:05 UTC", "", "a" * 64)


def test_an_empty_job_has_a_record():
    empty = Job(id="2026-0009", created_at=NOW)
    told = record(empty, SHOP)
    assert (told.title, told.chapters) == ("Job 2026-0009", ())


def test_no_fact_is_needed_for_a_chapter_to_be_left_out():
    made = Bench()
    made.say("it jams")
    made.fact(Complaint, text="it jams")
    keys = [one.key for one in record(made.job(), SHOP).chapters]
    assert keys == ["complaint", "sources"]

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from jobnotes.errors import ReviewError
from jobnotes.record import (
    AnyFact,
    Audience,
    Evidence,
    Flag,
    Job,
    Labour,
    Mark,
    Part,
    Photo,
    Reading,
    Recording,
    Spec,
    State,
)
from jobnotes.review import events

AT = datetime(2026, 9, 17, 15, 30, tzinfo=UTC)
HEARD = Evidence(recording="r1", first=4, last=6, start_s=2.0, end_s=3.1, text="twelve point nine")
DOUBT = Flag(by="speech", code="heard-two-ways", why="?", options=("12.9", "12.5"))
OTHER = Flag(by="checks", code="unlikely", why="?")
READING = Reading(
    id="f1", what="battery voltage", value=Decimal("12.9"), unit="V", as_said="12.9",
    evidence=(HEARD,), rule="readings.plain", flags=(DOUBT, OTHER),
)  # fmt: skip
PART = Part(id="f2", number="ZQ-77-K", name="float valve")
SPEC = Spec(
    id="f3", what="air gap", low=Decimal(8), high=Decimal(12), unit="thou", as_said="8 to 12"
)
LABOUR = Labour(id="f4", minutes=Decimal(75), as_said="an hour and a quarter")
PHOTO = Photo(
    id="p1", name="a.jpg", sha256="0" * 64, format="jpeg", width=40, height=30,
    caption="the float", matched_by="time", confidence=0.4,
    flags=(Flag(by="photos", code="dark", why="?"),),
)  # fmt: skip
RECORDING = Recording(
    id="r1", name="a.wav", format="wav", flags=(Flag(by="speech", code="no-speech", why="?"),)
)
JOB = Job(
    id="2026-0001", created_at=AT, facts=(READING, PART, SPEC, LABOUR), photos=(PHOTO,),
    recordings=(RECORDING,),
)  # fmt: skip


def fact(job: Job, fact_id: str) -> AnyFact:
    return next(fact for fact in job.facts if fact.id == fact_id)


def corrected(fact_id: str, **changes: Any) -> Any:
    return fact(events.correct(JOB, fact_id, "Noor", AT, changes), fact_id)


def test_confirming_marks_the_fact_and_no_other() -> None:
    job = events.confirm(JOB, "f2", "Noor", AT)
    assert [one.state.value for one in job.facts].count("confirmed") == 1
    assert fact(job, "f2").state is State.CONFIRMED


def test_a_step_is_noted_with_who_when_and_what_changed() -> None:
    event = events.confirm(JOB, "f2", "Noor", AT).events[-1]
    assert (event.who, event.at, event.what, event.subject) == ("Noor", AT, "confirm", "f2")
    assert (event.before, event.after) == ({"state": "proposed"}, {"state": "confirmed"})


def test_confirming_leaves_flags_open_unless_they_are_said_to_be_settled() -> None:
    assert len(fact(events.confirm(JOB, "f1", "Noor", AT), "f1").open_flags) == 2
    assert fact(events.confirm(JOB, "f1", "Noor", AT, settle=True), "f1").open_flags == ()


def test_a_settled_flag_is_kept_with_its_reason() -> None:
    flags = fact(events.confirm(JOB, "f1", "Noor", AT, settle=True), "f1").flags
    assert flags == (DOUBT.having(open=False), OTHER.having(open=False))


def test_confirming_a_corrected_fact_leaves_it_corrected() -> None:
    job = events.correct(JOB, "f1", "Noor", AT, {"where": "left"})
    job = events.confirm(job, "f1", "Noor", AT, settle=True)
    assert fact(job, "f1").state is State.CORRECTED
    assert fact(job, "f1").open_flags == ()


def test_confirming_the_unflagged_leaves_the_flagged_proposed() -> None:
    job = events.confirm_unflagged(JOB, "Noor", AT)
    assert [one.id for one in job.facts if one.state is State.PROPOSED] == ["f1"]


def test_confirming_the_unflagged_leaves_rejected_facts_rejected() -> None:
    job = events.confirm_unflagged(events.reject(JOB, "f2", "Noor", AT), "Noor", AT)
    assert fact(job, "f2").state is State.REJECTED


def test_a_correction_keeps_what_was_heard_as_evidence() -> None:
    reading = corrected("f1", value="12.5")
    assert (reading.state, reading.evidence) == (State.CORRECTED, (HEARD,))
    assert reading.rule == "readings.plain"


def test_a_corrected_figure_is_printed_as_corrected() -> None:
    assert (corrected("f1", value="12.50").value, corrected("f1", value="12.50").as_said) == (
        Decimal("12.50"),
        "12.50",
    )


@pytest.mark.parametrize(
    ("changes", "printed"),
    [
        ({"low": "10"}, "10 to 12"),
        ({"low": "12"}, "12"),
        ({"low": ""}, "no more than 12"),
        ({"high": ""}, "at least 8"),
        ({"high": "1200"}, "8 to 1,200"),
        ({"high": "14", "as_said": "8 up to 14"}, "8 up to 14"),
        ({"what": "coil air gap"}, "8 to 12"),
    ],
)
def test_corrected_limits_are_printed_as_corrected(changes: dict[str, str], printed: str) -> None:
    assert corrected("f3", **changes).as_said == printed


def test_corrected_labour_is_printed_as_corrected() -> None:
    assert corrected("f4", minutes="90").as_said == "90 minutes"


def test_correcting_a_figure_settles_the_doubts_about_it() -> None:
    assert corrected("f1", value="12.5").open_flags == ()


def test_correcting_something_else_leaves_the_doubts_about_a_figure() -> None:
    assert len(corrected("f1", where="left").open_flags) == 2


@pytest.mark.parametrize(
    ("fact_id", "changes", "said"),
    [
        ("f1", {"value": "twelve"}, "'value'"),
        ("f1", {"value": "NaN"}, "'value'"),
        ("f1", {"value": ""}, "'value'"),
        ("f1", {"volts": "12"}, "volts"),
        ("f1", {}, "change"),
        ("f3", {"low": "13"}, "above the high limit"),
        ("f2", {"status": "lost"}, "'status'"),
    ],
)
def test_a_correction_that_does_not_fit_is_refused(
    fact_id: str, changes: dict[str, str], said: str
) -> None:
    with pytest.raises(ReviewError, match=said):
        corrected(fact_id, **changes)


@pytest.mark.parametrize("field", ["id", "kind", "evidence", "rule", "state", "flags", "audience"])
def test_where_a_fact_came_from_cannot_be_corrected(field: str) -> None:
    with pytest.raises(ReviewError, match=field):
        corrected("f1", **{field: "x"})


def test_a_rejected_fact_stays_in_the_record_without_open_flags() -> None:
    reading = fact(events.reject(JOB, "f1", "Noor", AT), "f1")
    assert (reading.state, reading.open_flags) == (State.REJECTED, ())


def test_a_fact_kept_for_the_office_keeps_its_state() -> None:
    part = fact(events.office_only(JOB, "f2", "Noor", AT), "f2")
    assert (part.audience, part.state) == (Audience.OFFICE, State.PROPOSED)


def test_settling_one_flag_leaves_the_others_open() -> None:
    job = events.settle_flag(JOB, "f1", "unlikely", "Noor", AT)
    assert fact(job, "f1").open_flags == (DOUBT,)


def test_flags_of_photos_and_recordings_are_settled_alike() -> None:
    job = events.settle_flag(JOB, "p1", "dark", "Noor", AT)
    job = events.settle_flag(job, "r1", "no-speech", "Noor", AT)
    assert not job.photos[0].flags[0].open
    assert not job.recordings[0].flags[0].open


def test_a_flag_that_is_not_open_cannot_be_settled() -> None:
    with pytest.raises(ReviewError, match="no open flag 'typo'"):
        events.settle_flag(JOB, "f1", "typo", "Noor", AT)
    settled = events.settle_flag(JOB, "f1", "unlikely", "Noor", AT)
    with pytest.raises(ReviewError, match="no open flag 'unlikely'"):
        events.settle_flag(settled, "f1", "unlikely", "Noor", AT)


def test_a_caption_of_ones_own_is_not_placed_anew() -> None:
    photo = events.caption(JOB, "p1", "Noor", AT, "the stuck float").photos[0]
    assert (photo.caption, photo.matched_by, photo.confidence) == ("the stuck float", "person", 1)


def test_a_photo_is_left_out_and_shown_again() -> None:
    out = events.include(JOB, "p1", "Noor", AT, False)
    assert not out.photos[0].included
    assert events.include(out, "p1", "Noor", AT, True).photos[0].included


def test_marks_take_the_place_of_the_marks_before() -> None:
    circle = Mark(shape="circle", left=0.1, top=0.1, right=0.2, bottom=0.2)
    job = events.mark(
        events.mark(JOB, "p1", "Noor", AT, [circle, circle]), "p1", "Noor", AT, [circle]
    )
    assert job.photos[0].marks == (circle,)


@pytest.mark.parametrize(
    "step",
    [
        lambda: events.confirm(JOB, "f99", "Noor", AT),
        lambda: events.correct(JOB, "f99", "Noor", AT, {"value": "1"}),
        lambda: events.reject(JOB, "f99", "Noor", AT),
        lambda: events.office_only(JOB, "f99", "Noor", AT),
        lambda: events.settle_flag(JOB, "f99", "x", "Noor", AT),
        lambda: events.caption(JOB, "f99", "Noor", AT, "x"),
        lambda: events.confirm(JOB, "p1", "Noor", AT),
        lambda: events.caption(JOB, "f1", "Noor", AT, "x"),
    ],
)
def test_an_id_that_does_not_fit_is_a_review_error(step: Any) -> None:
    with pytest.raises(ReviewError):
        step()


STEPS: dict[str, Any] = {
    "confirm": lambda job: events.confirm(job, "f1", "Noor", AT, settle=True),
    "correct": lambda job: events.correct(
        job, "f1", "Noor", AT, {"value": "11.6", "where": "left"}
    ),
    "reject": lambda job: events.reject(job, "f1", "Noor", AT),
    "office only": lambda job: events.office_only(job, "f2", "Noor", AT),
    "settle flag": lambda job: events.settle_flag(job, "f1", "unlikely", "Noor", AT),
    "caption": lambda job: events.caption(job, "p1", "Noor", AT, "mine"),
    "leave out": lambda job: events.include(job, "p1", "Noor", AT, False),
    "confirm unflagged": lambda job: events.confirm_unflagged(job, "Noor", AT),
}


@pytest.mark.parametrize("what", STEPS)
def test_undo_takes_back(what: str) -> None:
    changed = STEPS[what](JOB)
    undone = events.undo(changed, "Ada", AT + timedelta(minutes=1))
    assert changed != JOB
    assert undone.having(events=()) == JOB
    assert undone.events[: len(changed.events)] == changed.events
    assert {(event.what, event.who) for event in undone.events[len(changed.events) :]} == {
        ("undo", "Ada")
    }


def test_undo_goes_back_step_by_step_also_past_earlier_undoings() -> None:
    seen = [JOB]
    for what in ("settle flag", "correct", "confirm unflagged", "caption"):
        seen.append(STEPS[what](seen[-1]))
    job = events.undo(seen[-1], "Noor", AT)
    job = STEPS["reject"](job)
    job = events.undo(job, "Noor", AT)
    for before in (seen[2], seen[1], seen[0]):
        job = events.undo(job, "Noor", AT)
        assert job.having(events=()) == before.having(events=())


def test_when_nothing_stands_there_is_nothing_to_undo() -> None:
    with pytest.raises(ReviewError, match="none to undo"):
        events.undo(events.undo(STEPS["reject"](JOB), "Noor", AT), "Noor", AT)


def test_no_step_changes_the_job_it_is_given() -> None:
    before = JOB.model_dump_json()
    for step in STEPS.values():
        step(JOB)
    assert JOB.model_dump_json() == before

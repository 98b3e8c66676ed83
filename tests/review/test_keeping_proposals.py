from datetime import UTC, datetime
from typing import Any

import pytest

from jobnotes.record import Cause, Evidence, Flag, Job, Recording
from jobnotes.review import events
from jobnotes.review.keep import replace_proposals

AT = datetime(2026, 9, 17, 15, 30, tzinfo=UTC)


def cause(fact_id: str, text: str, first: int = 0, recording: str = "r1") -> Cause:
    heard = Evidence(
        recording=recording, first=first, last=first, start_s=0.0, end_s=0.0, text=text
    )
    flags = (Flag(by="checks", code="odd", why="?"),)
    return Cause(id=fact_id, text=text, evidence=(heard,), flags=flags)


RECORDINGS = tuple(Recording(id=name, name=name, format="wav") for name in ("r1", "r2"))
JOB = Job(
    id="2026-0001",
    created_at=AT,
    recordings=RECORDINGS,
    facts=(cause("a", "old a", 1), cause("b", "old b", 5)),
)
NEW = (cause("a", "new a", 1), cause("c", "new c", 3))


def texts(job: Job) -> list[str]:
    return [fact.text for fact in job.facts if isinstance(fact, Cause)]


def test_untouched_proposals_are_replaced() -> None:
    assert texts(replace_proposals(JOB, NEW)) == ["new a", "new c"]


TOUCHES: dict[str, Any] = {
    "confirmed": lambda job: events.confirm(job, "a", "Noor", AT),
    "corrected": lambda job: events.correct(job, "a", "Noor", AT, {"text": "old a"}),
    "rejected": lambda job: events.reject(job, "a", "Noor", AT),
    "kept for the office": lambda job: events.office_only(job, "a", "Noor", AT),
    "of a settled flag": lambda job: events.settle_flag(job, "a", "odd", "Noor", AT),
}


@pytest.mark.parametrize("touch", TOUCHES)
def test_a_fact_stays_and_is_not_proposed_again_when(touch: str) -> None:
    job = TOUCHES[touch](JOB)
    replaced = replace_proposals(job, NEW)
    assert replaced.facts[0] == job.facts[0]
    assert texts(replaced) == ["old a", "new c"]


@pytest.mark.parametrize("touch", TOUCHES)
def test_a_fact_whose_step_was_undone_is_replaced_again_when(touch: str) -> None:
    job = events.undo(TOUCHES[touch](JOB), "Noor", AT)
    assert texts(replace_proposals(job, NEW)) == ["new a", "new c"]


def test_facts_stand_in_the_order_in_which_they_were_said() -> None:
    job = events.confirm(JOB, "b", "Noor", AT)
    new = (cause("z", "second recording", 0, "r2"), cause("y", "last word", 9), cause("x", "first"))
    expected = ["first", "old b", "last word", "second recording"]
    assert texts(replace_proposals(job, new)) == expected


def test_replacing_twice_is_the_same_as_once() -> None:
    job = events.confirm(JOB, "b", "Noor", AT)
    once = replace_proposals(job, NEW)
    assert replace_proposals(once, NEW) == once

"""What a complete job record still lacks, asked while the machine is open or in the office."""

from collections.abc import Callable
from typing import TypeVar

from jobnotes.checks.names import same_name
from jobnotes.checks.verdict import verdict
from jobnotes.record import (
    Action,
    AnyFact,
    Cause,
    Complaint,
    Fact,
    Finding,
    Labour,
    Part,
    Question,
    Reading,
    Spec,
    Verification,
)

Kind = TypeVar("Kind", bound=Fact)
Asker = Callable[[tuple[AnyFact, ...], tuple[Spec, ...]], list[Question]]


def questions(facts: tuple[AnyFact, ...], book: tuple[Spec, ...] = ()) -> tuple[Question, ...]:
    """Return the open questions of a job, most important first; `book` are the shop's specs."""
    if not facts:
        return ()
    return tuple(question for ask in _ASKERS for question in ask(facts, book))


def _of(facts: tuple[AnyFact, ...], kind: type[Kind]) -> list[Kind]:
    return [fact for fact in facts if isinstance(fact, kind)]


def _no_complaint(facts: tuple[AnyFact, ...], book: tuple[Spec, ...]) -> list[Question]:
    if _of(facts, Complaint):
        return []
    return [Question(code="no-complaint", ask="What did the customer say was wrong?")]


def _no_cause(facts: tuple[AnyFact, ...], book: tuple[Spec, ...]) -> list[Question]:
    complaints = _of(facts, Complaint)
    if not complaints or any(isinstance(fact, Cause | Finding) for fact in facts):
        return []
    about = tuple(fact.id for fact in complaints)
    return [Question(code="no-cause", ask="What caused it?", about=about)]


def _failed_without_after(facts: tuple[AnyFact, ...], book: tuple[Spec, ...]) -> list[Question]:
    """A reading outside its limits must be followed by one of the same thing within them."""
    readings, specs = _of(facts, Reading), (*_of(facts, Spec), *book)
    last: dict[str, Reading] = {}
    for reading in readings:
        last[_named_before(reading, last) or reading.what] = reading
    return [
        Question(
            code="no-reading-after",
            ask=f"The last reading of {reading.what} ({reading.as_said} {reading.unit}) lies"
            f" {judged.side} its limits: what is it after the repair?",
            about=(reading.id,),
        )
        for reading in last.values()
        if (judged := verdict(reading, specs)) and judged.side != "within"
    ]


def _named_before(reading: Reading, last: dict[str, Reading]) -> str | None:
    return next((name for name in last if same_name(name, reading.what)), None)


def _torque_without_value(facts: tuple[AnyFact, ...], book: tuple[Spec, ...]) -> list[Question]:
    return [
        Question(
            code="torque-without-value",
            ask=f"To what torque was the {action.object} tightened?",
            about=(action.id,),
        )
        for action in _of(facts, Action)
        if action.verb == "torque" and not action.linked
    ]


def _ordered_only(facts: tuple[AnyFact, ...], book: tuple[Spec, ...]) -> list[Question]:
    parts = _of(facts, Part)
    fitted = [part for part in parts if part.status == "installed"]
    return [
        Question(
            code="ordered-not-installed",
            ask=f"The {part.name or part.number} was ordered: has it been fitted?",
            about=(part.id,),
        )
        for part in parts
        if part.status == "ordered" and not any(_same_part(part, other) for other in fitted)
    ]


def _same_part(one: Part, other: Part) -> bool:
    if one.number and other.number:
        return one.number == other.number
    return same_name(one.name, other.name)


def _no_verification(facts: tuple[AnyFact, ...], book: tuple[Spec, ...]) -> list[Question]:
    if not _of(facts, Action) or _of(facts, Verification):
        return []
    return [Question(code="no-verification", ask="How was the repair seen to work?")]


def _no_labour(facts: tuple[AnyFact, ...], book: tuple[Spec, ...]) -> list[Question]:
    if _of(facts, Labour):
        return []
    return [Question(code="no-labour", ask="How long did the work take?")]


_ASKERS: tuple[Asker, ...] = (
    _no_complaint,
    _no_cause,
    _failed_without_after,
    _torque_without_value,
    _ordered_only,
    _no_verification,
    _no_labour,
)

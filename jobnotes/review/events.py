"""What a person does with a fact, a photo or a flag; each step gives a new Job with one more event.

All raise ReviewError for an id that the job does not have, or a step that does not fit it.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from jobnotes.errors import ReviewError
from jobnotes.record import AnyFact, Audience, Event, Fact, Flag, Job, Mark, Photo, State
from jobnotes.review.corrections import corrected, settles
from jobnotes.review.history import (
    ENTER,
    UNDO,
    Step,
    as_json,
    changed,
    removed,
    standing,
    subject_of,
)
from jobnotes.review.whole import WHOLE, taken_back

_UNFLAGGED = "confirm unflagged"


def confirm(job: Job, fact_id: str, who: str, at: datetime, settle: bool = False) -> Job:
    """Say that a fact is right; its open flags stay open unless `settle` says that they are done.

    A fact that was corrected before stays marked as corrected.
    """
    fact = fact_of(job, fact_id)
    state = State.CORRECTED if fact.state is State.CORRECTED else State.CONFIRMED
    flags = _settled(fact.flags) if settle else fact.flags
    return changed(job, fact, fact.having(state=state, flags=flags), Step(who, at, "confirm"))


def confirm_each(
    job: Job, fact_ids: Sequence[str], who: str, at: datetime, settle: bool = False
) -> Job:
    """Confirm several facts, or none of them if one is not there."""
    for fact_id in fact_ids:
        job = confirm(job, fact_id, who, at, settle)
    return job


def confirm_unflagged(job: Job, who: str, at: datetime) -> Job:
    """Confirm every proposed fact without an open flag; one `undo` takes all of it back."""
    for fact in job.facts:
        if fact.state is State.PROPOSED and not fact.open_flags:
            new = fact.having(state=State.CONFIRMED)
            job = changed(job, fact, new, Step(who, at, _UNFLAGGED))
    return job


def correct(job: Job, fact_id: str, who: str, at: datetime, changes: Mapping[str, Any]) -> Job:
    """Put what is right in place of what was heard; the evidence stays what was heard.

    `changes` maps names of fields to values, which may be text ("value": "12.6"); empty text means
    none. How a figure is printed follows from it unless `as_said` is given too. Open flags are
    settled if a figure or number was changed, or the fact has none.
    """
    fact = fact_of(job, fact_id)
    new = corrected(fact, changes)
    flags = _settled(fact.flags) if settles(fact, changes) else fact.flags
    new = new.having(state=State.CORRECTED, flags=flags)
    return changed(job, fact, new, Step(who, at, "correct"))


def reject(job: Job, fact_id: str, who: str, at: datetime) -> Job:
    """Say that a fact is not so; the record keeps it, and its flags need nobody any more."""
    fact = fact_of(job, fact_id)
    new = fact.having(state=State.REJECTED, flags=_settled(fact.flags))
    return changed(job, fact, new, Step(who, at, "reject"))


def office_only(job: Job, fact_id: str, who: str, at: datetime) -> Job:
    """Keep a fact from the customer, whatever its state."""
    fact = fact_of(job, fact_id)
    new = fact.having(audience=Audience.OFFICE)
    return changed(job, fact, new, Step(who, at, "office only"))


def settle_flag(job: Job, subject_id: str, code: str, who: str, at: datetime) -> Job:
    """Say that the open flags of one code on a fact, photo or recording have been looked into."""
    subject = subject_of(job, subject_id)
    if not any(flag.open and flag.code == code for flag in subject.flags):
        raise ReviewError(f"'{subject_id}' has no open flag '{code}'.")
    new = subject.having(flags=_settled(subject.flags, code))
    return changed(job, subject, new, Step(who, at, "settle flag"))


def caption(job: Job, photo_id: str, who: str, at: datetime, text: str) -> Job:
    """Give a photo a caption of one's own; it is not placed anew after that."""
    photo = _photo(job, photo_id)
    new = photo.having(caption=text, matched_by="person", confidence=1.0)
    return changed(job, photo, new, Step(who, at, "caption"))


def include(job: Job, photo_id: str, who: str, at: datetime, included: bool) -> Job:
    """Show a photo to the customer, or leave it out."""
    photo = _photo(job, photo_id)
    step = Step(who, at, "include" if included else "leave out")
    return changed(job, photo, photo.having(included=included), step)


def mark(job: Job, photo_id: str, who: str, at: datetime, marks: Sequence[Mark]) -> Job:
    """Put marks on a photo in place of those it has."""
    photo = _photo(job, photo_id)
    return changed(job, photo, photo.having(marks=tuple(marks)), Step(who, at, "mark"))


def undo(job: Job, who: str, at: datetime) -> Job:
    """Take back the last step that stands; this is itself a step that is noted.

    What `confirm_unflagged` confirmed in one go is taken back in one go. Raises ReviewError if no
    step stands.
    """
    steps = standing(job)
    if not steps:
        raise ReviewError(f"No step of review stands on job {job.id}, so there is none to undo.")
    for event in reversed(steps):
        if event is not steps[-1] and not _in_one_go(event, steps[-1]):
            break
        job = _taken_back(job, event, Step(who, at, UNDO))
    return job


def _taken_back(job: Job, event: Event, step: Step) -> Job:
    if event.what in WHOLE:
        return taken_back(job, event, step)
    subject = subject_of(job, event.subject)
    if event.what == ENTER and isinstance(subject, Fact):
        return removed(job, subject, step)
    old = type(subject).model_validate({**as_json(subject), **event.before})
    return changed(job, subject, old, step)


def _in_one_go(event: Event, last: Event) -> bool:
    moments = [(one.what, one.who, one.at) for one in (event, last)]
    return moments[0] == moments[1] and last.what == _UNFLAGGED


def _settled(flags: tuple[Flag, ...], code: str = "") -> tuple[Flag, ...]:
    return tuple(
        flag.having(open=False) if flag.open and code in ("", flag.code) else flag for flag in flags
    )


def fact_of(job: Job, fact_id: str) -> AnyFact:
    """Return the fact of that id; raises ReviewError if there is none."""
    for fact in job.facts:
        if fact.id == fact_id:
            return fact
    raise ReviewError(f"Job {job.id} has no fact '{fact_id}'.")


def _photo(job: Job, photo_id: str) -> Photo:
    for photo in job.photos:
        if photo.id == photo_id:
            return photo
    raise ReviewError(f"Job {job.id} has no photo '{photo_id}'.")

"""The events of a job: which of them still stand, and how a step is noted."""

from datetime import datetime
from typing import Any, NamedTuple

from jobnotes.errors import ReviewError
from jobnotes.record import Event, Fact, Job, Model, Photo, Recording

UNDO = "undo"
ENTER = "enter"
ANSWER = "customer answers"

Subject = Fact | Photo | Recording


class Step(NamedTuple):
    """Who takes a step of review, when, and what it is called."""

    who: str
    at: datetime
    what: str


def standing(job: Job) -> tuple[Event, ...]:
    """Return the office's steps that were not undone, oldest first."""
    events: list[Event] = []
    for event in (event for event in job.events if event.what != ANSWER):
        if event.what == UNDO:
            events.pop()
        else:
            events.append(event)
    return tuple(events)


def subject_of(job: Job, subject_id: str) -> Subject:
    """Return the fact, photo or recording of that id; raises ReviewError if there is none."""
    for item in (*job.facts, *job.photos, *job.recordings):
        if item.id == subject_id:
            return item
    raise ReviewError(f"Job {job.id} has no fact, photo or recording '{subject_id}'.")


def changed(job: Job, subject: Subject, new: Subject, step: Step) -> Job:
    """Return the job with the new in place of the subject, and an event of what changed.

    A step that changes nothing is noted all the same: that a person has looked is worth keeping.
    """
    old, now = as_json(subject), as_json(new)
    fields = [name for name in now if old.get(name) != now[name]]
    event = Event(
        at=step.at,
        who=step.who,
        what=step.what,
        subject=subject.id,
        before={name: old[name] for name in fields},
        after={name: now[name] for name in fields},
    )
    return _replaced(job, subject, new).having(events=(*job.events, event))


def removed(job: Job, subject: Fact, step: Step) -> Job:
    """Return the job without a fact that was entered by hand, and an event of that."""
    event = Event(
        at=step.at, who=step.who, what=step.what, subject=subject.id, before=as_json(subject)
    )
    facts = tuple(fact for fact in job.facts if fact is not subject)
    return job.having(facts=facts, events=(*job.events, event))


def _replaced(job: Job, subject: Subject, new: Subject) -> Job:
    for name in ("facts", "photos", "recordings"):
        items: tuple[Model, ...] = getattr(job, name)
        if subject in items:
            swapped = tuple(new if item is subject else item for item in items)
            return job.having(**{name: swapped})
    raise ReviewError(f"'{subject.id}' is not part of job {job.id}.")


def as_json(item: Model) -> dict[str, Any]:
    """Return the fields of a part of the record as an event holds them."""
    return item.model_dump(mode="json")

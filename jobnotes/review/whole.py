"""Steps about a job as a whole: whose it is, which machine, the order of its photos, answers."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from jobnotes.errors import ReviewError
from jobnotes.record import Event, Job, Machine, Photo
from jobnotes.review.history import ANSWER, Step, as_json

DETAILS = "details"
ORDER = "order photos"
WHOLE = frozenset({DETAILS, ORDER})
"""The steps whose event is about the job and not about a part of it."""

JOB = "job"
"""The subject of such an event: a job's own number may change when another shop takes it in."""

OF_JOB = ("customer", "technician")
OF_MACHINE = tuple(Machine.model_fields)


def describe(job: Job, who: str, at: datetime, fields: Mapping[str, str]) -> Job:
    """Change whose job it is ("customer", "technician") and its machine ("serial", "make" ...).

    Raises ReviewError for a field that there is not, or where nothing changes.
    """
    unknown = sorted(fields.keys() - {*OF_JOB, *OF_MACHINE})
    if unknown:
        raise ReviewError(f"A job has no {unknown}.", f"It has {', '.join(OF_JOB + OF_MACHINE)}.")
    of_job = {name: fields[name] for name in OF_JOB if name in fields}
    of_machine = {name: fields[name] for name in OF_MACHINE if name in fields}
    new = job.having(**of_job, machine=job.machine.having(**of_machine))
    before, after = _details(job), _details(new)
    names = [name for name in after if after[name] != before[name]]
    if not names:
        raise ReviewError("Nothing was changed.", "Change a field, or leave it as it is.")
    told = {name: before[name] for name in names}, {name: after[name] for name in names}
    return _noted(new, Step(who, at, DETAILS), *told)


def move_photo(job: Job, photo_id: str, who: str, at: datetime, by: int) -> Job:
    """Move a photo by some places towards the end (or the start, below nought), as far as it goes.

    Raises ReviewError for a photo that the job does not have.
    """
    order = [photo.id for photo in job.photos]
    if photo_id not in order:
        raise ReviewError(f"Job {job.id} has no photo '{photo_id}'.")
    place = order.index(photo_id)
    new = [one for one in order if one != photo_id]
    new.insert(max(0, place + by), photo_id)
    moved = job.having(photos=_in_order(job, new))
    return _noted(moved, Step(who, at, ORDER), {"photos": order}, {"photos": new})


def answer(job: Job, fact_id: str, who: str, at: datetime, yes: bool, version: int) -> Job:
    """Note what a customer says to a recommendation of an issued report; no undo takes it back."""
    after = {"answer": "yes" if yes else "no", "report": version}
    event = Event(at=at, who=who, what=ANSWER, subject=fact_id, after=after)
    return job.having(events=(*job.events, event))


def answers(job: Job) -> dict[str, Event]:
    """Return the last answer of the customer to each recommendation, by the fact's id."""
    return {event.subject: event for event in job.events if event.what == ANSWER}


def taken_back(job: Job, event: Event, step: Step) -> Job:
    """Return the job as it was before a step about the whole of it, and an event of that."""
    if event.what == ORDER:
        old = job.having(photos=_in_order(job, event.before["photos"]))
    else:
        of_job = {name: value for name, value in event.before.items() if name in OF_JOB}
        machine = {**as_json(job.machine), **event.before.get("machine", {})}
        old = job.having(**of_job, machine=Machine.model_validate(machine))
    return _noted(old, step, event.after, event.before)


def _details(job: Job) -> dict[str, Any]:
    return {**{name: getattr(job, name) for name in OF_JOB}, "machine": as_json(job.machine)}


def _in_order(job: Job, order: list[str]) -> tuple[Photo, ...]:
    """Return the photos in an order of ids; those that came later stay behind."""
    place = {photo_id: n for n, photo_id in enumerate(order)}
    return tuple(sorted(job.photos, key=lambda photo: place.get(photo.id, len(place))))


def _noted(job: Job, step: Step, before: Mapping[str, Any], after: Mapping[str, Any]) -> Job:
    event = Event(
        at=step.at, who=step.who, what=step.what, subject=JOB,
        before=dict(before), after=dict(after),
    )  # fmt: skip
    return job.having(events=(*job.events, event))

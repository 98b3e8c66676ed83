"""From a form to a step of review: which function of `review.events`, with which arguments."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from functools import partial
from typing import Any

from jobnotes.checks.typed import understood
from jobnotes.errors import ReviewError
from jobnotes.record import AnyFact, Job
from jobnotes.review import entering, events, whole
from jobnotes.web import marking
from jobnotes.web.shown import blank_fields, fields

Step = Callable[[Job], Job]
FIELD = "field-"
"""What the names of typed fields begin with, so that they meet no other name of the form."""

LONGEST_DETAIL = 200


def step_of(form: Mapping[str, str], who: str) -> Step:
    """Return the step that a form asks for; raises ReviewError for one that is not known."""
    builders: dict[str, Callable[[Mapping[str, str]], Callable[..., Job]]] = {
        "confirm": lambda form: partial(events.confirm, fact_id=_id(form)),
        "listened": lambda form: partial(events.confirm, fact_id=_id(form), settle=True),
        "correct": lambda form: partial(_correct, form=form),
        "reject": lambda form: partial(events.reject, fact_id=_id(form)),
        "office": lambda form: partial(events.office_only, fact_id=_id(form)),
        "settle": lambda form: partial(
            events.settle_flag, subject_id=_id(form), code=form.get("code", "")
        ),
        "caption": lambda form: partial(
            events.caption, photo_id=_id(form), text=form.get("text", "").strip()
        ),
        "show": lambda form: partial(events.include, photo_id=_id(form), included=True),
        "leave-out": lambda form: partial(events.include, photo_id=_id(form), included=False),
        "earlier": lambda form: partial(whole.move_photo, photo_id=_id(form), by=-1),
        "later": lambda form: partial(whole.move_photo, photo_id=_id(form), by=1),
        "mark": lambda form: partial(marking.add, photo_id=_id(form), form=form),
        "unmark": lambda form: partial(marking.take_off, photo_id=_id(form), form=form),
        "details": lambda form: partial(whole.describe, fields=_details(form)),
        "enter": lambda form: partial(_enter, form=form),
        "unflagged": lambda form: events.confirm_unflagged,
        "undo": lambda form: events.undo,
    }
    name = form.get("step", "")
    if name not in builders:
        raise ReviewError(f"There is no step '{name}'.", "Load the page anew.")
    return partial(builders[name](form), who=who, at=datetime.now(UTC))


def _id(form: Mapping[str, str]) -> str:
    return form.get("subject", "")


def _correct(job: Job, form: Mapping[str, str], who: str, at: datetime) -> Job:
    fact = next((fact for fact in job.facts if fact.id == _id(form)), None)
    if fact is None:
        raise ReviewError(f"Job {job.id} has no fact '{_id(form)}'.")
    changes = typed_changes(fact, form)
    if not changes:
        raise ReviewError(
            "Nothing was changed.", "Change a field, or say that the fact is right as it stands."
        )
    return events.correct(job, fact.id, who, at, understood(changes))


def _enter(job: Job, form: Mapping[str, str], who: str, at: datetime) -> Job:
    """Enter a fact beside the words that were named, which are looked for near the place first."""
    kind = form.get("kind", "")
    near = entering.numbered_span(form.get("place", ""))
    span = entering.span_of(job, form.get("words", ""), near)
    sent = ((one, typed(form, one.name)) for one in blank_fields(kind))
    fields = {one.name: _value(one.form, text) for one, text in sent if text}
    return entering.enter(job, kind, understood(fields), span, who, at)


def _details(form: Mapping[str, str]) -> dict[str, str]:
    names = (*whole.OF_JOB, *whole.OF_MACHINE)
    sent = ((name, typed(form, name)) for name in names)
    return {name: text[:LONGEST_DETAIL] for name, text in sent if text is not None}


def typed_changes(fact: AnyFact, form: Mapping[str, str]) -> dict[str, Any]:
    """Return the fields that a clerk typed anew, as the record takes them."""
    return {
        field.name: _value(field.form, text)
        for field in fields(fact)
        if (text := typed(form, field.name)) is not None and text != field.value
    }


def typed(form: Mapping[str, str], name: str) -> str | None:
    """Return what was typed in a field, with the line ends of the record; none if not sent."""
    text = form.get(FIELD + name)
    return None if text is None else text.replace("\r\n", "\n").strip()


def _value(form: str, text: str) -> Any:
    """Return lines as a tuple; a comma in a figure is refused: it means two things."""
    if form == "lines":
        return tuple(line for line in text.split("\n") if line)
    if form == "figure" and "," in text:
        raise ReviewError(
            f"'{text}' may be read in two ways.", "Type the figure with a point and no comma."
        )
    return text

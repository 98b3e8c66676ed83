"""The page to add a fact that was said and not found, beside the words it was said in."""

from collections.abc import Mapping

from starlette.responses import Response

from jobnotes.record import Job, Word
from jobnotes.review.entering import Span, numbered_span
from jobnotes.web import shown
from jobnotes.web.site import Ask, page
from jobnotes.web.steps import FIELD

AROUND = 14  # words shown before and after: about a breath


def show(ask: Ask) -> Response:
    """Show the kinds, and for one that is chosen its fields."""
    return enter_page(ask)


def enter_page(
    ask: Ask, status: int = 200, wrong: str = "", form: Mapping[str, str] | None = None
) -> Response:
    """Show the form of a new fact; `form` keeps what was typed for one that was refused."""
    job, revision = ask.desk.store.load(ask.part("job"))
    typed = form or {}
    told = typed.get("place") or ask.query("place")
    span = numbered_span(told)
    kind = typed.get("kind") or ask.query("kind")
    said = _words(job, span) if span else ()
    words = typed.get("words", " ".join(word.text for word in said))
    return page(
        ask, "enter.html", status, job=job, revision=revision, kinds=shown.KINDS, kind=kind,
        fields=shown.blank_fields(kind), place=told if said else "", words=words, said=said,
        near=_words(job, span, AROUND) if span else (), typed=typed, wrong=wrong, prefix=FIELD,
        chosen="",
    )  # fmt: skip


def _words(job: Job, span: Span, around: int = 0) -> tuple[Word, ...]:
    first, last = span.first - around, span.last + around
    return tuple(word for word in job.words_of(span.recording) if first <= word.index <= last)

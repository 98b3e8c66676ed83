"""A fact that no rule found, entered by a person beside the words in which it was said."""

import re
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any, NamedTuple

from jobnotes.errors import ReviewError
from jobnotes.record import Event, Evidence, Job, State, Word
from jobnotes.review.corrections import entered
from jobnotes.review.history import ENTER, as_json
from jobnotes.review.keep import in_order

RULE = "office.entered"
"""The rule that an entered fact names in place of one that found it."""


class Span(NamedTuple):
    """Words `first` to `last` (both included) of a recording."""

    recording: str
    first: int
    last: int


def enter(
    job: Job, kind: str, fields: Mapping[str, Any], span: Span, who: str, at: datetime
) -> Job:
    """Add a fact of a kind ("reading") with its fields, which may be text, and its words.

    It counts as corrected: what was typed stands in place of what was heard. Raises ReviewError for
    a kind, a field or a span that there is not, and for a value that does not fit its field.
    """
    evidence = _evidence(job, span)
    carried: dict[str, Any] = {
        "id": _next_id(job),
        "evidence": (evidence,),
        "rule": RULE,
        "state": State.CORRECTED,
    }
    if kind == "private":
        carried["utterances"] = tuple(_breaths(job, span))
    fact = entered(kind, fields, carried)
    event = Event(at=at, who=who, what=ENTER, subject=fact.id, after=as_json(fact))
    return job.having(facts=in_order(job, (*job.facts, fact)), events=(*job.events, event))


def _next_id(job: Job) -> str:
    """Number what was ever entered, also what was taken back, so that no number comes twice."""
    return f"e{1 + sum(event.what == ENTER for event in job.events)}"


def _evidence(job: Job, span: Span) -> Evidence:
    words = [w for w in job.words_of(span.recording) if span.first <= w.index <= span.last]
    if not words or (words[0].index, words[-1].index) != (span.first, span.last):
        raise ReviewError(
            f"Recording '{span.recording}' has no words {span.first} to {span.last}.",
            "Run `jobnotes explain` on a fact nearby to see how its words are numbered.",
        )
    return Evidence(
        recording=span.recording,
        first=span.first,
        last=span.last,
        start_s=words[0].start_s,
        end_s=words[-1].end_s,
        text=" ".join(word.text for word in words),
    )


def _breaths(job: Job, span: Span) -> Iterator[int]:
    for number, breath in enumerate(job.utterances):
        inside = breath.first <= span.last and span.first <= breath.last
        if breath.recording == span.recording and inside:
            yield number


def span_of(job: Job, text: str, near: Span | None = None) -> Span:
    """Return the words that a person means by "r1:12-18", or by saying them as they were heard.

    What was said `near` is meant before the same words elsewhere. Raises ReviewError where they
    were not said, or more than once.
    """
    numbered = numbered_span(text)
    if numbered:
        return numbered
    found = list(_said(job.words, _plain(text)))
    inside = [one for one in found if near and _within(one, near)]
    found = inside if len(inside) == 1 else found
    if len(found) == 1:
        return found[0]
    if not found:
        raise ReviewError(
            f"Nobody said “{text}” on job {job.id}.", "Give words as they were heard."
        )
    places = ", ".join(f"{one.recording}:{one.first}-{one.last}" for one in found)
    raise ReviewError(f"“{text}” was said more than once.", f"Name one of these: {places}.")


def numbered_span(text: str) -> Span | None:
    """Return the words that "r1:12-18" names; none for any other text."""
    named = re.fullmatch(r"(\w+):(\d{1,9})-(\d{1,9})", text.strip(), re.ASCII)
    return Span(named[1], int(named[2]), int(named[3])) if named else None


def _within(one: Span, other: Span) -> bool:
    inside = other.first <= one.first and one.last <= other.last
    return one.recording == other.recording and inside


def _said(words: tuple[Word, ...], wanted: list[str]) -> Iterator[Span]:
    """Yield every run of words that reads as wanted, whatever its capitals and marks."""
    spoken = [(word, plain) for word in words for plain in _plain(word.text)]
    for start in range(len(spoken) - len(wanted) + 1 if wanted else 0):
        run = spoken[start : start + len(wanted)]
        first, last = run[0][0], run[-1][0]
        if [plain for _, plain in run] == wanted and first.recording == last.recording:
            yield Span(first.recording, first.index, last.index)


def _plain(text: str) -> list[str]:
    """Return words without case, and without the marks around and inside them."""
    return re.findall(r"[^\W_]+", text.casefold().replace("'", "").replace("’", ""))

"""What a page shows of a job, in plain words: facts, their words, and what waits."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal, get_args, get_origin

from jobnotes.record import (
    Action,
    AnyFact,
    Audience,
    Decision,
    Event,
    Evidence,
    Fact,
    Finding,
    Flag,
    Job,
    Labour,
    Part,
    Reading,
    Spec,
    State,
    Symptom,
    Test,
    Wiring,
    Withdrawn,
    Word,
)
from jobnotes.report.spans import clock
from jobnotes.review.corrections import FIXED
from jobnotes.review.corrections import KINDS as MODELS
from jobnotes.review.whole import answers

KINDS = (
    "complaint", "symptom", "test", "reading", "spec", "part", "wiring", "finding", "cause",
    "action", "decision", "recommendation", "verification", "caution", "labour", "private",
    "withdrawn",
)  # fmt: skip
"""Every kind of fact, in the order in which a clerk is offered them."""

NOT_TYPED = frozenset({"linked", "utterances", "of"})  # ids and counts that no clerk types
LISTS = frozenset({"alternatives"})

Say = Callable[..., str]
"""What says a message of the pages in somebody's language."""


@dataclass(frozen=True)
class Typed:
    """A field to type: `form` is "text", "figure", "choice", "truth" or "lines"."""

    name: str
    value: str
    form: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Shown:
    """A fact as a page shows it; `spots` are its words as "r1:4-9", `heard` their text.

    `kind` and `state` are as in the record, `answer` is the customer's.
    """

    id: str
    kind: str
    title: str
    figure: str
    rest: str
    state: str
    settled: bool
    rejected: bool
    office: bool
    rule: str
    when: str
    heard: str
    spots: str
    flags: tuple[Flag, ...]
    fields: tuple[Typed, ...]
    recording: str
    start_s: float
    end_s: float
    answer: Event | None


@dataclass(frozen=True)
class Line:
    """One breath: its recording, first second, and words."""

    recording: str
    start_s: float
    words: tuple[Word, ...]


def facts(job: Job, say: Say) -> tuple[Shown, ...]:
    """Return the facts, those that need a look first: flagged, then not read, then settled."""
    order = sorted(job.facts, key=lambda fact: (not fact.open_flags, _done(fact)))
    answered = answers(job)
    return tuple(shown(fact, say, answered.get(fact.id)) for fact in order)


def _done(fact: AnyFact) -> bool:
    return fact.state is not State.PROPOSED or fact.audience is Audience.OFFICE


def shown(fact: AnyFact, say: Say, answer: Event | None = None) -> Shown:
    """Return a fact as a page shows it."""
    title, figure, rest = told(fact, say)
    first = fact.evidence[0] if fact.evidence else None
    return Shown(
        id=fact.id,
        kind=fact.kind,
        title=title,
        figure=figure,
        rest=rest,
        state=fact.state,
        settled=fact.state is not State.PROPOSED,
        rejected=fact.state is State.REJECTED,
        office=fact.audience is Audience.OFFICE,
        rule=fact.rule,
        when=clock(first.start_s) if first else "",
        heard=" … ".join(place.text for place in fact.evidence),
        spots=spots(fact.evidence),
        flags=fact.open_flags,
        fields=fields(fact),
        recording=first.recording if first else "",
        start_s=first.start_s if first else 0.0,
        end_s=first.end_s if first else 0.0,
        answer=answer,
    )


def told(fact: AnyFact, say: Say) -> tuple[str, str, str]:
    """Return what a fact says: what it is of, its figure if it has one, and the rest."""
    match fact:
        case Reading():
            rest = _listed(fact.where, fact.when, fact.setting, _choice(fact.phase, say))
            return fact.what, f"{fact.as_said} {fact.unit}", rest
        case Spec():
            return fact.what, f"{limits(fact, say)} {fact.unit}", fact.source or fact.where
        case Part():
            count = say("count-of-them", count=fact.quantity) if fact.quantity else ""
            rest = _listed(_choice(fact.status, say), count)
            return fact.name or say("part-unnamed"), fact.number, rest
        case Labour():
            return say("labour-time"), fact.as_said, ""
        case Withdrawn():
            figure = f"{fact.value} {fact.unit}" if fact.value is not None else ""
            return fact.text, figure, say(f"kind-{fact.of}").lower()
        case _:
            return _in_words(fact, say)


def _in_words(fact: AnyFact, say: Say) -> tuple[str, str, str]:
    """Return what a fact without a figure says."""
    match fact:
        case Test():
            return fact.method, "", _listed(fact.observed, fact.conclusion)
        case Wiring():
            ends = f"{fact.from_point} → {fact.to_point}"
            return ends, "", _listed(fact.colour, fact.connector, fact.purpose)
        case Finding():
            found = fact.state_found
            found = say("said-not", what=found) if fact.negated else found
            return f"{fact.what}: {found}", "", fact.where
        case Action():
            return f"{fact.verb} {fact.object}".strip(), "", _listed(fact.where, fact.using)
        case Decision():
            return fact.chosen, "", _listed(*fact.alternatives, fact.because)
        case Symptom():
            return (fact.text if fact.reproduced else say("seen-here-not", what=fact.text)), "", ""
        case _:
            return getattr(fact, "text", ""), "", getattr(fact, "urgency", "")


def _listed(*texts: str) -> str:
    return ", ".join(filter(None, texts))


def _choice(name: str, say: Say) -> str:
    return say(f"choice-{name}") if name else ""


def limits(spec: Spec, say: Say) -> str:
    """Return the ends of a limit in words, from its figures, whatever was said."""
    if spec.low is None:
        return spec.as_said if spec.high is None else say("at-most", value=f"{spec.high}")
    if spec.high is None:
        return say("at-least", value=f"{spec.low}")
    if spec.low == spec.high:
        return f"{spec.low}"
    return say("from-to", low=f"{spec.low}", high=f"{spec.high}")


def spots(evidence: Iterable[Evidence]) -> str:
    """Return where words are, as a script finds them: "r1:4-9 r1:12-14"."""
    return " ".join(f"{place.recording}:{place.first}-{place.last}" for place in evidence)


def fields(fact: AnyFact) -> tuple[Typed, ...]:
    """Return the fields of a fact that a clerk may put right, each with its form."""
    return tuple(_typed(type(fact), name, getattr(fact, name)) for name in _own(type(fact)))


def blank_fields(kind: str) -> tuple[Typed, ...]:
    """Return the fields of a kind of fact that a clerk may enter, empty; none for no kind."""
    model = MODELS.get(kind)
    return tuple(_typed(model, name, _blank(model, name)) for name in _own(model)) if model else ()


def _own(model: type[Fact]) -> list[str]:
    return [name for name in model.model_fields if name not in FIXED | NOT_TYPED]


def _blank(model: type[Fact], name: str) -> Any:
    field = model.model_fields[name]
    return None if field.is_required() else field.default


def _typed(model: type[Fact], name: str, value: Any) -> Typed:
    kind = model.model_fields[name].annotation
    if get_origin(kind) is Literal:
        return Typed(name, value, "choice", tuple(get_args(kind)))
    if kind is bool:
        return Typed(name, "yes" if value else "no", "choice", ("yes", "no"))
    if name in LISTS:
        return Typed(name, "\n".join(value), "lines")
    figure = kind is Decimal or Decimal in get_args(kind) or int in get_args(kind)
    text = "" if value is None else f"{value:f}" if isinstance(value, Decimal) else str(value)
    return Typed(name, text, "figure" if figure else "text")


def lines(job: Job) -> tuple[Line, ...]:
    """Return what was said, a breath a line."""
    words = {(word.recording, word.index): word for word in job.words}
    return tuple(
        Line(breath.recording, heard[0].start_s, heard)
        for breath in job.utterances
        if (heard := _words(words, breath.recording, breath.first, breath.last))
    )


def _words(
    words: dict[tuple[str, int], Word], recording: str, first: int, last: int
) -> tuple[Word, ...]:
    keys = [(recording, n) for n in range(first, last + 1)]
    return tuple(words[key] for key in keys if key in words)


def marked(chosen: Sequence[Evidence]) -> frozenset[tuple[str, int]]:
    """Return the words of evidence, each as recording and index."""
    return frozenset(
        (place.recording, n) for place in chosen for n in range(place.first, place.last + 1)
    )

"""What a page shows of a job, in plain words: facts, their words, and what waits."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, get_args, get_origin

from jobnotes.listing import described
from jobnotes.record import (
    AnyFact,
    Audience,
    Evidence,
    Flag,
    Job,
    Labour,
    Part,
    Reading,
    Spec,
    State,
    Withdrawn,
    Word,
)
from jobnotes.report.spans import clock
from jobnotes.review.corrections import FIXED

KINDS = {
    "complaint": "Complaint", "symptom": "Symptom", "test": "Test", "reading": "Reading",
    "spec": "Limit", "part": "Part", "wiring": "Wiring", "finding": "Found", "cause": "Cause",
    "action": "Work done", "decision": "Choice made", "recommendation": "Advice",
    "verification": "Proof", "caution": "Danger", "labour": "Labour", "private": "Private",
    "withdrawn": "Taken back",
}  # fmt: skip
STATES = {
    State.PROPOSED: "Not read yet",
    State.CONFIRMED: "Right",
    State.CORRECTED: "Put right",
    State.REJECTED: "Not so",
}
NOT_TYPED = frozenset({"linked", "utterances", "of"})  # ids and counts that no clerk types
LISTS = frozenset({"alternatives"})
LABELS = {
    "what": "What", "value": "Figure", "as_said": "As printed", "when": "When", "low": "At least",
    "high": "At most", "from_point": "From", "to_point": "To", "state_found": "State",
    "using": "With", "minutes": "Minutes", "object": "On what", "verb": "Work",
    "negated": "Said not to be so", "reproduced": "Seen here", "number": "Part number",
}  # fmt: skip


@dataclass(frozen=True)
class Typed:
    """A field to type: `form` is "text", "figure", "choice", "truth" or "lines"."""

    name: str
    label: str
    value: str
    form: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Shown:
    """A fact as a page shows it; `spots` are its words as "r1:4-9", `heard` their text."""

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


@dataclass(frozen=True)
class Line:
    """One breath: its recording, first second, and words."""

    recording: str
    start_s: float
    words: tuple[Word, ...]


def facts(job: Job) -> tuple[Shown, ...]:
    """Return the facts, those that need a look first: flagged, then not read, then settled."""
    order = sorted(job.facts, key=lambda fact: (not fact.open_flags, _done(fact)))
    return tuple(shown(fact) for fact in order)


def _done(fact: AnyFact) -> bool:
    return fact.state is not State.PROPOSED or fact.audience is Audience.OFFICE


def shown(fact: AnyFact) -> Shown:
    """Return a fact as a page shows it."""
    title, figure, rest = told(fact)
    first = fact.evidence[0] if fact.evidence else None
    return Shown(
        id=fact.id,
        kind=KINDS[fact.kind],
        title=title,
        figure=figure,
        rest=rest,
        state=STATES[fact.state],
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
    )


def told(fact: AnyFact) -> tuple[str, str, str]:
    """Return what a fact says: what it is of, its figure if it has one, and the rest."""
    match fact:
        case Reading():
            circumstances = (fact.where, fact.when, fact.setting, fact.phase)
            return fact.what, f"{fact.as_said} {fact.unit}", ", ".join(filter(None, circumstances))
        case Spec():
            return fact.what, f"{limits(fact)} {fact.unit}", fact.source or fact.where
        case Part():
            count = f"{fact.quantity} of them" if fact.quantity else ""
            rest = ", ".join(filter(None, (fact.status, count)))
            return fact.name or "part", fact.number, rest
        case Labour():
            return "Labour time", fact.as_said, ""
        case Withdrawn():
            figure = f"{fact.value} {fact.unit}" if fact.value is not None else ""
            return fact.text, figure, KINDS.get(fact.of, fact.of).lower()
        case _:
            text = getattr(fact, "text", "")
            return (text or described(fact), "", getattr(fact, "urgency", ""))


def limits(spec: Spec) -> str:
    """Return the ends of a limit in words, from its figures, whatever was said."""
    if spec.low is None:
        return spec.as_said if spec.high is None else f"at most {spec.high}"
    if spec.high is None:
        return f"at least {spec.low}"
    return f"{spec.low}" if spec.low == spec.high else f"{spec.low} to {spec.high}"


def spots(evidence: Iterable[Evidence]) -> str:
    """Return where words are, as a script finds them: "r1:4-9 r1:12-14"."""
    return " ".join(f"{place.recording}:{place.first}-{place.last}" for place in evidence)


def fields(fact: AnyFact) -> tuple[Typed, ...]:
    """Return the fields of a fact that a clerk may put right, each with its form."""
    own = [name for name in type(fact).model_fields if name not in FIXED | NOT_TYPED]
    return tuple(_typed(fact, name) for name in own)


def _typed(fact: AnyFact, name: str) -> Typed:
    kind = type(fact).model_fields[name].annotation
    value = getattr(fact, name)
    label = LABELS.get(name, name.replace("_", " ").capitalize())
    if get_origin(kind) is Literal:
        return Typed(name, label, value, "choice", tuple(get_args(kind)))
    if isinstance(value, bool):
        return Typed(name, label, "yes" if value else "no", "choice", ("yes", "no"))
    if name in LISTS:
        return Typed(name, label, "\n".join(value), "lines")
    figure = kind is Decimal or Decimal in get_args(kind) or int in get_args(kind)
    text = "" if value is None else f"{value:f}" if isinstance(value, Decimal) else str(value)
    return Typed(name, label, text, "figure" if figure else "text")


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

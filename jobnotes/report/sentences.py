"""One printed sentence from one fact: deterministic, and holding nothing that the fact does not."""

import re
from collections.abc import Callable
from typing import Any

from jobnotes.record import (
    AnyFact,
    Cause,
    Caution,
    Complaint,
    Finding,
    Labour,
    Recommendation,
    Symptom,
    Test,
    Verification,
    Wiring,
)
from jobnotes.report import clauses, english
from jobnotes.report.english import capital, clean, rules, the
from jobnotes.report.figures import labour_time
from jobnotes.report.places import behind
from jobnotes.report.story import Sentence


def of(fact: AnyFact) -> Sentence:
    """Return the sentence of a fact that needs no other fact beside it; raises TypeError else."""
    if not isinstance(fact, KINDS):
        raise TypeError(f"{fact.kind} has no sentence of its own")
    return _WRITERS[type(fact)](fact)


def complaint(fact: Complaint) -> Sentence:
    """Quote the complaint as it was told."""
    text = english.sentence(fact.text)
    return Sentence(f"“{text}”" if text else "", (fact.id,))


def symptom(fact: Symptom) -> Sentence:
    """Say whether the technician met the complaint."""
    lead = "We saw this ourselves" if fact.reproduced else "We could not bring this about"
    return _said(fact, f"{lead}: {clean(fact.text)}")


def test(fact: Test) -> Sentence:
    """Say how a thing was tested, what should have come, what came and what it means."""
    how = capital(clauses.with_subject(fact.method)) + (
        f", {clean(fact.condition)}" if fact.condition else ""
    )
    told = {
        "What should happen": fact.expected,
        "What happened": fact.observed,
        "What it means": fact.conclusion,
    }
    parts = [f"{label}: {clean(text)}" for label, text in told.items() if clean(text)]
    return _said(fact, ". ".join([*([how] if how else []), *parts]))


def finding(fact: Finding) -> Sentence:
    """Say in which state a thing was found."""
    what, state = clean(fact.what), _begun(clean(fact.state_found))
    if not what or not state:
        return _said(fact, what or state)
    where = behind(fact.where, what)
    return _said(fact, english.state_of(what, state, negated=fact.negated, where=where))


def _begun(state: str) -> str:
    """Take back the capital of a state that opened a sentence as it was said."""
    first, _, rest = state.partition(" ")
    return f"{first.lower()} {rest}".strip() if first.istitle() and first != "I" else state


def cause(fact: Cause) -> Sentence:
    """Say why the machine failed."""
    return _said(fact, clauses.cause(fact.text))


def recommendation(fact: Recommendation) -> Sentence:
    """Say what is advised, and by when if that was said."""
    text, urgency = english.as_advice(clean(fact.text)), clean(fact.urgency)
    if not text or not urgency or urgency.lower() in text.lower():
        return _said(fact, text)
    led = urgency.split()[0].lower() in rules("english")["moments"]["words"]
    return _said(fact, f"{text} {urgency}" if led else f"{text} – {urgency}")


def caution(fact: Caution) -> Sentence:
    """Repeat a warning without the words that announce it."""
    text = clean(fact.text)
    for lead in rules("english")["announced"]["cautions"]:
        text = re.sub(rf"(?i)^{re.escape(lead)}[.:,]\s*", "", text)
    return _said(fact, text)


def wiring(fact: Wiring) -> Sentence:
    """Say which wire runs from where to where, and what it is for."""
    colour, purpose = clean(fact.colour), clean(fact.purpose)
    ends = {"from": fact.from_point, "to": fact.to_point, "through": _connector(fact.connector)}
    if not any(clean(end) for end in ends.values()):
        return Sentence("", (fact.id,))
    wire = f"{english.article(colour)} {colour} wire" if colour else "a wire"
    way = " ".join(f"{word} {_end(end)}" for word, end in ends.items() if clean(end))
    uses = f". It is there for {purpose}" if purpose else ""
    return _said(fact, f"{wire} runs {way}{uses}")


def _end(point: str) -> str:
    """Name one end of a wire; "pin 4" and "terminal B" are names as they stand."""
    text = clean(point)
    last = text.split()[-1]
    numbered = len(last) == 1 or any(char.isdigit() for char in last)
    counted = last.lower() in rules("english")["numbers"]
    return text if numbered or counted else the(text)


def _connector(connector: str) -> str:
    """Name a connector as one, unless its own name does."""
    text = clean(connector)
    if not text:
        return ""
    return english.a(text) if "connector" in text.lower() else f"connector {text}"


def labour(fact: Labour) -> Sentence:
    """Say how long the work took."""
    return _said(fact, f"the work took {labour_time(fact)}")


def verification(fact: Verification) -> Sentence:
    """Say how the repair was seen to work."""
    return _said(fact, clauses.with_subject(fact.text))


def _said(fact: AnyFact, text: str) -> Sentence:
    return Sentence(english.sentence(text), (fact.id,))


_WRITERS: dict[type, Callable[[Any], Sentence]] = {
    Complaint: complaint,
    Symptom: symptom,
    Test: test,
    Finding: finding,
    Cause: cause,
    Recommendation: recommendation,
    Wiring: wiring,
    Labour: labour,
    Caution: caution,
    Verification: verification,
}
KINDS = tuple(_WRITERS)

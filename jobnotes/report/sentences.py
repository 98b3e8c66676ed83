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
from jobnotes.report.english import capital, clean, rules
from jobnotes.report.figures import labour_time
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.tongue import Tongue
from jobnotes.report.story import Sentence


def of(fact: AnyFact, tongue: Tongue = ENGLISH) -> Sentence:
    """Return the sentence of a fact that needs no other fact beside it; raises TypeError else."""
    if not isinstance(fact, KINDS):
        raise TypeError(f"{fact.kind} has no sentence of its own")
    text = _WRITERS[type(fact)](fact, tongue)
    quoted = isinstance(fact, Complaint)
    return Sentence(text if quoted else tongue.sentence(text), (fact.id,))


def complaint(fact: Complaint, tongue: Tongue) -> str:
    """Quote the complaint as it was told."""
    text = tongue.quotation(fact.text)
    return say(tongue.code, "quoted", text=text) if text else ""


def symptom(fact: Symptom, tongue: Tongue) -> str:
    """Say whether the technician met the complaint."""
    met = "symptom-seen" if fact.reproduced else "symptom-not-seen"
    return say(tongue.code, met, text=tongue.words(fact.text))


def test(fact: Test, tongue: Tongue) -> str:
    """Say how a thing was tested, what should have come, what came and what it means."""
    repeats = clean(fact.condition) in clean(fact.method)
    under = "" if repeats else f", {tongue.words(fact.condition)}"
    how = capital(tongue.clause(fact.method)) + under
    told = {"expected": fact.expected, "observed": fact.observed, "conclusion": fact.conclusion}
    parts = [
        say(tongue.code, f"test-{part}", text=tongue.words(text))
        for part, text in told.items()
        if clean(text)
    ]
    return ". ".join([*([how] if how else []), *parts])


def finding(fact: Finding, tongue: Tongue) -> str:
    """Say in which state a thing was found."""
    return tongue.finding(fact)


def cause(fact: Cause, tongue: Tongue) -> str:
    """Say why the machine failed."""
    return tongue.cause(fact.text)


def recommendation(fact: Recommendation, tongue: Tongue) -> str:
    """Say what is advised, and by when if that was said."""
    return tongue.advice(fact.text, fact.urgency)


def caution(fact: Caution, tongue: Tongue) -> str:
    """Repeat a warning without the words that announce it."""
    text = clean(fact.text)
    for lead in rules("english")["announced"]["cautions"]:
        text = re.sub(rf"(?i)^{re.escape(lead)}[.:,]\s*", "", text)
    return tongue.words(text)


def wiring(fact: Wiring, tongue: Tongue) -> str:
    """Say which wire runs from where to where, and what it is for."""
    return tongue.wiring(fact)


def labour(fact: Labour, tongue: Tongue) -> str:
    """Say how long the work took."""
    return say(tongue.code, "labour", time=labour_time(fact, tongue.code))


def verification(fact: Verification, tongue: Tongue) -> str:
    """Say how the repair was seen to work."""
    return tongue.clause(fact.text)


_WRITERS: dict[type, Callable[[Any, Tongue], str]] = {
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

"""One printed sentence from one fact: deterministic, and holding nothing that the fact does not."""

from collections.abc import Mapping

from jobnotes.checks.names import key_words
from jobnotes.numbers.units import codes, measures
from jobnotes.record import (
    Action,
    AnyFact,
    Cause,
    Caution,
    Complaint,
    Decision,
    Finding,
    Labour,
    Reading,
    Recommendation,
    Symptom,
    Test,
    Verification,
    Wiring,
)
from jobnotes.report import english
from jobnotes.report.english import capital, clean, joined, past, rules, the
from jobnotes.report.figures import labour_time, reading_figure
from jobnotes.report.story import Sentence


def of(fact: AnyFact) -> Sentence:
    """Return the sentence of a fact that needs no other fact beside it."""
    match fact:
        case Complaint():
            return complaint(fact)
        case Symptom():
            return symptom(fact)
        case Test():
            return test(fact)
        case Decision():
            return decision(fact)
        case Recommendation():
            return recommendation(fact)
        case Wiring():
            return wiring(fact)
        case Labour():
            return labour(fact)
        case Cause() | Verification() | Caution():
            return _said(fact, fact.text)
    raise TypeError(f"{fact.kind} has no sentence of its own")


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
    how = capital(clean(fact.method)) + (f", {clean(fact.condition)}" if fact.condition else "")
    told = {
        "What should happen": fact.expected,
        "What happened": fact.observed,
        "What it means": fact.conclusion,
    }
    parts = [f"{label}: {clean(text)}" for label, text in told.items() if clean(text)]
    return _said(fact, ". ".join([*([how] if how else []), *parts]))


def finding(fact: Finding) -> Sentence:
    """Say in which state a thing was found."""
    what, state = clean(fact.what), clean(fact.state_found)
    if not what or not state:
        return _said(fact, what or state)
    where = _place(fact.where, what)
    return _said(fact, english.state_of(what, state, negated=fact.negated, where=where))


def action(fact: Action, facts: Mapping[str, AnyFact]) -> Sentence:
    """Say what was done, to what, with what, and to which figure where one is linked."""
    linked = [facts[name] for name in fact.linked if name in facts]
    readings = [other for other in linked if isinstance(other, Reading)]
    aim = rules("english")["aims"].get(fact.verb.lower())
    if aim:
        readings = [other for other in readings if _is_torque(other) == aim.get("torque", False)]
        aim = aim if readings else None
    verb = aim["past"] if aim else past(clean(fact.verb))
    thing = clean(fact.object)
    text = f"{verb} {the(thing)}".strip() + _place(fact.where, thing) + _using(fact.using)
    ids = (fact.id, *(reading.id for reading in readings))
    return Sentence(english.sentence(text + _figures(readings, aim, thing)), ids)


def _figures(readings: list[Reading], aim: Mapping[str, str] | None, thing: str) -> str:
    if not readings:
        return ""
    if aim:
        return f" {aim['join']} {joined([reading_figure(reading) for reading in readings])}"
    named = [f"{_name_beside(thing, reading)}{reading_figure(reading)}" for reading in readings]
    return f": {joined(named)}"


def _is_torque(reading: Reading) -> bool:
    return reading.unit in codes() and measures(reading.unit) == "torque"


def _name_beside(thing: str, reading: Reading) -> str:
    """Name a reading, unless the thing just named says it already."""
    return "" if key_words(thing) <= key_words(reading.what) else f"{clean(reading.what)} "


def _using(using: str) -> str:
    text = clean(using)
    if not text:
        return ""
    return f" {text}" if text.split()[0].lower() in ("with", "using", "by") else f" with {text}"


def _place(where: str, thing: str) -> str:
    """Put a place behind a thing that does not name it: after a preposition, else in brackets."""
    text = clean(where)
    if key_words(text) <= key_words(thing):
        return ""
    led = text.split()[0].lower() in rules("english")["prepositions"]
    return f" {text}" if led else f" ({text})"


def decision(fact: Decision) -> Sentence:
    """Say what was chosen, over what, and why."""
    chosen = clean(fact.chosen)
    over = joined([clean(choice) for choice in fact.alternatives if clean(choice)], "or")
    because = clean(fact.because).removeprefix("because ")
    if not chosen:
        return Sentence("", (fact.id,))
    text = f"Our choice: {chosen}" + (f", not {over}" if over else "")
    return _said(fact, text + (f". The reason: {because}" if because else ""))


def recommendation(fact: Recommendation) -> Sentence:
    """Say what is advised, and by when if that was said."""
    text, urgency = clean(fact.text), clean(fact.urgency)
    known = not urgency or urgency.lower() in text.lower()
    advice = english.as_advice(text)
    return _said(fact, advice if known else f"{advice} – {urgency}")


def wiring(fact: Wiring) -> Sentence:
    """Say which wire runs from where to where."""
    colour = clean(fact.colour)
    wire = capital(english.a(f"{colour} wire" if colour else "wire"))
    ends = {
        "from": fact.from_point,
        "to": fact.to_point,
        _through(fact.connector): fact.connector,
    }
    if not any(clean(end) for end in ends.values()):
        return Sentence("", (fact.id,))
    way = " ".join(f"{word} {clean(end)}" for word, end in ends.items() if clean(end))
    purpose = f" (for: {clean(fact.purpose)})" if clean(fact.purpose) else ""
    return _said(fact, f"{wire} {way}{purpose}")


def _through(connector: str) -> str:
    """Name the connector as one, unless its own name does."""
    return "through" if "connector" in clean(connector).lower() else "through connector"


def labour(fact: Labour) -> Sentence:
    """Say how long the work took."""
    return _said(fact, f"The work took {labour_time(fact)}")


def proof(fact: Reading) -> str:
    """Return a reading as the proof of something: its name, place and figure."""
    return f"{clean(fact.what)}{_place(fact.where, fact.what)} {reading_figure(fact)}"


def _said(fact: AnyFact, text: str) -> Sentence:
    return Sentence(english.sentence(text), (fact.id,))

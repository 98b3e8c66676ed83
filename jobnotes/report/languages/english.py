"""English as a language of the report: the words stay as they were dictated, made fit to print."""

import re
from collections.abc import Mapping, Sequence

from jobnotes.checks.names import key_words
from jobnotes.record import Action, Decision, Finding, Language, Reading, Wiring
from jobnotes.report import clauses, english
from jobnotes.report.english import clean, is_plural, joined, past, rules
from jobnotes.report.figures import reading_figure
from jobnotes.report.heard import as_heard, is_known
from jobnotes.report.languages.tongue import Deed
from jobnotes.report.places import behind


class English:
    """The language that is spoken at the bench."""

    code: Language = "en"

    def sentence(self, text: str) -> str:
        """Return cleaned text with a capital and a full stop."""
        return english.sentence(text)

    def words(self, text: str) -> str:
        """Return the words as they are."""
        return clean(text)

    def quotation(self, text: str) -> str:
        """Return the words as a sentence."""
        return english.sentence(text)

    def name(self, thing: str) -> str:
        """Return the name as it is."""
        return clean(thing)

    def the(self, thing: str) -> str:
        """Return the name with "the"."""
        return english.the(clean(thing))

    def one(self, thing: str) -> str:
        """Return the name with "a" or "an"."""
        return english.a(thing)

    def clause(self, text: str) -> str:
        """Give a sentence that starts with its verb a subject."""
        return clauses.with_subject(text)

    def finding(self, fact: Finding) -> str:
        """Say in which state a thing was found."""
        what, state = _named(fact.what), as_heard(_begun(clean(fact.state_found)), fact)
        if not what or not state:
            return what or state
        where = behind(fact.where, what)
        unmet = not (fact.negated or where or is_known(what, fact))
        there = english.there_was(as_heard(what, fact)) if unmet else ""
        if there and english.is_place(state):
            return f"{there} {state}"
        return english.state_of(what, state, negated=fact.negated, where=where)

    def cause(self, text: str) -> str:
        """Say why the machine failed."""
        return clauses.cause(text)

    def advice(self, text: str, urgency: str) -> str:
        """Say what is advised, and by when."""
        advised, when = english.as_advice(clean(text)), clean(urgency)
        if not advised or not when or when.lower() in advised.lower():
            return advised
        led = when.split()[0].lower() in rules("english")["moments"]["words"]
        return f"{advised} {when}" if led else f"{advised} – {when}"

    def decision(self, fact: Decision) -> str:
        """Say what was chosen, over what and why."""
        over = joined([clean(other) for other in fact.alternatives if clean(other)], "or")
        chosen = clauses.choice(fact.chosen)
        rather = f" rather than {over}" if over else ""
        return chosen + rather + clauses.reason(fact.because) if chosen else ""

    def wiring(self, fact: Wiring) -> str:
        """Say which wire runs from where to where, and what it is for."""
        colour, purpose = clean(fact.colour), clean(fact.purpose)
        ends = {"from": fact.from_point, "to": fact.to_point, "through": _connector(fact.connector)}
        if not any(clean(end) for end in ends.values()):
            return ""
        wire = f"{english.article(colour)} {colour} wire" if colour else "a wire"
        way = " ".join(f"{word} {_end(end)}" for word, end in ends.items() if clean(end))
        uses = f". It is there for {purpose}" if purpose else ""
        return f"{wire} runs {way}{uses}"

    def deed(self, action: Action, readings: Sequence[Reading]) -> Deed:
        """Say what was done, to what, with what, and to which figures."""
        aim = rules("english")["aims"].get(action.verb.lower(), {}) if readings else {}
        verb = aim["past"] if aim else past(clean(action.verb))
        thing, where = _counted(clean(action.object), clean(action.where))
        tail = _using(as_heard(action.using, action)) + _figures(readings, aim, thing)
        named = f"{verb} {english.the(thing)}".strip() + behind(where, thing) + tail
        return Deed(named, _again(verb, thing, tail), ":" in tail)


def _counted(thing: str, where: str) -> tuple[str, str]:
    """Put "both" or "all", told as a place, before the things that it counts."""
    counts = where.lower() in ("both", "all") and is_plural(thing)
    return (f"{where.lower()} {thing}", "") if counts else (thing, where)


def _again(verb: str, thing: str, tail: str) -> str:
    """Return the deed of a thing just named: "took it off"."""
    it = "them" if is_plural(thing) else "it"
    base, _, particle = verb.rpartition(" ")
    if base and particle in rules("english")["particles"]["words"]:
        return f"{base} {it} {particle}{tail}"
    return f"{verb} {it}{tail}"


def _figures(readings: Sequence[Reading], aim: Mapping[str, str], thing: str) -> str:
    if not readings:
        return ""
    if aim:
        return f" {aim['join']} {joined([reading_figure(reading) for reading in readings])}"
    named = [f"{_name_beside(thing, reading)}{reading_figure(reading)}" for reading in readings]
    return f": {joined(named)}"


def _name_beside(thing: str, reading: Reading) -> str:
    """Name a reading, unless the thing just named says it already."""
    return "" if key_words(thing) <= key_words(reading.what) else f"{clean(reading.what)} "


def _using(using: str) -> str:
    text = clean(using)
    if not text:
        return ""
    return f" {text}" if text.split()[0].lower() in ("with", "using", "by") else f" with {text}"


def _named(what: str) -> str:
    """Return a thing's name without what led on to its state: "the piston's", "the gap now"."""
    said = clean(what)
    while said.split()[1:] and said.split()[-1].lower() in rules("english")["leading_on"]["words"]:
        said = said.rpartition(" ")[0]
    return re.sub(r"['’]s$", "", said)


def _begun(state: str) -> str:
    """Take back the capital of a state that opened a sentence as it was said."""
    first, _, rest = state.partition(" ")
    return f"{first.lower()} {rest}".strip() if first.istitle() and first != "I" else state


def _end(point: str) -> str:
    """Name one end of a wire; "pin 4" and "terminal B" are names as they stand."""
    text = clean(point)
    last = text.split()[-1]
    numbered = len(last) == 1 or any(char.isdigit() for char in last)
    counted = last.lower() in rules("english")["numbers"]
    return text if numbered or counted else english.the(text)


def _connector(connector: str) -> str:
    """Name a connector as one, unless its own name does."""
    text = clean(connector)
    if not text:
        return ""
    return english.a(text) if "connector" in text.lower() else f"connector {text}"


ENGLISH = English()

"""French and Spanish as languages of the report: the trade's words in them, all else quoted."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from jobnotes.checks.names import key_words
from jobnotes.record import Action, Decision, Finding, Language, Reading, Wiring
from jobnotes.report.english import as_advice, capital, clean, rules
from jobnotes.report.figures import reading_figure
from jobnotes.report.languages import quoting
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.grammar import Noun
from jobnotes.report.languages.lists import listed
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.naming import INDEFINITE, noun, place
from jobnotes.report.languages.phrasing import phrase
from jobnotes.report.languages.stating import Told, state
from jobnotes.report.languages.tongue import Deed
from jobnotes.report.languages.trade import Trade

HOW_MANY = {True: 2, False: 1}
SPACES = " \N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}"


@dataclass(frozen=True)
class Romance:
    """A language by its trade's words; what these lack is quoted in English, never guessed."""

    trade: Trade

    @property
    def code(self) -> Language:
        """Return the language's code."""
        return self.trade.language

    def _say(self, message: str, **values: str | int) -> str:
        return say(self.code, message, **values)

    def _as_said(self, text: str) -> str:
        """Quote English words; nothing for nothing."""
        words = clean(text)
        return self._say("said", words=quoting.said(words)) if words else ""

    def _sentence_as_said(self, text: str) -> str:
        """Quote a whole sentence."""
        words = ENGLISH.sentence(text).removesuffix(".")
        return self._say("said", words=quoting.said(words)) if words else ""

    def _noun(self, text: str) -> Noun:
        """Return the name of a thing; one without translation is "the item called ..."."""
        words = clean(text)
        found = noun(self.trade, words)
        return found or Noun(self._say("called", name=self._as_said(words)))

    def _known(self, text: str) -> str:
        """Return words in this language, or nothing."""
        words = clean(text)
        found = phrase(self.trade, words) or place(self.trade, words)
        if found:
            return found
        thing = noun(self.trade, words)
        told = None if thing else state(self.trade, words, Noun(""))
        if told and told.kind in ("lacks", "has"):
            return self._say("without", what=told.text) if told.kind == "lacks" else told.text
        return thing.text if thing else told.text if told else ""

    def sentence(self, text: str) -> str:
        """Return a text with a capital and a full stop."""
        body = text.strip()
        stops = not body or re.search(f"[.!?…]({quoting.END}?[{SPACES}]?»)?$", body)
        return capital(body) + ("" if stops else ".")

    def words(self, text: str) -> str:
        """Return free words, or quote them."""
        return self._known(text) or self._as_said(text)

    def quotation(self, text: str) -> str:
        """Return what somebody said in this language, else as it was said."""
        known = self._known(text)
        if known or not clean(text):
            return self.sentence(known)
        return quoting.said(ENGLISH.sentence(text))

    def name(self, thing: str) -> str:
        """Return the name of a thing, or quote it."""
        found = noun(self.trade, clean(thing))
        return found.text if found else self._as_said(thing)

    def the(self, thing: str) -> str:
        """Return a thing with its definite article."""
        return self.trade.grammar.the(self._noun(thing)) if clean(thing) else ""

    def one(self, thing: str) -> str:
        """Return a thing with its indefinite article."""
        return self.trade.grammar.one(self._noun(thing))

    def clause(self, text: str) -> str:
        """Return what somebody did or saw, or quote it."""
        return phrase(self.trade, clean(text)) or self._sentence_as_said(ENGLISH.clause(text))

    def finding(self, fact: Finding) -> str:
        """Say in which state a thing was found."""
        what, found = clean(fact.what), clean(fact.state_found)
        if not what or not found:
            return self.words(what or found)
        thing, told = self._noun(what), self._state(fact)
        where = self._behind(fact.where, what)
        if told is None:
            denied = f"not {found}" if self._is_denied(fact) else found
            named = f"{thing.text}{where}"
            return self._say("finding-quoted", thing=named, said=self._as_said(denied))
        if found.lower() in ("none", "no"):
            none = self.trade.grammar.none(thing)
            return self._say("finding-none", what=f"{none}{where}")
        is_not = told.kind == "is" and self._is_denied(fact)
        message = "finding-is-not" if is_not else f"finding-{told.kind}"
        is_new = what.split()[0].lower() in INDEFINITE
        named = self.trade.grammar.one(thing) if is_new else self.trade.grammar.the(thing)
        subject = f"{named}{where}"
        return self._say(message, thing=subject, state=told.text, number=HOW_MANY[thing.plural])

    def _state(self, fact: Finding) -> Told | None:
        found = clean(fact.state_found)
        if found.lower() in ("none", "no"):
            return Told("is", "")
        told = state(self.trade, found, self._noun(fact.what))
        if told is None or told.kind in ("is", "lacks") or not self._is_denied(fact):
            return told
        if told.kind == "does":
            return Told("does", self.trade.grammar.denied(told.text))
        return state(self.trade, f"no {found}", self._noun(fact.what))

    def _is_denied(self, fact: Finding) -> bool:
        """Say whether a state is denied by the fact, and not by its own words."""
        first = fact.state_found.lower().split()[0]
        return fact.negated and first not in rules("english")["denials"]["words"]

    def _behind(self, where: str, thing: str) -> str:
        """Put a place behind a thing that does not name it."""
        text = clean(where)
        if key_words(text) <= key_words(thing):
            return ""
        told = place(self.trade, text)
        led = text.split()[0].lower() in self.trade["prepositions"]
        return f" {told}" if told and led else f" ({told or self._beside(text, thing)})"

    def _beside(self, where: str, thing: str) -> str:
        """Return a side that agrees with its thing ("left"), or the words as said."""
        modifier = self.trade["modifiers"].get(where.lower(), "")
        agreed = self.trade.grammar.agreed(modifier, self._noun(thing)) if modifier else ""
        return agreed or self.words(where)

    def cause(self, text: str) -> str:
        """Say why the machine failed."""
        said = clean(text)
        while said.partition(" ")[0].lower().strip(",") in rules("english")["announced"]["causes"]:
            said = said.partition(" ")[2]
        if not said:
            return ""
        return phrase(self.trade, said) or self._say("cause", said=self._named_cause(said))

    def _named_cause(self, said: str) -> str:
        thing = noun(self.trade, said)
        return self.trade.grammar.one(thing) if thing else self._as_said(said)

    def advice(self, text: str, urgency: str) -> str:
        """Say what is advised, and by when."""
        words, when = as_advice(clean(text)), clean(urgency)
        whole = words if when.lower() in words.lower() else f"{words} {when}"
        return self._advised(whole) or self._sentence_as_said(ENGLISH.advice(text, urgency))

    def _advised(self, words: str) -> str:
        """Translate a verb, its thing and the moments behind it, or a phrase."""
        known = phrase(self.trade, words)
        parts = words.lower().rstrip(".").split()
        if known or not parts or parts[0] not in self.trade["verbs"]:
            return known
        for end in range(len(parts), 1, -1):
            thing = noun(self.trade, " ".join(parts[1:end]))
            rest = " ".join(parts[end:])
            when = phrase(self.trade, rest) or place(self.trade, rest)
            if thing and (when or not rest):
                verb = _plain(self.trade["verbs"][parts[0]])
                return f"{self._on(verb, thing, parts[1])} {when}".strip()
        return ""

    def _on(self, verb: str, thing: Noun, first: str) -> str:
        """Put a thing behind a verb, with the article that it was said with."""
        counted = first in ("a", "an")
        named = self.trade.grammar.one(thing) if counted else self.trade.grammar.the(thing)
        start, _, last = verb.rpartition(" ")
        if last in ("de", "a", "à"):
            return f"{start} {self.trade.grammar.joined(last, named)}"
        return f"{verb} {named}"

    def decision(self, fact: Decision) -> str:
        """Say what was chosen, over what and why."""
        if not clean(fact.chosen):
            return ""
        others = [self.words(other) for other in fact.alternatives if clean(other)]
        over = listed(others, self.code, "or")
        because = clean(fact.because).removeprefix("because ")
        told = self._say("decision", chosen=self.words(fact.chosen))
        told += self._say("decision-over", others=over) if over else ""
        return told + (self._say("decision-because", why=self.words(because)) if because else "")

    def wiring(self, fact: Wiring) -> str:
        """Say which wire runs from where to where, and what it is for."""
        ends = {"from": fact.from_point, "to": fact.to_point, "through": fact.connector}
        way = [self._end(word, end) for word, end in ends.items() if clean(end)]
        if not way:
            return ""
        colour = self._colour(fact.colour)
        told = self._say("wire", colour=colour, way=" ".join(way))
        return told + (self._say("wire-for", use=self.words(fact.purpose)) if fact.purpose else "")

    def _end(self, word: str, end: str) -> str:
        grammar, thing = self.trade.grammar, self._noun(end)
        named = grammar.one(thing) if word == "through" else grammar.the(thing)
        return grammar.joined(self.trade["words"][f"wire_{word}"], named)

    def _colour(self, colour: str) -> str:
        if not clean(colour):
            return ""
        told = state(self.trade, clean(colour), Noun(""))
        return f" {told.text}" if told else f" {self._as_said(colour)}"

    def deed(self, action: Action, readings: Sequence[Reading]) -> Deed:
        """Say what was done, to what, with what, and to which figures."""
        key = clean(action.verb).lower()
        verb = self._verb(key, action.object, readings)
        if not verb:
            return Deed(self._unknown_deed(action, readings), "", closed=True)
        thing, done = self._noun(action.object), self._past(verb)
        tail = self._using(action.using) + self._figures(action, readings)
        named = self._on(done, thing, "") if clean(action.object) else done
        number, gender = HOW_MANY[thing.plural], thing.gender
        again = self._say("again", verb=done, number=number, gender=gender) + tail
        again = "" if done.endswith((" de", " a", " à", " sur")) else again
        where = self._behind(action.where, action.object)
        return Deed(f"{named}{where}{tail}", again, bool(readings))

    def _past(self, verb: str) -> str:
        """Return the word for what we did; a verb may have its own behind a bar."""
        first, space, rest = verb.partition(" ")
        own, _, other = first.partition("|")
        return (other or self.trade.grammar.past(own)) + space + rest

    def _verb(self, verb: str, thing: str, readings: Sequence[Reading]) -> str:
        """Return a verb; with an amount, or without a figure, it may have words of its own."""
        verbs = self.trade["verbs"]
        fluid = bool(clean(thing)) and self.trade.is_amount(clean(thing))
        own = f"{verb} amount" if fluid else "" if readings else f"{verb} bare"
        return verbs.get(own, verbs.get(verb, ""))

    def _unknown_deed(self, action: Action, readings: Sequence[Reading]) -> str:
        return self._say("deed-quoted", said=self._as_said(ENGLISH.deed(action, readings).named))

    def _using(self, using: str) -> str:
        text = clean(using)
        if not text:
            return ""
        led = text.split()[0].lower() in self.trade["prepositions"]
        told = place(self.trade, text if led else f"with {text}")
        return f" {told}" if told else f" ({self._as_said(text)})"

    def _figures(self, action: Action, readings: Sequence[Reading]) -> str:
        if not readings:
            return ""
        aim = rules("english")["aims"].get(action.verb.lower(), {})
        figures = [reading_figure(reading, self.code) for reading in readings]
        if aim:
            frame = "to-torque" if aim.get("torque") else "to-value"
            return self._say(frame, figures=listed(figures, self.code))
        named = [
            figure if key_words(action.object) <= key_words(reading.what)
            else f"{self.name(reading.what)} {figure}"
            for reading, figure in zip(readings, figures, strict=True)
        ]  # fmt: skip
        return self._say("with-figures", figures=listed(named, self.code))


def _plain(verb: str) -> str:
    """Return the infinitive of "déposer" or "remettre|remis en état"."""
    first, space, rest = verb.partition(" ")
    return first.partition("|")[0] + space + rest

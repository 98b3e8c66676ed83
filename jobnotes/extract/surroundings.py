"""What is said around a figure: where on the machine, under which condition, before or after."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from jobnotes.extract.lexicon import Tag, tag_of
from jobnotes.extract.numbered import labels
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import thing_in
from jobnotes.extract.vocabulary import rules, words
from jobnotes.numbers.lexicon import words as number_words
from jobnotes.numbers.phrases import Phrases

NAMING = Tag.HEAD | Tag.MODIFIER | Tag.ASPECT
Phase = Literal["", "before", "after"]


@dataclass(frozen=True, slots=True)
class Place:
    """Tokens `start` to `stop` that say where or when, and their text."""

    start: int
    stop: int
    text: str


@cache
def _phrases(section: str, name: str) -> Phrases:
    return Phrases(rules("measures")[section][name])


@cache
def _filler() -> frozenset[str]:
    return frozenset(rules("measures")["filler"]["words"])


@cache
def _first_words() -> frozenset[str]:
    numbered = rules("measures")["where"]["numbered"]
    lists = (_phrases("where", "leads"), _phrases("where", "words"))
    return frozenset(word for phrases in lists for word in phrases.first_words) | set(numbered)


@cache
def _is_said(token: str) -> bool:
    """Tell a filler, or a word that can name a component."""
    return token in _filler() or bool(tag_of(token) & NAMING)


def where_in(talk: Talk, start: int, stop: int) -> list[Place]:
    """Return the places named within tokens start to stop: sides, numbers, "at the gun"."""
    tokens = words(talk)
    named = labels(talk)
    found: list[Place] = []
    at = start
    while at < stop:
        if at in named:
            found.append(Place(at, at + 1, named[at]))
        elif tokens[at] not in _first_words() and len(tokens[at]) > 1:
            at += 1
            continue
        end = _where_end(talk, tokens, at, stop)
        if end > at:
            found.append(Place(at, end, " ".join(tokens[at:end])))
        at = max(end, at + 1)
    return found


def _where_end(talk: Talk, tokens: Sequence[str], at: int, stop: int) -> int:
    lead = _phrases("where", "leads").end(tokens, at)
    if lead > at:
        thing = thing_in(talk, lead, min(lead + 6, stop))
        if thing is not None and thing.start <= lead + 1:
            return thing.stop
    end = _phrases("where", "words").end(tokens, at)
    if end > at:
        return end if end <= stop else at
    if tokens[at] in rules("measures")["where"]["numbered"]:
        numbers = number_words("digits")
        if at + 1 < stop and (tokens[at + 1] in numbers or tokens[at + 1].isdigit()):
            return at + 2
    return _terminals(tokens, at, stop)


def _terminals(tokens: Sequence[str], at: int, stop: int) -> int:
    """Read "a to b" and "l one to l two" between two terminals."""
    if len(tokens[at]) != 1 or not tokens[at].isalpha() or at + 2 >= stop:
        return at
    if tokens[at + 1] == "to" and len(tokens[at + 2]) == 1 and tokens[at + 2].isalpha():
        return at + 3
    return at


def when_in(talk: Talk, start: int, stop: int) -> list[Place]:
    """Return the conditions named within tokens start to stop."""
    tokens = words(talk)
    found: list[Place] = []
    at = start
    phrases = _phrases("when", "words")
    while at < stop:
        end = phrases.end(tokens, at)
        if at < end <= stop:
            found.append(Place(at, end, " ".join(tokens[at:end])))
        at = max(end, at + 1)
    return found


def phase_in(talk: Talk, start: int, stop: int) -> Phase:
    """Return "after" or "before" by the nearest word that tells, or nothing."""
    tokens = words(talk)
    for place in range(stop, start, -1):
        if _phrases("when", "after").begin(tokens, place) < place:
            return "after"
        if _phrases("when", "before").begin(tokens, place) < place:
            return "before"
    return ""


def unexplained(talk: Talk, start: int, stop: int, known: set[int]) -> int:
    """Count the words within tokens start to stop that say something not accounted for.

    `known` holds the tokens of figures and cues; fillers, places, conditions and names of
    components are accounted for.
    """
    tokens = words(talk)
    explained = set(known)
    for place in (*where_in(talk, start, stop), *when_in(talk, start, stop)):
        explained |= set(range(place.start, place.stop))
    return sum(1 for at in range(start, stop) if at not in explained and not _is_said(tokens[at]))


def says_nothing(talk: Talk, start: int, stop: int) -> bool:
    """Tell whether only fillers stand within tokens start to stop."""
    return all(token in _filler() for token in words(talk)[start:stop])


def content_words(talk: Talk, start: int, stop: int) -> frozenset[str]:
    """Return the words that can tell one measurement from another."""
    told = (token for token in words(talk)[start:stop] if token.isalpha())
    return frozenset(t for t in told if t not in _filler() and t not in rules("specs")["sources"])


def follows_change(talk: Talk, place: int) -> bool:
    """Tell whether "fell to", "I got", "reads" or the like comes straight before a token."""
    return _phrases("change", "verbs").begin(words(talk), place) < place

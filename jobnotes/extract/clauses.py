"""Utterances cut into clauses: at marks, and at a conjunction before a new statement."""

from collections.abc import Iterator
from dataclasses import dataclass

from jobnotes.extract.lexicon import NONE, Tag, tags
from jobnotes.extract.running_on import PREDICATE, runs_on
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, once_a_talk, words

OPENS = group("clauses", "opens")
ENDS = group("clauses", "ends")
LAYOUT = frozenset(
    (
        ("new", "line"),
        ("new", "paragraph"),
        ("next", "line"),
        ("comma",),
        ("full", "stop"),
        ("period",),
    )
)
HESITATION = group("clauses", "hesitation")
SUBJECTS = group("clauses", "subjects")


@dataclass(frozen=True, slots=True)
class Clause:
    """Tokens `start` to `stop` (stop excluded) of one utterance; `link` is the word that led in."""

    start: int
    stop: int
    utterance: int
    link: str = ""


@once_a_talk
def clauses(talk: Talk) -> tuple[Clause, ...]:
    """Return every clause in order; leading fillers ("okay, so") belong to none."""
    found: list[Clause] = []
    for number, start in enumerate(talk.starts):
        stop = talk.starts[number + 1] if number + 1 < len(talk.starts) else len(talk.doc)
        for first, last in _between_marks(talk, start, stop):
            found += _clauses(talk, number, first, last)
    return tuple(found)


def _between_marks(talk: Talk, start: int, stop: int) -> Iterator[tuple[int, int]]:
    texts = words(talk)
    first = start
    for place in range(start, stop):
        if texts[place] in ENDS and not _hesitates(talk, place, first, stop):
            yield first, place
            first = place + 1
    yield first, stop


def _hesitates(talk: Talk, place: int, first: int, stop: int) -> bool:
    """Tell the marks of "it's, um, cracked", which end no statement."""
    texts, kinds = words(talk), tags(talk)
    if texts[place] != ",":
        return False
    open_end = Tag.VERB | Tag.COPULA | Tag.DETERMINER | Tag.PREPOSITION | Tag.HAVE
    if texts[place + 1 : place + 2] and texts[place + 1] in HESITATION:
        before = kinds[place - 1] if place > first else NONE
        return bool(before & open_end) and not before & Tag.HEAD and place + 2 < stop
    after_it = place - 2 > first and texts[place - 1] in HESITATION and texts[place - 2] == ","
    return after_it and _hesitates(talk, place - 2, first, stop)


def _clauses(talk: Talk, number: int, start: int, stop: int) -> Iterator[Clause]:
    """Cut between two marks at conjunctions; what is left of "and" needs a predicate of its own."""
    texts, kinds = words(talk), tags(talk)
    first, link, seen = start, "", NONE
    for place in range(start, stop):
        if place > first and _cuts(texts[place], place, stop, seen, texts, kinds):
            yield from _clause(talk, number, first, place, link)
            first, link, seen = place + 1, texts[place], NONE
        elif place > first and runs_on(texts, kinds, first, place, stop, seen):
            yield from _clause(talk, number, first, place, link)
            first, link, seen = place, "", NONE
        seen |= kinds[place]
    yield from _clause(talk, number, first, stop, link)


def _cuts(
    text: str, place: int, stop: int, seen: int, texts: tuple[str, ...], kinds: tuple[int, ...]
) -> bool:
    if text in OPENS:
        return True
    if text not in ("and", "or") or texts[place - 1 : place + 2] == ("coming", "and", "going"):
        return False
    following = _skip_adverbs(kinds, place + 1, stop)
    if following == stop or (following + 1 == stop and not seen & PREDICATE):
        return False
    opens = (place + 1, following)
    if texts[following] == "found" or any(_opens_statement(texts, kinds, n, stop) for n in opens):
        return True
    if not seen & (PREDICATE | Tag.STATE | Tag.BEHAVIOUR):
        return False
    if texts[following] in SUBJECTS or kinds[following] & PREDICATE & ~Tag.FAULT:
        return True
    if kinds[following] & Tag.FAULT and not kinds[following] & (Tag.STATE | Tag.HEAD | Tag.DEFECT):
        return True
    return _has_predicate(texts, kinds, following, stop)


def _opens_statement(texts: tuple[str, ...], kinds: tuple[int, ...], place: int, stop: int) -> bool:
    """Tell "it's", "they were" and the like, which begin a statement whatever came before."""
    stated = Tag.COPULA | Tag.NEGATION
    return texts[place] in SUBJECTS and place + 1 < stop and bool(kinds[place + 1] & stated)


def _skip_adverbs(kinds: tuple[int, ...], place: int, stop: int) -> int:
    while (
        place < stop and kinds[place] & (Tag.ADVERB | Tag.FILLER) and not kinds[place] & PREDICATE
    ):
        place += 1
    return place


def _has_predicate(texts: tuple[str, ...], kinds: tuple[int, ...], start: int, stop: int) -> bool:
    """Look ahead to the next "and" for a verb after a noun ("and the seal is torn")."""
    verbal = Tag.COPULA | Tag.HAVE | Tag.LINKING | Tag.STATE | Tag.VERB | Tag.FAULT
    for place in range(start + 1, stop):
        if texts[place] in ("and", "but"):
            return False
        if kinds[place] & verbal and not (
            kinds[place] & (Tag.HEAD | Tag.MODIFIER) and not kinds[place] & Tag.COPULA
        ):
            return True
    return False


def _clause(talk: Talk, number: int, start: int, stop: int, link: str) -> Iterator[Clause]:
    texts, kinds = words(talk), tags(talk)
    while start < stop and (kinds[start] & Tag.FILLER or kinds[start] == Tag.PUNCTUATION):
        link = texts[start] if texts[start] in OPENS or texts[start] == "and" else link
        start += 1
    if start < stop and texts[start:stop] not in LAYOUT:
        yield Clause(start, stop, number, link)

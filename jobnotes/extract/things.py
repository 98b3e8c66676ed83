"""The components named in a talk: which noun phrase is meant, under its usual trade name."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.lexicon import FUNCTION, Tag, tags
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, plural, rules, singular_of, words

LONGEST = 5  # words; longer names are not said in one breath


@dataclass(frozen=True)
class Thing:
    """A component as named: tokens `start` to `stop` (stop excluded) and its trade name."""

    start: int
    stop: int
    name: str


def thing_before(talk: Talk, token: int) -> Thing | None:
    """Return the nearest component that ends before or at `token`, also in earlier utterances."""
    place = bisect_right(_stops(talk), token)
    return things(talk)[place - 1] if place else None


def thing_in(talk: Talk, start: int, stop: int) -> Thing | None:
    """Return the last component named wholly within tokens `start` to `stop` (stop excluded)."""
    found = thing_before(talk, stop)
    return found if found and found.start >= start else None


def things_between(talk: Talk, start: int, stop: int) -> tuple[Thing, ...]:
    """Return the components named wholly within tokens `start` to `stop` (stop excluded)."""
    first = bisect_left(things(talk), start, key=lambda thing: thing.start)
    return things(talk)[first : bisect_right(_stops(talk), stop)]


@once_a_talk
def things(talk: Talk) -> tuple[Thing, ...]:
    """Return every component named, in order, without overlaps."""
    fuller: dict[str, str] = {}
    return tuple(
        Thing(start, stop, _name(talk, start, stop, fuller)) for start, stop in _spans(talk)
    )


@once_a_talk
def _stops(talk: Talk) -> tuple[int, ...]:
    return tuple(thing.stop for thing in things(talk))


def _spans(talk: Talk) -> Iterator[tuple[int, int]]:
    """Give the runs of naming words that name a component."""
    start = last_head = -1
    breaks = frozenset(talk.starts)
    for place, kind in enumerate(tags(talk)):
        if place in breaks or not names(talk, place, start):
            yield from _span(talk, start, last_head, place, place in breaks)
            start = last_head = -1
        if start < 0 and names(talk, place, -1):
            start = place
        if start >= 0 and kind & Tag.HEAD:
            last_head = place
    yield from _span(talk, start, last_head, len(talk.doc), True)


def _span(
    talk: Talk, start: int, last_head: int, stop: int, ended: bool
) -> Iterator[tuple[int, int]]:
    """Cut a run after its last head; a noun of no list counts if it is said to be in some state."""
    if start < 0:
        return
    unlisted = tags(talk)[stop - 1] == Tag.UNKNOWN and not ended and _stated(talk, stop)
    if unlisted or last_head >= 0:
        end = stop if unlisted else last_head + 1
        yield max(start, end - LONGEST), end


def _stated(talk: Talk, place: int) -> bool:
    """Tell whether a state follows: "headset was loose", "grommet split"."""
    kinds = tags(talk)[place : place + 3]
    if kinds[0] & Tag.STATE:
        return True
    later = any(kind & Tag.STATE for kind in kinds[1:])
    return bool(kinds[0] & Tag.COPULA) and later


def names(talk: Talk, place: int, start: int) -> bool:
    """Tell whether a token can stand in the name that begins at token `start` (-1: none yet)."""
    kind, text = tags(talk)[place], words(talk)[place]
    if kind & FUNCTION or text in _never() or _describes(talk, place):
        return False
    few = words(talk)[max(place - 1, 0)] in ("a", "wee", "little", "bit")
    if text == "bit" and (few or words(talk)[place + 1 : place + 2] == ("of",)):
        return False
    if text in ("bin", "box") and words(talk)[max(place - 2, 0) : place] == ("in", "the"):
        return False  # where the old part went
    if text == "number":
        return place + 1 < len(talk.doc) and bool(tags(talk)[place + 1] & Tag.NUMBER)
    if kind & Tag.HEAD:
        return not _is_unit(talk, place) and not (kind & Tag.VERB and _acts(talk, place, start))
    if kind & Tag.NUMBER:
        return _is_ordinal(talk, place)
    if kind & (Tag.MODIFIER | Tag.ASPECT):
        return not (kind & Tag.VERB and start < 0)
    if kind & Tag.DEFECT or (kind & (Tag.BEHAVIOUR | Tag.FAULT) and text.endswith("ing")):
        return bool(place + 1 < len(talk.doc) and tags(talk)[place + 1] & Tag.HEAD)
    named = kind == Tag.UNKNOWN and not text.endswith(("ed", "ing"))
    return named and (len(text) > 1 or text == "o")  # "o" of "o-ring"; other letters spell numbers


def _describes(talk: Talk, place: int) -> bool:
    """Tell "light" of "light score" from the lamp."""
    after = tags(talk)[place + 1] if place + 1 < len(talk.doc) else 0
    return (
        words(talk)[place] == "light"
        and bool(after & (Tag.DEFECT | Tag.STATE))
        and not after & Tag.HEAD
    )


def _acts(talk: Talk, place: int, start: int) -> bool:
    """Tell "set the gap" and "gap set to ten" from the "set" of "brush set"."""
    after = tags(talk)[place + 1] if place + 1 < len(talk.doc) else 0
    return start < 0 or bool(after & (Tag.PREPOSITION | Tag.NUMBER | Tag.DETERMINER))


def _is_unit(talk: Talk, place: int) -> bool:
    """Tell "foot" of "foot pounds", "bar" after a number, "fluid" of "fluid ounces"."""
    text = words(talk)[place]
    after = tags(talk)[place + 1] if place + 1 < len(talk.doc) else 0
    before = tags(talk)[place - 1] if place else 0
    return (text in ("foot", "fluid") and bool(after & Tag.UNIT)) or (
        text in ("bar", "feet") and bool(before & Tag.NUMBER)
    )


def _is_ordinal(talk: Talk, place: int) -> bool:
    """Tell a number that tells pieces apart: "number two valve", "cylinder three"."""
    return bool(place and words(talk)[place - 1] == "number")


@cache
def _never() -> frozenset[str]:
    return frozenset(rules("things")["never"]["words"].split())


def heard(talk: Talk, start: int, stop: int) -> str:
    """Return the words of some tokens as heard, without marks: "o-ring", "PTO switch"."""
    if stop <= start:
        return ""
    first, last = talk.word_of[start], talk.word_of[stop - 1]
    whole = (start == 0 or talk.word_of[start - 1] != first) and (
        stop == len(talk.word_of) or talk.word_of[stop] != last or not words(talk)[stop].isalnum()
    )
    if not whole or words(talk)[min(stop, len(words(talk)) - 1)].startswith("'"):
        return " ".join(words(talk)[start:stop])
    return " ".join(_plain(word.text) for word in talk.job.words[first : last + 1])


def _plain(text: str) -> str:
    """Strip marks, and the capital of a sentence but not those of an abbreviation."""
    bare = text.strip(".,;:!?\"'()")
    return bare if bare.isupper() and len(bare) > 1 else bare.lower()


def _name(talk: Talk, start: int, stop: int, fuller: dict[str, str]) -> str:
    """Return the trade name; a bare short form takes the fuller name said before it."""
    texts = words(talk)[start:stop]
    singular = singular_of(texts[-1])
    short = rules("things")["bare"]
    if len(texts) > 1:
        if singular in short and texts[0] not in _sides():
            fuller[singular] = " ".join([*texts[:-1], singular])
        return heard(talk, start, stop)
    if singular not in short or _beside_other(talk, start, singular):
        return texts[0]
    usual = fuller.get(singular, short[singular])
    return usual if texts[0] == singular else plural(usual)


def _beside_other(talk: Talk, start: int, singular: str) -> bool:
    """Tell the plug of a cord from the spark plug by what else the utterance names."""
    others = rules("things")["bare_unless"].get(singular, "").split()
    said = talk.utterance(talk.utterance_of[start])
    return any(text in others for text in words(talk)[said.start : said.end])


@cache
def _sides() -> frozenset[str]:
    return frozenset(rules("things")["sides"]["words"].split())

"""Noun phrases: where one ends, what it names, and what a pronoun stands for."""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.clauses import clauses
from jobnotes.extract.lexicon import NONE, Tag, tags
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, heard, thing_in, things, things_between
from jobnotes.extract.vocabulary import group, once_a_talk, rules, singular_of, words

INSIDE = Tag.HEAD | Tag.MODIFIER | Tag.ASPECT | Tag.UNKNOWN | Tag.STATE | Tag.DEFECT | Tag.NUMBER
ENDS = (
    Tag.PREPOSITION
    | Tag.COPULA
    | Tag.HAVE
    | Tag.NEGATION
    | Tag.MODAL
    | Tag.CONJUNCTION
    | Tag.PUNCTUATION
    | Tag.DETERMINER
    | Tag.LINKING
)
ELECTRICAL = group("nouns", "electrical")
STATED = 4  # tokens after a name within which its state is told
DENYING = group("nouns", "denying")
SETS = group("nouns", "sets")
INSTRUMENTS = group("nouns", "instruments")
POINTING = group("nouns", "pointing")
SIDES = group("nouns", "sides")
COMPOUNDING = group("nouns", "compounding")


@dataclass(frozen=True, slots=True)
class Noun:
    """A noun phrase: tokens, what it names, which of several ("left"), how many ("both")."""

    start: int
    stop: int
    name: str
    where: str = ""
    count: int = 0


def noun_at(talk: Talk, start: int, stop: int) -> Noun | None:
    """Return the noun phrase that begins at `start` (determiners passed over), if one does."""
    first = _past_lead(talk, start, stop)
    last = first
    kinds, texts = tags(talk), words(talk)
    while last < stop and _goes_on(talk, last, first):
        last += 1
    while last > first and kinds[last - 1] & Tag.NUMBER and not _ordinal(texts, last - 1):
        last -= 1
    named = Tag.HEAD | Tag.ASPECT | Tag.DEFECT
    while last > first + 1 and kinds[last - 1] & Tag.STATE and not kinds[last - 1] & named:
        last -= 1
    if last == first:
        return None
    carried = any(_carries(kinds[n]) for n in range(first, last)) or _told_of(talk, first, last)
    return noun(talk, first, last) if carried else None


def _told_of(talk: Talk, first: int, last: int) -> bool:
    """Tell "the ball was" and "the exhaust is", a name that else only modifies another."""
    kinds = tags(talk)
    article = first > 0 and words(talk)[first - 1] in ("the", "its", "that")
    modifies = bool(kinds[last - 1] & Tag.MODIFIER) and words(talk)[last - 1] not in SIDES
    return article and modifies and last < len(kinds) and bool(kinds[last] & Tag.COPULA)


def _past_lead(talk: Talk, place: int, stop: int) -> int:
    """Pass over what comes before the name: "the", "both", "all three", "a proper"."""
    kinds, texts, lead = tags(talk), words(talk), _lead()
    while place < stop and (
        kinds[place] & Tag.DETERMINER
        or texts[place] in lead
        or (kinds[place] & Tag.NUMBER and not kinds[place] & Tag.HEAD)
        or (texts[place] == "of" and place and kinds[place - 1] & (Tag.DETERMINER | Tag.NUMBER))
        or _is_rating(talk, place, stop)
        or (texts[place] in SETS and texts[place + 1 : place + 2] == ("of",))
        or (texts[place] == "of" and place and texts[place - 1] in SETS)
    ):
        place += 1
    return place


def _is_rating(talk: Talk, place: int, stop: int) -> bool:
    """Tell the unit of "a fifteen amp fuse", which is no reading."""
    kinds = tags(talk)
    rated = place and kinds[place] & Tag.UNIT and kinds[place - 1] & Tag.NUMBER
    return bool(rated) and place + 1 < stop and bool(kinds[place + 1] & (Tag.HEAD | Tag.MODIFIER))


def _goes_on(talk: Talk, place: int, first: int) -> bool:
    kind, text = tags(talk)[place], words(talk)[place]
    if text == "and":
        return place > first and _joins_modifiers(talk, place)
    if kind & ENDS and not kind & (Tag.HEAD | Tag.MODIFIER):
        return False
    if kind & Tag.VERB and not kind & (Tag.HEAD | Tag.MODIFIER | Tag.STATE | Tag.DEFECT):
        return False
    if kind & Tag.FAULT and place == first and place and words(talk)[place - 1] in DENYING:
        return True
    if kind & Tag.STATE and not kind & (Tag.HEAD | Tag.MODIFIER | Tag.DEFECT):
        named = Tag.HEAD | Tag.UNKNOWN | Tag.ASPECT
        told = place > first and (tags(talk)[place - 1] & named or text in ELECTRICAL)
        return not told and _before_noun(talk, place)
    if kind & Tag.NUMBER and not kind & (Tag.HEAD | Tag.MODIFIER):
        return _ordinal(words(talk), place)
    if kind & (Tag.PREPOSITION | Tag.ADVERB) and place > first and not kind & Tag.HEAD:
        return text in SIDES and bool(_after(talk, place) & (Tag.HEAD | Tag.MODIFIER))
    if kind & (Tag.FAULT | Tag.BEHAVIOUR) and not kind & INSIDE and place == first:
        denied = place > 0 and words(talk)[place - 1] in DENYING
        led = text.endswith("ing") or (place > 0 and bool(tags(talk)[place - 1] & Tag.DETERMINER))
        led = led or (text in COMPOUNDING and bool(_after(talk, place) & Tag.HEAD))
        return denied or (led and bool(_after(talk, place) & Tag.HEAD))
    if kind == Tag.UNKNOWN and text.endswith("ed"):
        return _before_noun(talk, place)
    return bool(kind & (INSIDE & ~Tag.NUMBER))


def _joins_modifiers(talk: Talk, place: int) -> bool:
    """Tell the "and" of "upper and lower bearings"."""
    before, after = tags(talk)[place - 1], _after(talk, place)
    return bool(before & after & Tag.MODIFIER) and not before & Tag.HEAD and not after & Tag.HEAD


def _before_noun(talk: Talk, place: int) -> bool:
    """Tell whether a state stands before what it describes ("chipped seat")."""
    return bool(
        _after(talk, place) & (Tag.HEAD | Tag.MODIFIER | Tag.UNKNOWN | Tag.ASPECT | Tag.DEFECT)
    )


def _after(talk: Talk, place: int) -> int:
    """Return the tags of the next token of the same utterance."""
    after = place + 1
    inside = after < len(talk.doc) and talk.utterance_of[after] == talk.utterance_of[place]
    return tags(talk)[after] if inside else NONE


def _ordinal(texts: tuple[str, ...], place: int) -> bool:
    return place > 0 and (texts[place - 1] == "number" or texts[place - 1] in ("cell", "cylinder"))


def _carries(kind: int) -> bool:
    if kind & Tag.HEAD:
        return True
    named = Tag.ASPECT | Tag.UNKNOWN | Tag.DEFECT | Tag.FAULT | Tag.BEHAVIOUR
    return bool(kind & named) and not kind & Tag.NOT_THING


@cache
def _lead() -> frozenset[str]:
    return frozenset(rules("things")["lead"]["words"].split())


def noun(talk: Talk, start: int, stop: int) -> Noun:
    """Name the tokens `start` to `stop`: a component by its trade name, other words as heard."""
    thing = thing_in(talk, start, stop)
    whole = thing if thing and thing.stop == stop else None
    said = heard(talk, start, whole.start if whole else stop)
    alias = rules("things")["aliases"].get(words(talk)[stop - 1]) if whole is None else None
    said = " ".join([*said.split()[:-1], alias]) if alias else said
    named = [said, whole.name if whole else ""]
    return Noun(start, stop, " ".join(filter(None, named)), _where(talk, start, stop))


def _where(talk: Talk, start: int, stop: int) -> str:
    """Return the side or number that tells this piece from its fellows."""
    texts = words(talk)
    told = [text for text in texts[start:stop] if text in SIDES]
    if "number" in texts[start:stop]:
        place = texts.index("number", start)
        told += texts[place : min(place + 2, stop)]
    if texts[max(start - 1, 0)] == "both":
        told.insert(0, "both")
    return " ".join(told)


def nouns_from(talk: Talk, start: int, stop: int) -> Iterator[Noun]:
    """Give the noun phrases joined by "and" from `start` on."""
    while start < stop:
        found = noun_at(talk, start, stop)
        if not found:
            return
        yield found
        start = found.stop
        if start >= stop or words(talk)[start] not in ("and", "plus", "or"):
            return
        start += 1


@once_a_talk
def _first_things(talk: Talk) -> tuple[tuple[int, Thing], ...]:
    """Return for each clause that names a component its utterance and the one it is about."""
    listed = iter(things(talk))
    thing = next(listed, None)
    found: list[tuple[int, Thing]] = []
    for clause in clauses(talk):
        while thing and thing.start < clause.start:
            thing = next(listed, None)
        while thing and thing.stop <= clause.stop and thing.name.split()[-1] in _instruments():
            thing = next(listed, None)
        if thing and thing.stop <= clause.stop:
            found.append((clause.utterance, _with_part(talk, thing)))
    return tuple(found)


@cache
def _instruments() -> frozenset[str]:
    """Return what one measures and works with, which "it" seldom means."""
    return frozenset(rules("actions")["instruments"]["words"].split()) | INSTRUMENTS


def _with_part(talk: Talk, whole: Thing) -> Thing:
    """Name the part of a whole: "hose connector's o-ring"."""
    if words(talk)[whole.stop : whole.stop + 1] != ("'s",):
        return whole
    part = thing_in(talk, whole.stop + 1, min(whole.stop + 3, len(talk.doc)))
    if part is None or part.start != whole.stop + 1:
        return whole
    return Thing(whole.start, part.stop, f"{whole.name} {part.name}")


def antecedent(talk: Talk, token: int) -> Thing | None:
    """Return the component that "it" at `token` means.

    Within an utterance that is what the clause before is about; across utterances it is what the
    utterance before began with.
    """
    named = _first_things(talk)
    place = bisect_right(named, token, key=lambda pair: pair[1].stop)
    if not place:
        return None
    number, thing = named[place - 1]
    if number == talk.utterance_of[token]:
        return thing
    while place > 1 and named[place - 2][0] == number:
        place -= 1
    return named[place - 1][1]


def with_whole(talk: Talk, what: Noun, place: int) -> Noun:
    """Name the whole before a piece said alone: "tip's worn, the hole's egg shaped"."""
    if " " in what.name or what.name not in _pieces_alone():
        return what
    meant = antecedent(talk, place)
    if meant is None or meant.stop > what.start or not _surely_whole(talk, what, meant):
        return what
    if set(meant.name.split()) & {what.name, singular_of(what.name)}:
        return what
    return Noun(what.start, what.stop, f"{singular_of(meant.name)} {what.name}", what.where)


def _surely_whole(talk: Talk, what: Noun, meant: Thing) -> bool:
    """Tell a whole named in this breath, or as the only thing in the breath before."""
    apart = talk.utterance_of[what.start] - talk.utterance_of[meant.start]
    said = talk.utterance(talk.utterance_of[meant.start])
    alone = len({thing.name for thing in things_between(talk, said.start, said.end)}) == 1
    return apart == 0 or (apart == 1 and alone)


@cache
def _pieces_alone() -> frozenset[str]:
    return frozenset(rules("things")["pieces_alone"]["words"].split())


def last_bad(talk: Talk, token: int) -> Thing | None:
    """Return the component last told to be in a bad state, here or in the utterance before."""
    here = talk.utterance_of[token]
    for number, thing in reversed(_first_things(talk)[: _before(talk, token)]):
        if here - number > 1:
            return None
        said = tags(talk)[thing.stop : thing.stop + STATED]
        if any(kind & Tag.STATE and not kind & (Tag.GOOD | Tag.WEAK) for kind in said):
            return thing
    return None


def _before(talk: Talk, token: int) -> int:
    return bisect_right(_first_things(talk), token, key=lambda pair: pair[1].stop)


def plain(talk: Talk, found: Noun) -> bool:
    """Tell whether a noun phrase can be worked on: no person, time, place or idiom."""
    kind = tags(talk)[found.stop - 1]
    return not kind & (Tag.NOT_THING | Tag.PERSON | Tag.UNIT) or bool(kind & Tag.HEAD)

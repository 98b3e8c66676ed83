"""Which parts words such as "fitted" speak of: those named after them, before them, or meant."""

from bisect import bisect_left
from functools import cache

from jobnotes.extract.lexicon import FUNCTION, Tag, tag_of
from jobnotes.extract.spelled import Spelled, spelled
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, things
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.numbers.phrases import Phrases

Found = tuple[tuple[Thing, ...], tuple[Spelled, ...], str, bool]
NOTHING: Found = ((), (), "", False)


@cache
def word_set(name: str) -> frozenset[str]:
    """Return a set of words of parts.toml."""
    return frozenset(rules("parts")["words"][name])


@cache
def phrase_list(name: str) -> Phrases:
    """Return a list of phrases of parts.toml."""
    return Phrases(rules("parts")["words"][name])


@once_a_talk
def _thing_starts(talk: Talk) -> tuple[int, ...]:
    return tuple(thing.start for thing in things(talk))


@once_a_talk
def _thing_by_stop(talk: Talk) -> dict[int, Thing]:
    return {thing.stop: thing for thing in things(talk)}


@once_a_talk
def number_by_start(talk: Talk) -> dict[int, Spelled]:
    """Return the part numbers by their first token."""
    return {number.start: number for number in spelled(talk) if number.is_part}


@once_a_talk
def _number_by_stop(talk: Talk) -> dict[int, Spelled]:
    return {number.stop: number for number in spelled(talk) if number.is_part}


def objects_after(talk: Talk, place: int, end: int) -> Found:
    """Read the objects after a verb: "the seal kit, bearing, cord and gland ring"."""
    objects: list[Thing] = []
    numbers: list[Spelled] = []
    new = False
    tokens = words(talk)
    while place < end:
        begin = place
        while place < end and tokens[place] in word_set("between") - {
            ",",
            "and",
            "it",
            "they",
            "them",
            "is",
        }:
            new = new or tokens[place] in ("new", "fresh", "a", "an")
            follows = place + 1 < end and thing_at(talk, place + 1)
            if phrase_list("pronouns").end(tokens, place) > place and not follows:
                break
            place += 1
        place = _past_rating(talk, place, end)
        if place == end:
            break
        thing, number = _thing_near(talk, place, end), number_by_start(talk).get(place)
        if number is not None:
            numbers.append(number)
            place = number.stop
        elif thing is not None:
            objects.append(thing)
            place = thing.stop
        else:
            pronoun = _pronoun_at(talk, place, end) or _pronoun_at(talk, begin, end)
            return tuple(objects), tuple(numbers), "" if objects or numbers else pronoun, new
        place = _list_goes_on(talk, place, end)
        if not place:
            break
    return _without_pieces(talk, objects), tuple(numbers), "", new


def _without_pieces(talk: Talk, objects: list[Thing]) -> tuple[Thing, ...]:
    """Leave out the piston of "a piston and ring set", which is one part."""
    kept = [
        thing
        for thing, following in zip(objects, [*objects[1:], None], strict=False)
        if following is None
        or words(talk)[thing.stop] != "and"
        or following.start != thing.stop + 1
        or following.name.split()[-1] not in ("set", "kit")
        or " " not in following.name
    ]
    return tuple(kept)


def _past_rating(talk: Talk, place: int, end: int) -> int:
    """Pass over the "second ten amp" of a fuse."""
    rated = Tag.NUMBER | Tag.UNIT
    ahead = place
    while ahead < end and (tag_of(words(talk)[ahead]) & rated or words(talk)[ahead] == "second"):
        ahead += 1
    return ahead if ahead > place and thing_at(talk, ahead) else place


def thing_at(talk: Talk, place: int) -> Thing | None:
    """Return the component that begins at a token."""
    index = bisect_left(_thing_starts(talk), place)
    if index == len(things(talk)):
        return None
    thing = things(talk)[index]
    return thing if thing.start == place else None


def _thing_near(talk: Talk, place: int, end: int) -> Thing | None:
    """Return the component at a token, or right after one word that describes it."""
    thing = thing_at(talk, place)
    if thing is not None or place + 1 >= end or tag_of(words(talk)[place]) & FUNCTION:
        return thing
    return thing_at(talk, place + 1)


def _pronoun_at(talk: Talk, place: int, end: int) -> str:
    tokens = words(talk)
    stop = phrase_list("pronouns").end(tokens, place)
    if place < stop <= end:
        count = tokens[stop] if stop < end and tokens[place] == "all" else ""
        return " ".join([*tokens[place:stop], count]).strip()
    if place < end and tokens[place] == "all":
        return " ".join(tokens[place : place + 2])
    return ""


def _list_goes_on(talk: Talk, place: int, end: int) -> int:
    """Return where the next of a list begins after a comma or "and", or 0 when the list ends."""
    tokens = words(talk)
    begin = place
    while place < end and tokens[place] in (",", "and", "plus"):
        place += 1
    if place == begin or place >= end:
        return 0
    ahead = place
    while ahead < end and tokens[ahead] in ("the", "a", "an", "new", "both", "also", "two", "its"):
        ahead += 1
    known = thing_at(talk, ahead) or number_by_start(talk).get(ahead)
    return place if known else 0


def objects_before(talk: Talk, place: int, start: int) -> Found:
    """Read the objects before a verb: "idler and belt are in", "kit, HC40, went in"."""
    tokens = words(talk)
    objects: list[Thing] = []
    numbers: list[Spelled] = []
    joined = False
    at = place
    while at > start:
        while (
            at > start
            and tokens[at - 1] in word_set("between")
            and not (phrase_list("pronouns").begin(tokens, at) < at and not objects)
        ):
            at -= 1
        number, thing = _number_by_stop(talk).get(at), _thing_by_stop(talk).get(at)
        if number is not None:
            numbers.append(number)
            break
        if thing is None:
            break
        objects.append(thing)
        at = thing.start
        joined = joined or tokens[at - 1] == "and"
        if tokens[at - 1] not in ("and", "," if joined else "and") or at - 1 <= start:
            if at > start and tokens[at - 1] in word_set("between"):
                continue
            break
    pronoun = ""
    if not objects and not numbers:
        begin = phrase_list("pronouns").begin(tokens, at)
        pronoun = " ".join(tokens[begin:at]) if start <= begin < at else ""
    new = any(t in ("new", "fresh") for t in tokens[max(start, at - 3) : at + 1])
    return tuple(objects), tuple(numbers), pronoun, new


def said_before(talk: Talk, place: int, start: int) -> Found:
    """Take the component that the breath is about: "the key's fine, using it again"."""
    tokens = words(talk)
    at = place
    while at > start and tokens[at - 1] in ("it", "'s", "they", "'re", "it's", "that", "is"):
        at -= 1
    if at == start or tokens[at - 1] not in (",", ".", "so", "and", "but"):
        return NOTHING
    index = bisect_left(_thing_starts(talk), start)
    first = things(talk)[index : index + 1]
    return (first if first and first[0].stop <= at else ()), (), "", False

"""What was done with parts: "fitted both", "kit's in", "reused the screws", "back ordered"."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.lexicon import FUNCTION, tag_of
from jobnotes.extract.private import private_utterances
from jobnotes.extract.spelled import Spelled, spelled
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, things
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.numbers.phrases import Phrases
from jobnotes.record import PartStatus

STATUSES: tuple[PartStatus, ...] = (
    "quoted", "ordered", "reused", "discarded", "removed", "installed",
)  # fmt: skip
CLAUSE = 12  # tokens before an event in which "needs" or "if" makes it unreal
SPAN = 5  # tokens between "put" and its "in"


@dataclass(frozen=True, slots=True)
class PartEvent:
    """Words at tokens `start` to `stop` that say what was done, and to what.

    `objects` are components named, `numbers` part numbers said as the object, `pronoun` the word
    that stands for parts named earlier. `new` tells that a new one was spoken of; `weak` words
    ("kit's in") only tell of parts already known; `implied` ones say no more than "new".
    """

    start: int
    stop: int
    utterance: int
    status: PartStatus
    objects: tuple[Thing, ...]
    numbers: tuple[Spelled, ...]
    pronoun: str
    new: bool
    weak: bool
    implied: bool = False


@once_a_talk
def part_events(talk: Talk) -> tuple[PartEvent, ...]:
    """Return the events of all utterances that are not private, in order."""
    return tuple(
        event
        for utterance in range(len(talk.starts))
        if utterance not in private_utterances(talk)
        for event in _in_utterance(talk, utterance)
    )


@cache
def _phrases(status: str, side: str) -> Phrases:
    return Phrases(rules("parts")["status"][status][side])


@cache
def _first_words() -> frozenset[str]:
    sides = [_phrases(status, side) for status in STATUSES for side in ("before", "after")]
    found = {word for phrases in sides for word in phrases.first_words}
    return frozenset(found | _set("putting") | {"new", "fresh", "brand"})


@cache
def _set(name: str) -> frozenset[str]:
    return frozenset(rules("parts")["words"][name])


@cache
def _list(name: str) -> Phrases:
    return Phrases(rules("parts")["words"][name])


@once_a_talk
def _thing_starts(talk: Talk) -> tuple[int, ...]:
    return tuple(thing.start for thing in things(talk))


@once_a_talk
def _thing_by_stop(talk: Talk) -> dict[int, Thing]:
    return {thing.stop: thing for thing in things(talk)}


@once_a_talk
def _number_by_start(talk: Talk) -> dict[int, Spelled]:
    return {number.start: number for number in spelled(talk) if number.is_part}


@once_a_talk
def _number_by_stop(talk: Talk) -> dict[int, Spelled]:
    return {number.stop: number for number in spelled(talk) if number.is_part}


def _in_utterance(talk: Talk, utterance: int) -> Iterator[PartEvent]:
    said = bounds(talk, utterance)
    place = said.start
    while place < said.end:
        event = _at(talk, utterance, place, said.start, said.end)
        if event is None:
            place += 1
            continue
        if not _unreal(talk, event, said.start):
            yield event
        place = max([event.stop, *(thing.stop for thing in event.objects)])


def _at(talk: Talk, utterance: int, place: int, start: int, end: int) -> PartEvent | None:
    if words(talk)[place] not in _first_words():
        return None
    best = _longest(talk, place, end)
    split_off = _put_in(talk, place, end)
    if split_off is not None and (best is None or best[0] <= place + 1):
        found = _after(talk, place + 1, split_off - 1)
        found = _its_number(talk, place, split_off, end, found)
        return _event(talk, utterance, place, split_off, "installed", found)
    if best is not None:
        stop, status, side = best
        found = _after(talk, stop, end) if side == "before" else NOTHING
        slight = found == NOTHING
        found = _looked_for(talk, place, best, (start, end), found)
        if any(found[:3]):
            return _event(talk, utterance, place, stop, status, found, slight)
    return _new_one(talk, utterance, place, end)


def _longest(talk: Talk, place: int, end: int) -> tuple[int, PartStatus, str] | None:
    """Return where the longest words of a status stop, the status, and their side of the part."""
    best: tuple[int, PartStatus, str] | None = None
    for status in STATUSES:
        for side in ("before", "after"):
            stop = _phrases(status, side).end(words(talk), place)
            if place < stop <= end and (best is None or stop > best[0]):
                if side == "after" and not _ends_well(talk, place, stop, end):
                    continue
                best = stop, status, side
    return best


def _looked_for(
    talk: Talk,
    place: int,
    best: tuple[int, PartStatus, str],
    said: tuple[int, int],
    found: "Found",
) -> "Found":
    """Look for the objects before the words where none came after, then further off."""
    stop, status, _ = best
    start, end = said
    for look in (_before, _said_before):
        found = found if any(found[:3]) else look(talk, place, start)
    if status in ("installed", "ordered", "quoted") and not found[1]:
        found = _its_number(talk, place, stop, end, found)
    return found if any(found[:3]) else _understood(talk, status, start)


def _understood(talk: Talk, status: PartStatus, start: int) -> "Found":
    """Read "quoted at forty" of the part last told, "the old pack is ... for recycling" of it."""
    if status in ("quoted", "ordered"):
        return (), (), "it", False
    thing = next((t for n in range(start, start + 4) if (t := _thing_at(talk, n))), None)
    old = "old" in words(talk)[start : start + 3]
    return (
        NOTHING if status != "discarded" or not old or thing is None else ((thing,), (), "", False)
    )


def _its_number(talk: Talk, place: int, stop: int, end: int, found: "Found") -> "Found":
    """Read "replaced, QX4" and "got one on order, QX4": the number named next is what is meant."""
    one = words(talk)[place - 1 : place] in (("one",), ("ones",)) or found[2] in ("one", "ones")
    if any(found[:3]) and not one:
        return found
    following = next((n for n in range(stop, end) if n in _number_by_start(talk)), None)
    return found if following is None else ((), (_number_by_start(talk)[following],), "", True)


Found = tuple[tuple[Thing, ...], tuple[Spelled, ...], str, bool]
NOTHING: Found = ((), (), "", False)


def _event(
    talk: Talk,
    utterance: int,
    start: int,
    stop: int,
    status: PartStatus,
    found: Found,
    slight: bool = False,
) -> PartEvent:
    objects, numbers, pronoun, new = found
    weak = slight and " ".join(words(talk)[start:stop]) in _set("weak")
    return PartEvent(start, stop, utterance, status, objects, numbers, pronoun, new, weak)


def _ends_well(talk: Talk, place: int, stop: int, end: int) -> bool:
    """Tell "new bearing in" from "bearing in the hub": a short word must end its clause."""
    following = words(talk)[stop] if stop < end else ""
    if words(talk)[stop - 1] in _set("particles") or stop - place == 1:
        return following in _set("ends")
    return True


# --- which parts an event speaks of ---


def _after(talk: Talk, place: int, end: int) -> Found:
    """Read the objects after a verb: "the seal kit, bearing, cord and gland ring"."""
    objects: list[Thing] = []
    numbers: list[Spelled] = []
    new = False
    tokens = words(talk)
    while place < end:
        begin = place
        while place < end and tokens[place] in _set("between") - {
            ",",
            "and",
            "it",
            "they",
            "them",
            "is",
        }:
            new = new or tokens[place] in ("new", "fresh", "a", "an")
            follows = place + 1 < end and _thing_at(talk, place + 1)
            if _list("pronouns").end(tokens, place) > place and not follows:
                break
            place += 1
        if place == end:
            break
        thing, number = _thing_near(talk, place, end), _number_by_start(talk).get(place)
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
    return tuple(objects), tuple(numbers), "", new


def _thing_at(talk: Talk, place: int) -> Thing | None:
    index = bisect_left(_thing_starts(talk), place)
    if index == len(things(talk)):
        return None
    thing = things(talk)[index]
    return thing if thing.start == place else None


def _thing_near(talk: Talk, place: int, end: int) -> Thing | None:
    """Return the component at a token, or right after one word that describes it."""
    thing = _thing_at(talk, place)
    if thing is not None or place + 1 >= end or tag_of(words(talk)[place]) & FUNCTION:
        return thing
    return _thing_at(talk, place + 1)


def _pronoun_at(talk: Talk, place: int, end: int) -> str:
    tokens = words(talk)
    stop = _list("pronouns").end(tokens, place)
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
    known = _thing_at(talk, ahead) or _number_by_start(talk).get(ahead)
    return place if known else 0


def _before(talk: Talk, place: int, start: int) -> Found:
    """Read the objects before a verb: "idler and belt are in", "kit, HC40, went in"."""
    tokens = words(talk)
    objects: list[Thing] = []
    numbers: list[Spelled] = []
    at = place
    while at > start:
        while (
            at > start
            and tokens[at - 1] in _set("between")
            and not (_list("pronouns").begin(tokens, at) < at and not objects)
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
        if tokens[at - 1] not in ("and", ",") or at - 1 <= start:
            if at > start and tokens[at - 1] in _set("between"):
                continue
            break
    pronoun = ""
    if not objects and not numbers:
        begin = _list("pronouns").begin(tokens, at)
        pronoun = " ".join(tokens[begin:at]) if start <= begin < at else ""
    new = any(t in ("new", "fresh") for t in tokens[max(start, at - 3) : at + 1])
    return tuple(objects), tuple(numbers), pronoun, new


def _said_before(talk: Talk, place: int, start: int) -> Found:
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


def _put_in(talk: Talk, place: int, end: int) -> int | None:
    """Return where "put the brushes in" stops, its object standing between verb and particle."""
    tokens = words(talk)
    if tokens[place] not in _set("putting"):
        return None
    for at in range(place + 2, min(end, place + 2 + SPAN)):
        if tokens[at] in (",", ".", "back"):
            return None
        if tokens[at] in ("in", "on") and _ends_well(talk, place, at + 1, end):
            return at + 1
    return None


def _new_one(talk: Talk, utterance: int, place: int, end: int) -> PartEvent | None:
    """Read "new plug" as a part put in, where no other word says what became of it."""
    if words(talk)[place] not in ("new", "fresh", "brand"):
        return None
    found = _after(talk, place, end)[0][:1]
    stop = found[0].stop if found else place + 1
    if not found and (place + 1 == end or words(talk)[place + 1] == ","):
        found = _before(talk, place, talk.starts[utterance])[0][:1]
    numbers: tuple[Spelled, ...] = ()
    if not found or words(talk)[place + 1 : place + 2] == (",",):
        numbers = _its_number(talk, place, stop, end, NOTHING)[1]
    if not found and not numbers:
        return None
    return PartEvent(place, stop, utterance, "installed", found, numbers, "", True, False, True)


# --- was it done at all ---


@cache
def _unreal_words() -> Phrases:
    return Phrases(rules("parts")["words"]["unreal"])


def _unreal(talk: Talk, event: PartEvent, start: int) -> bool:
    """Tell work advised, denied, or done by somebody else."""
    if event.status in ("quoted", "removed"):
        return False
    tokens = words(talk)
    place = event.start
    earliest = max(start, event.start - CLAUSE)
    while place > earliest and tokens[place - 1] not in (",", ".", ";"):
        place -= 1
    stop = max([event.stop, *(thing.stop for thing in event.objects)])
    if event.status == "installed" and not event.pronoun and "with" in tokens[place : event.start]:
        return True
    end = stop
    while end < min(len(tokens), stop + CLAUSE) and tokens[end] not in (",", ".", ";"):
        end += 1
    if any(_list("lent").end(tokens, at) > at for at in range(place, end)):
        return True
    return any(_unreal_words().end(tokens, at) > at for at in range(place, stop))

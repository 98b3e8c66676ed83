"""What was done with parts: "fitted both", "kit's in", "reused the screws", "back ordered"."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.lexicon import Tag, tag_of
from jobnotes.extract.part_objects import (
    NOTHING,
    Found,
    number_by_start,
    objects_after,
    objects_before,
    phrase_list,
    said_before,
    thing_at,
    word_set,
)
from jobnotes.extract.private import private_utterances
from jobnotes.extract.spelled import Spelled
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing
from jobnotes.extract.vocabulary import once_a_talk, rules, spelled_out, words
from jobnotes.numbers.phrases import Phrases
from jobnotes.record import PartStatus

STATUSES: tuple[PartStatus, ...] = (
    "quoted", "ordered", "reused", "discarded", "removed", "installed",
)  # fmt: skip
CLAUSE = 12  # tokens before an event in which "needs" or "if" makes it unreal
COMING = ("coming", "come", "comes", "due", "expected", "here")
BACK = (("back", "in"), ("back", "on"), ("went", "back"), ("goes", "back"))
SPAN = 7  # tokens between "put" and its "in"


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
    return Phrases(spelled_out(rules("parts")["status"][status][side], rules("parts")["sets"]))


@cache
def _first_words() -> frozenset[str]:
    sides = [_phrases(status, side) for status in STATUSES for side in ("before", "after")]
    found = {word for phrases in sides for word in phrases.first_words}
    return frozenset(found | word_set("putting") | {"new", "fresh", "brand", "same"})


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
    if words(talk)[place] == "same":
        return _same_one(talk, utterance, place, end)
    best = _longest(talk, place, end)
    split_off = _put_in(talk, place, end)
    if split_off is not None and (best is None or best[0] <= place + 1):
        found = objects_after(talk, place + 1, split_off - 1)
        found = _its_number(talk, place, split_off, end, found)
        return _event(talk, utterance, place, split_off, "installed", found)
    if best is not None:
        stop, status, side = best
        found = objects_after(talk, stop, end) if side == "before" else NOTHING
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
    found: Found,
) -> Found:
    """Look for the objects before the words where none came after, then further off."""
    stop, status, _ = best
    start, end = said
    for look in (objects_before, said_before):
        found = found if any(found[:3]) else look(talk, place, start)
    if status in ("ordered", "quoted") and not any(found[:3]):
        found = objects_after(talk, stop, end)
    if status in ("installed", "ordered", "quoted") and not found[1]:
        found = _its_number(talk, place, stop, end, found)
    return found if any(found[:3]) else _understood(talk, status, start)


def _understood(talk: Talk, status: PartStatus, start: int) -> Found:
    """Read "quoted at forty" of the part last told, "the old pack is ... for recycling" of it."""
    if status in ("quoted", "ordered"):
        return (), (), "it", False
    thing = next((t for n in range(start, start + 4) if (t := thing_at(talk, n))), None)
    old = "old" in words(talk)[start : start + 3]
    return (
        NOTHING if status != "discarded" or not old or thing is None else ((thing,), (), "", False)
    )


def _its_number(talk: Talk, place: int, stop: int, end: int, found: Found) -> Found:
    """Read "replaced, QX4" and "got one on order, QX4": the number named next is what is meant."""
    one = words(talk)[place - 1 : place] in (("one",), ("ones",)) or found[2] in ("one", "ones")
    if any(found[:3]) and not one:
        return found
    following = next((n for n in range(stop, end) if n in number_by_start(talk)), None)
    return found if following is None else ((), (number_by_start(talk)[following],), "", True)


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
    weak = slight and " ".join(words(talk)[start:stop]) in word_set("weak")
    return PartEvent(start, stop, utterance, status, objects, numbers, pronoun, new, weak)


def _ends_well(talk: Talk, place: int, stop: int, end: int) -> bool:
    """Tell "new bearing in" from "bearing in the hub": a short word must end its clause."""
    following = words(talk)[stop] if stop < end else ""
    if following in word_set("days") and words(talk)[stop - 1] in COMING:
        return True
    if words(talk)[stop - 1] in word_set("particles") or stop - place == 1:
        return following in word_set("ends")
    return True


def _put_in(talk: Talk, place: int, end: int) -> int | None:
    """Return where "put the brushes in" stops, its object standing between verb and particle."""
    tokens = words(talk)
    if tokens[place] not in word_set("putting"):
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
    found = objects_after(talk, place, end)[0][:1]
    stop = found[0].stop if found else place + 1
    if not found and (place + 1 == end or words(talk)[place + 1] == ","):
        found = objects_before(talk, place, talk.starts[utterance])[0][:1]
    numbers: tuple[Spelled, ...] = ()
    if not found or words(talk)[place + 1 : place + 2] == (",",):
        numbers = _its_number(talk, place, stop, end, NOTHING)[1]
    if not found and not numbers:
        return None
    return PartEvent(place, stop, utterance, "installed", found, numbers, "", True, False, True)


def _same_one(talk: Talk, utterance: int, place: int, end: int) -> PartEvent | None:
    """Read "same key back in" and a bare "same plug" as a part used again."""
    thing = thing_at(talk, place) or thing_at(talk, place + 1)
    if thing is None:
        return None
    tokens = words(talk)
    back = tokens[thing.stop : thing.stop + 2] in BACK
    alone = tokens[place - 1 : place] in ((",",), ("put",)) or place == talk.starts[utterance]
    again = thing.stop >= end or tokens[thing.stop] in (",", ".", "again")
    if not back and not (alone and again):
        return None
    stop = thing.stop + 2 * back
    return PartEvent(place, stop, utterance, "reused", (thing,), (), "", False, False)


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
    while place > earliest and tokens[place - 1] not in (",", ".", ";", "so", "but"):
        place -= 1
    stop = max([event.stop, *(thing.stop for thing in event.objects)])
    fitted = word_set("fitting") & set(tokens[place : event.start])
    led = "with" in tokens[place : event.start] and not fitted
    if event.status == "installed" and not event.pronoun and led:
        return True
    end = stop
    while end < min(len(tokens), stop + CLAUSE) and tokens[end] not in (",", ".", ";"):
        end += 1
    persons = (
        n
        for n in range(place, event.start)
        if tag_of(tokens[n]) & Tag.PERSON and tokens[n] != "they"
    )
    if any(not tag_of(tokens[n + 1]) & Tag.US for n in persons):
        return True
    if any(phrase_list("lent").end(tokens, at) > at for at in range(place, end)):
        return True
    return any(_unreal_words().end(tokens, at) > at for at in range(place, stop))

"""Facts that cannot both be so."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from decimal import Decimal
from itertools import pairwise

from jobnotes.checks.names import key_words
from jobnotes.record import Action, AnyFact, Flag, Part, Reading

_SAME = Decimal("0.005")  # two looks at one meter may differ by half a percent


def contradicted(facts: tuple[AnyFact, ...]) -> dict[str, Flag]:
    """Return a flag by fact id for each of two facts that contradict each other."""
    return {**_readings(facts), **_parts(facts)}


def _readings(facts: tuple[AnyFact, ...]) -> dict[str, Flag]:
    """Two values for one thing in one state, with no work done in between."""
    work = _places_of_work(facts)
    found: dict[str, Flag] = {}
    for group in _by_state(facts):
        for one, other in pairwise(group):
            if _differ(one, other) and not _between(one, other, work):
                said = f"{one.as_said} {one.unit}", f"{other.as_said} {other.unit}"
                why = f"Two values were said for {one.what}: {said[0]} and {said[1]}."
                flag = Flag(by="checks", code="two-values", why=why, options=said)
                found |= {one.id: flag, other.id: flag}
    return found


def _by_state(facts: tuple[AnyFact, ...]) -> Iterable[list[Reading]]:
    """Group the readings that are of one thing, in one place and state."""
    groups: dict[tuple[object, ...], list[Reading]] = {}
    for fact in facts:
        if isinstance(fact, Reading) and fact.evidence and fact.what:
            said = (fact.what, fact.where, fact.when, fact.setting)
            key = (fact.unit, fact.phase, *(key_words(text) for text in said))
            groups.setdefault(key, []).append(fact)
    return groups.values()


def _differ(one: Reading, other: Reading) -> bool:
    return abs(one.value - other.value) > _SAME * max(abs(one.value), Decimal(1))


def _places_of_work(facts: tuple[AnyFact, ...]) -> dict[str, list[int]]:
    """Return the first words of all that was done, in order, by recording."""
    places: dict[str, list[int]] = {}
    for fact in facts:
        if isinstance(fact, Action):
            for place in fact.evidence:
                places.setdefault(place.recording, []).append(place.first)
    return {recording: sorted(firsts) for recording, firsts in places.items()}


def _between(one: Reading, other: Reading, work: dict[str, list[int]]) -> bool:
    """Say whether work was spoken of between the two readings, or they are in two recordings."""
    first, second = one.evidence[0], other.evidence[0]
    if first.recording != second.recording:
        return True
    low, high = sorted((first.first, second.first))
    places = work.get(first.recording, [])
    return bisect_left(places, low) < bisect_right(places, high)


def _parts(facts: tuple[AnyFact, ...]) -> dict[str, Flag]:
    """One part number that was both newly installed and used again."""
    by_status: dict[str, dict[str, Part]] = {"installed": {}, "reused": {}}
    for fact in facts:
        if isinstance(fact, Part) and fact.number and fact.status in by_status:
            by_status[fact.status][fact.number] = fact
    found: dict[str, Flag] = {}
    for number in by_status["installed"].keys() & by_status["reused"].keys():
        why = f"Part {number} is said to be both newly installed and used again."
        flag = Flag(by="checks", code="installed-and-reused", why=why)
        found |= {by_status[status][number].id: flag for status in by_status}
    return found

"""Where something is: the thing after "on", "in", "at"; conditions ("on load") are no places."""

from functools import cache

from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import Noun, antecedent, noun_at
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, rules, words

PLACE = group("places", "place")
SIDES = group("places", "sides")
ENDINGS = group("places", "endings")
DEICTIC = group("places", "deictic")
UNSURE = group("places", "unsure")


def place_at(talk: Talk, start: int, clause: Clause) -> Noun | None:
    """Return the thing named from `start` on, after a preposition of place."""
    if start >= clause.stop:
        return None
    after = words(talk)[start + 1 : start + 2]
    if words(talk)[start] in DEICTIC and not (after and after[0] in _conditions()):
        return _meant(talk, clause, "")
    side = _side(talk, start, clause)
    if side:
        return side
    part = _past_part(talk, start, clause)
    if part > start and words(talk)[part] in DEICTIC:
        return _meant(talk, clause, "")
    found = noun_at(talk, part, clause.stop)
    if found is None or _is_condition(talk, found):
        return None
    return found


def _meant(talk: Talk, clause: Clause, side: str) -> Noun | None:
    meant = antecedent(talk, clause.start)
    return Noun(meant.start, meant.stop, f"{side} {meant.name}".strip(), side) if meant else None


def _side(talk: Talk, start: int, clause: Clause) -> Noun | None:
    """Read "the right" and "the other side" as a side of the thing spoken of."""
    texts = words(talk)
    place = start + (texts[start] in ("the", "its"))
    if place >= clause.stop or texts[place] not in SIDES:
        return None
    end = place + 1 + (texts[place + 1 : place + 2] != () and texts[place + 1] in ENDINGS)
    return _meant(talk, clause, texts[place]) if end >= clause.stop else None


def _past_part(talk: Talk, start: int, clause: Clause) -> int:
    """Pass over "the bottom of" to the thing itself."""
    texts = words(talk)
    for place in range(start, min(start + 4, clause.stop - 1)):
        if texts[place] == "of" and texts[place - 1] in _parts():
            return place + 1
    return start


@cache
def _parts() -> frozenset[str]:
    return frozenset(rules("findings")["parts_of"]["words"].split())


@cache
def _conditions() -> frozenset[str]:
    return frozenset(rules("findings")["conditions"]["words"].split())


def _is_condition(talk: Talk, found: Noun) -> bool:
    kind = tags(talk)[found.stop - 1]
    return found.name.split()[-1] in _conditions() or bool(
        kind & (Tag.NOT_THING | Tag.UNIT | Tag.PERSON)
    )

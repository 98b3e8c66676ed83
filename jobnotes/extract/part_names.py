"""What a part is called: the component named beside its number, and whether two names agree."""

from bisect import bisect_left
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.lexicon import Tag, tag_of
from jobnotes.extract.spelled import Spelled
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, thing_before, thing_in, things
from jobnotes.extract.vocabulary import rules, singular_of, words
from jobnotes.numbers.lexicon import words as number_words

NEAR = 8  # components passed over that cannot be parts


def last_part(talk: Talk, start: int, stop: int) -> Thing | None:
    """Return the last component named within tokens that can be a part ("bin" cannot)."""
    thing = thing_in(talk, start, stop)
    while thing is not None and is_no_part(thing.name):
        thing = thing_in(talk, start, thing.start) if thing.start > start else None
    return thing


def part_before(talk: Talk, start: int) -> Thing | None:
    """Return the nearest component before a token that can be a part."""
    thing = thing_before(talk, start)
    for _ in range(NEAR):
        if thing is None or not is_no_part(thing.name):
            break
        thing = thing_before(talk, thing.start)
    return thing


def is_no_part(name: str) -> bool:
    """Tell a name of what can be no part ("bin")."""
    return bool(set(name.split()[-1:]) & not_parts())


def topic_of(talk: Talk, number: Spelled) -> str:
    """Return the word or two before the first comma: "pockets, three of them new, PK4"."""
    tokens, start = words(talk), talk.starts[number.utterance]
    stop = next((n for n in range(start, number.start) if tokens[n] == ","), start)
    named = [t for t in tokens[start:stop] if tag_of(t) & (Tag.HEAD | Tag.MODIFIER | Tag.UNKNOWN)]
    plain = 0 < stop - start <= 2 and len(named) == stop - start
    plain = plain and not set(named) & frozenset(rules("parts")["words"]["no_topic"])
    return " ".join(named) if plain and not is_no_part(named[-1]) else ""


def head_before(talk: Talk, number: Spelled) -> str:
    """Return the lone noun of "switch is q x four", where that noun is a verb as well."""
    tokens, start = words(talk), talk.starts[number.utterance]
    place = number.start - 1
    if place <= start or tokens[place] not in ("is", "'s", ","):
        return ""
    alone = place - 1 == start or tokens[place - 2] in (",", "and", "the")
    both = Tag.HEAD | Tag.VERB
    return tokens[place - 1] if alone and tag_of(tokens[place - 1]) & both == both else ""


def thing_after(talk: Talk, number: Spelled) -> Thing | None:
    """Return the component named right after a number ("QX4 for the pump")."""
    end = bounds(talk, number.utterance).end
    tokens = words(talk)
    for place in range(number.stop, min(end, number.stop + 5)):
        if tokens[place] in ("for", "is", "'s", "the", "a", ",", "that", "that's", "on"):
            continue
        thing = next(iter(things_after(talk, place)), None)
        return thing if thing is not None and thing.start == place else None
    return None


def things_after(talk: Talk, start: int) -> tuple[Thing, ...]:
    """Return the components named from a token on, a few at most."""
    named = things(talk)
    first = bisect_left(named, start, key=lambda thing: thing.start)
    return named[first : first + 4]


def plain_name(name: str) -> str:
    """Leave "new" and the like out of a part's name."""
    spare = ("new", "same", "fresh", "brand", "replacement", "number", "part", "genuine", "proper")
    return " ".join(word for word in name.split() if word not in spare)


def same_part(one: str, two: str) -> bool:
    """Tell whether two names can be of one part: the same head, and no sides that differ."""
    shared = _heads(one) & _heads(two)
    kinds = frozenset(rules("parts")["words"]["collections"])
    if not shared or (shared <= kinds and len(one.split()) > 1 and len(two.split()) > 1):
        return False
    sides = rules("parts")["words"]["sides"]
    sides_one, sides_two = ({w for w in name.split() if w in sides} for name in (one, two))
    if sides_one and sides_two and sides_one != sides_two:
        return False
    return ("old" in one.split()) == ("old" in two.split())


def _heads(name: str) -> set[str]:
    """Return the singular of a name's last word; of "cord set", "cord" and "set"."""
    said = name.split()
    if said and said[-1] in rules("parts")["words"]["collections"]:
        return {said[-1], singular_of(said[-2])} if len(said) > 1 else {said[-1]}
    return {singular_of(said[-1])} if said else set()


@cache
def not_parts() -> frozenset[str]:
    """Return the last words of names that are no parts."""
    return frozenset(rules("parts")["words"]["not_parts"])


def count_of(talk: Talk, thing: Thing) -> int | None:
    """Read "two" of "two new pins"."""
    tokens = words(talk)
    first = talk.starts[talk.utterance_of[thing.start]]
    for place in range(thing.start - 1, max(first - 1, thing.start - 4), -1):
        if tokens[place] in ("new", "fresh", "more"):
            continue
        value = number_words("digits").get(tokens[place], 0)
        return value if value > 1 else None
    return None

"""Fluids poured in, told by their amount: "took ninety cc", "a pint of oil went in"."""

from collections.abc import Iterator

from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import told_as_done
from jobnotes.extract.nouns import Noun, noun_at
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import things_between
from jobnotes.extract.vocabulary import group, rules, words
from jobnotes.extract.worked import Done, fluids

VOLUMES = group("fills", "volumes")
TAKING = group("fills", "taking")
POURING = group("fills", "pouring")
NEAR = 8  # tokens in which an amount is said
BACK = 40  # tokens back to where the fluid may have been named


def fills(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Give the filling that a clause tells by the amount that went in."""
    texts = words(talk)
    unit = next((n for n in range(clause.start, clause.stop) if texts[n] in VOLUMES), None)
    if unit is None or not tags(talk)[unit - 1] & Tag.NUMBER:
        return
    place = _verb(talk, clause, unit)
    if place is None or not told_as_done(talk, clause, place):
        return
    what = _poured(talk, clause, unit)
    if what:
        yield Done("fill", what, clause.start, clause.stop, "actions.filled")


def _verb(talk: Talk, clause: Clause, unit: int) -> int | None:
    """Return the token of "took" or "put in" before an amount, or of "went in" after it."""
    texts = words(talk)
    before = range(max(clause.start, unit - NEAR), unit)
    took = next((n for n in before if texts[n] in TAKING), None)
    into = any(text in ("in", "into") for text in texts[unit + 1 : clause.stop])
    after = range(unit + 1, clause.stop) if into else range(0)
    put = next((n for n in (*before, *after) if texts[n] in POURING), None) if into else None
    return took if took is not None else put


def _poured(talk: Talk, clause: Clause, unit: int) -> Noun | None:
    """Return the fluid named after "of", or the one spoken of before."""
    if words(talk)[unit + 1 : unit + 2] == ("of",):
        named = noun_at(talk, unit + 2, clause.stop)
        if named and named.name.split()[-1] in poured():
            return named
    begin = max(talk.starts[max(clause.utterance - 1, 0)], clause.start - BACK)
    for thing in reversed(things_between(talk, begin, unit)):
        if thing.name.split()[-1] in poured():
            return Noun(thing.start, thing.stop, thing.name)
    return None


def poured() -> frozenset[str]:
    """Return the words for what fills: fluids and grease."""
    return fluids() | frozenset(rules("actions")["fluids"]["greases"].split())

"""Cleaning told by what it was done in or with: "dunked the jets in the dip"."""

from collections.abc import Iterator

from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import told_as_done
from jobnotes.extract.nouns import POINTING, Noun, antecedent, noun_at
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words
from jobnotes.extract.worked import Done

BATHS = group("bathed", "baths")
INTO = group("bathed", "into")
MOVES = group("bathed", "moves")
LEAD = 4  # tokens between "in" and "dip"


def bathed(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Give the cleaning of a thing that was put in or through a bath, or treated with a cleaner."""
    texts = words(talk)
    bath = next((n for n in range(clause.start, clause.stop) if texts[n] in BATHS), None)
    into = _before(talk, clause, bath) if bath is not None else None
    if bath is None or into is None:
        return
    place = next((n for n in range(clause.start, into) if texts[n] in MOVES), None)
    if place is None or not told_as_done(talk, clause, place):
        return
    what = _washed(talk, clause, place, into)
    if what:
        yield Done("clean", what, clause.start, bath + 1, "actions.bathed")


def _before(talk: Talk, clause: Clause, bath: int) -> int | None:
    near = range(bath - 1, max(bath - LEAD, clause.start) - 1, -1)
    return next((n for n in near if words(talk)[n] in INTO), None)


def _washed(talk: Talk, clause: Clause, place: int, into: int) -> Noun | None:
    """Return what stands after the verb, before it, or what a pronoun or nothing stands for."""
    named = noun_at(talk, place + 1, into) if place + 1 < into else None
    if named and tags(talk)[named.stop - 1] & Tag.HEAD:
        return named
    us = any(kind & Tag.US for kind in tags(talk)[clause.start : place])
    subject = None if us else noun_at(talk, clause.start, place)
    if subject and tags(talk)[subject.stop - 1] & Tag.HEAD:
        return subject
    pointed = words(talk)[place + 1] in POINTING or place == clause.start
    meant = antecedent(talk, place) if pointed else None
    return Noun(meant.start, meant.stop, meant.name) if meant else None

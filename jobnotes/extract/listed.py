"""Clauses that go on with the verb before them: "and a thermostat", "glow plug to twelve"."""

from collections.abc import Iterator
from dataclasses import replace

from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import nouns_from, plain
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words
from jobnotes.extract.worked import Done

SETTINGS = group("listed", "settings")
PLACED = group("listed", "placed")


def listed(talk: Talk, clause: Clause, last: Done | None) -> Iterator[Done]:
    """Give the steps of a clause that names only things, after a step in or just before it."""
    if last is None or not _follows(talk, clause, last):
        return
    if "with" in words(talk)[last.stop : clause.start]:
        return  # "cleaned it with brake cleaner and a pad"
    found = list(nouns_from(talk, clause.start, clause.stop))
    stop = found[-1].stop if found else clause.start
    if _set_to(talk, stop, clause) and last.verb in SETTINGS:
        pass
    elif not (stop == clause.stop and last.verb in PLACED and _in_list(talk, clause)):
        return
    for what in found:
        if plain(talk, what):
            yield replace(last, object=what, start=clause.start, stop=stop)


def _follows(talk: Talk, clause: Clause, last: Done) -> bool:
    """Tell whether the step was told in this utterance, or in the one before an opening "and"."""
    apart = clause.utterance - talk.utterance_of[last.start]
    return apart == 0 or (apart == 1 and _opens(talk, clause))


def _opens(talk: Talk, clause: Clause) -> bool:
    first = talk.starts[clause.utterance]
    return words(talk)[first] in ("and", "plus") and clause.start - first <= 2


def _set_to(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "glow plug to twelve"."""
    texts, kinds = words(talk), tags(talk)
    return (
        place + 1 < clause.stop
        and texts[place] in ("to", "at")
        and bool(kinds[place + 1] & Tag.NUMBER)
    )


def _in_list(talk: Talk, clause: Clause) -> bool:
    """Tell an enumeration by the "and" before its last member."""
    texts = words(talk)
    stop = talk.utterance(clause.utterance).end
    if clause.stop + 1 < stop and tags(talk)[clause.stop + 1] & Tag.NUMBER:
        return False  # "washers, two mil"
    return (
        _opens(talk, clause)
        or "and" in texts[max(clause.start - 1, 0) : min(clause.stop + 12, stop)]
    )

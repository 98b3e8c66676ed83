"""A state told again of another thing: "coil legs too", "and so's the stator", "ditto the left"."""

from dataclasses import replace

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import Noun, noun_at
from jobnotes.extract.said import Seen
from jobnotes.extract.subjects import subject_of
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words

ALSO = group("same", "also")


def same(talk: Talk, clause: Clause, last: Seen | None) -> Seen | None:
    """Read a clause that says of another thing what was said just before; None if it does not."""
    if last is None:
        return None
    return _so_is(talk, clause, last) or _by_cue(talk, clause, last)


def _so_is(talk: Talk, clause: Clause, last: Seen) -> Seen | None:
    """Read "so's the hub", "as is the right one", "ditto the secondary"."""
    texts, kinds = words(talk), tags(talk)
    place = clause.start
    asked = clause.link == "so" and kinds[place] & Tag.COPULA
    if texts[place] in ALSO or asked:
        place += 1
    if place == clause.start or place >= clause.stop:
        return None
    place += bool(kinds[place] & Tag.COPULA) or texts[place] in ("for", "with", "on")
    what = noun_at(talk, place, clause.stop) if place < clause.stop else None
    if what is None or what.stop + 1 < clause.stop:
        return _piece(talk, clause, last, place)
    return _again(clause, last, what)


def _piece(talk: Talk, clause: Clause, last: Seen, place: int) -> Seen | None:
    """Read "so is the right one", a piece like the one before."""
    ends = words(talk)[clause.stop - 1] in ("one", "ones", "side") and clause.stop - place <= 3
    if not ends:
        return None
    told = talk.text(place, clause.stop).removeprefix("the ").strip(" ,.")
    return _again(clause, last, replace(last.what, name=f"{told} {last.what.name.split()[-1]}"))


def _again(clause: Clause, last: Seen, what: Noun) -> Seen:
    start, stop = clause.start, clause.stop
    return replace(last, what=what, start=start, stop=stop, rule="findings.same", clause=clause)


def _by_cue(talk: Talk, clause: Clause, last: Seen) -> Seen | None:
    """Read "coil legs too" and "same on the other side"."""
    subject = subject_of(talk, clause, None)
    first = subject.stop if subject else clause.start
    for cue in cues(talk, "findings.same", clause.start, clause.stop):
        if subject and subject.own and cue.start <= first + 1 and cue.stop == clause.stop:
            return _again(clause, last, subject.nouns[-1])
        if cue.start == clause.start and clause.stop > cue.stop:
            where = talk.text(cue.stop, clause.stop).strip(" ,.")
            return _again(clause, last, replace(last.what, where=where))
    return None

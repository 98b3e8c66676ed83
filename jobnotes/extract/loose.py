"""States told without a verb: "bubbles at the seal", "torn diaphragm"."""

from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import NONE, Tag, tags
from jobnotes.extract.nouns import Noun, antecedent, noun_at, with_whole
from jobnotes.extract.places import PLACE, place_at
from jobnotes.extract.said import Seen
from jobnotes.extract.talk import Talk
from jobnotes.extract.verbs import plain_forms
from jobnotes.extract.vocabulary import group, words

MOVES = group("loose", "moves")
WAYS = group("loose", "ways")
COLOURS = group("loose", "colours")
ALL_OVER = group("loose", "all_over")


def loose(talk: Talk, clause: Clause) -> Seen | None:
    """Return the state that a clause without a proper subject and verb tells."""
    return _moving(talk, clause) or _there(talk, clause) or _described(talk, clause)


def _moving(talk: Talk, clause: Clause) -> Seen | None:
    """Read "water got past the seal plate" as a state of the seal plate."""
    kinds, texts = tags(talk), words(talk)
    stuff = noun_at(talk, clause.start, clause.stop)
    if stuff is None:
        return None
    place = stuff.stop
    while place < clause.stop and (
        kinds[place] & (Tag.COPULA | Tag.HAVE | Tag.ADVERB) or texts[place] in MOVES
    ):
        place += 1
    if not any(texts[n] in MOVES for n in range(stuff.stop, place)):
        return None
    way = next((n for n in range(place - 1, min(place + 2, clause.stop)) if texts[n] in WAYS), None)
    where = (
        noun_at(talk, way + 1, clause.stop) if way is not None and way + 1 < clause.stop else None
    )
    if where is None:
        return None
    state = talk.text(stuff.start, way + 1 if way else place)
    return Seen(where, state, clause.start, where.stop, "findings.passes", False, False, clause)


def _there(talk: Talk, clause: Clause) -> Seen | None:
    """Read a defect with its place: "water in the bowl", "dripping steady from the weep hole"."""
    kinds, texts = tags(talk), words(talk)
    if everywhere := _everywhere(talk, clause):
        return everywhere
    place = _place_word(talk, clause)
    if place is None or _measured_next(talk, clause):
        return None
    first = kinds[clause.start]
    worked = first & Tag.VERB and not first & (Tag.FAULT | Tag.STATE)
    if (texts[clause.start] in plain_forms() or worked) and not first & Tag.DEFECT:
        return None
    told = kinds[clause.start : place]
    bad = any(_is_wrong(kind, texts[clause.start + n]) for n, kind in enumerate(told))
    other = Tag.COPULA | Tag.PERSON | Tag.US | Tag.OTHER_VERB | Tag.NEGATION
    said = Tag.COPULA | Tag.LINKING | Tag.OTHER_VERB
    if any(kind & said and not kind & Tag.HEAD for kind in kinds[place : clause.stop]):
        return None
    counted = any(kind & Tag.NUMBER for kind in told) and "of" not in texts[clause.start : place]
    if not bad or counted or any(kind & other for kind in told) or told[-1] & Tag.ASPECT:
        return None
    where = place_at(talk, place + 1, clause)
    if where is None:
        return None
    where = with_whole(talk, where, clause.start)
    end = place
    while end > clause.start + 1 and kinds[end - 1] & Tag.ADVERB:
        end -= 1
    state = talk.text(_past_lead(talk, clause.start, end), end).strip(" ,")
    return Seen(where, state, clause.start, clause.stop, "findings.there", False, False, clause)


def _everywhere(talk: Talk, clause: Clause) -> Seen | None:
    """Read "there's belt dust everywhere" as said of what was opened just before."""
    kinds = tags(talk)
    end = clause.stop - 1 - (words(talk)[clause.stop - 2 : clause.stop] == ("all", "over"))
    if words(talk)[clause.stop - 1] not in ALL_OVER or end <= clause.start:
        return None
    what = noun_at(talk, clause.start, end)
    meant = antecedent(talk, clause.start)
    if what is None or meant is None or what.stop != end or not kinds[end - 1] & Tag.DEFECT:
        return None
    where = Noun(meant.start, meant.stop, meant.name)
    state = talk.text(_past_lead(talk, clause.start, end), clause.stop).strip(" ,")
    return Seen(where, state, clause.start, clause.stop, "findings.there", False, False, clause)


def _place_word(talk: Talk, clause: Clause) -> int | None:
    """Return the last preposition of the first place named ("out of", "down in")."""
    texts = words(talk)
    place = next((n for n in range(clause.start + 1, clause.stop - 1) if texts[n] in PLACE), None)
    while place is not None and place + 2 < clause.stop and texts[place + 1] in {"of", *PLACE}:
        place += 1
    return place


def _is_wrong(kind: int, text: str) -> bool:
    return bool(kind & Tag.DEFECT) or bool(kind & Tag.FAULT and text.endswith("ing"))


def _measured_next(talk: Talk, clause: Clause) -> bool:
    """Tell "end play on the shaft, forty-five thousandths", which is a reading."""
    after = tags(talk)[clause.stop + 1 : clause.stop + 2]
    return bool(after) and bool(after[0] & Tag.NUMBER)


def _past_lead(talk: Talk, start: int, stop: int) -> int:
    while start < stop - 1 and tags(talk)[start] & (Tag.DETERMINER | Tag.FILLER):
        start += 1
    return start


def _described(talk: Talk, clause: Clause) -> Seen | None:
    """Read a state before its thing: "torn diaphragm", "bad bearing on the left"."""
    kinds = tags(talk)
    start = _past_lead(talk, clause.start, clause.stop)
    here = start
    while here < clause.stop and kinds[here] & Tag.ADVERB and not kinds[here] & Tag.STATE:
        here += 1
    if (
        here + 1 >= clause.stop
        or not kinds[here] & Tag.STATE
        or kinds[here] & Tag.WEAK
        or words(talk)[here] in COLOURS
    ):
        return None
    after = kinds[here + 1]
    what = (
        noun_at(talk, here + 1, clause.stop)
        if after & (Tag.HEAD | Tag.MODIFIER | Tag.UNKNOWN | Tag.STATE)
        else None
    )
    if what is None or not kinds[what.stop - 1] & Tag.HEAD or _goes_on(talk, what, clause):
        return None
    good = bool(kinds[here] & Tag.GOOD)
    return Seen(
        what,
        talk.text(start, here + 1),
        start,
        what.stop,
        "findings.described",
        good,
        False,
        clause,
    )


def _goes_on(talk: Talk, what: Noun, clause: Clause) -> bool:
    """Tell whether a verb follows, so that the clause says something else."""
    after = tags(talk)[what.stop] if what.stop < clause.stop else NONE
    return bool(after & (Tag.COPULA | Tag.HAVE | Tag.MODAL | Tag.OTHER_VERB))

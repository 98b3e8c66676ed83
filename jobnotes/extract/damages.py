"""Harm that somebody or something did to a part: "mice chewed the loom", "salt ate the lug"."""

from collections.abc import Iterator
from functools import cache

from jobnotes.extract import verbs
from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import noun_at
from jobnotes.extract.said import Seen
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import rules, words

BACK = 30  # tokens back to where others are named
FARTHEST = 6  # tokens before the verb of harm


def damaged(talk: Talk, clause: Clause) -> Iterator[Seen]:
    """Give what was harmed, with the verb of harm as its state; our own doing is no harm."""
    place = _verb(talk, clause)
    if place is None or not _by_others(talk, clause, place):
        return
    start = place + 1 + (words(talk)[place + 1 : place + 2] in (("off",), ("up",), ("out",)))
    what = noun_at(talk, start, clause.stop) if start < clause.stop else None
    if what and tags(talk)[what.stop - 1] & Tag.HEAD:
        state = talk.text(place, start)
        yield Seen(what, state, place, what.stop, "findings.harmed", False, False, clause)


def _verb(talk: Talk, clause: Clause) -> int | None:
    stop = min(clause.start + FARTHEST, clause.stop)
    return next((n for n in range(clause.start, stop) if words(talk)[n] in harms()), None)


def _by_others(talk: Talk, clause: Clause, place: int) -> bool:
    """Tell whether the doer is named and is not us; without one, the clause before names others."""
    led = tags(talk)[clause.start : place]
    if any(kind & (Tag.US | Tag.COPULA | Tag.NEGATION | Tag.MODAL) for kind in led):
        return False
    return bool(led) or others_act(talk, clause)


def others_act(talk: Talk, clause: Clause) -> bool:
    """Tell whether a clause without a subject goes on with what others did ("they hit a kerb")."""
    begin = max(talk.starts[clause.utterance], clause.start - BACK)
    for place in range(clause.start - 1, begin - 1, -1):
        if tags(talk)[place] & (Tag.US | Tag.COPULA):
            return False
        if words(talk)[place] in ("he", "they", "somebody", "someone"):
            return _acts(talk, place + 1)
    return False


def _acts(talk: Talk, place: int) -> bool:
    """Tell a verb of doing from one of saying or faring."""
    kind, text = tags(talk)[place], words(talk)[place]
    return text in harms() or text == "hit" or (kind == Tag.UNKNOWN and text.endswith("ed"))


@cache
def harms() -> frozenset[str]:
    """Return the past forms of the verbs that say what harm was done."""
    bases = rules("findings")["harms"]["words"].split()
    return frozenset(form for base in bases for form in verbs.past(base))

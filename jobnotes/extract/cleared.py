"""What is cleared or blamed as a whole: "so it's not the board", "the fault is in the pack"."""

from collections.abc import Iterator

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import Noun, noun_at
from jobnotes.extract.said import Seen
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words

POINTERS = group("cleared", "pointers")
PICKED = group("cleared", "picked")
LEAD = 4  # tokens before the thing: "it is not in the"


def cleared(talk: Talk, clause: Clause) -> Seen | None:
    """Return the component that a clause clears or blames, if that is all the clause says."""
    return _by_phrase(talk, clause) or _by_copula(talk, clause)


def blamed(talk: Talk, clause: Clause) -> Iterator[Seen]:
    """Give both things of "it's the pack not the coil", or the one before "and not the"."""
    texts = words(talk)
    if texts[clause.start] not in ("it", "that") or texts[clause.start + 2 : clause.start + 3] != (
        "the",
    ):
        return
    what = noun_at(talk, clause.start + 3, clause.stop)
    if what is None or not tags(talk)[clause.start + 1] & Tag.COPULA:
        return
    after = what.stop + (what.stop == clause.stop)
    if texts[after : after + 2] != ("not", "the"):
        return
    start, stop = clause.start, what.stop
    yield Seen(what, "at fault", start, stop, "findings.cleared", False, False, clause)
    other = noun_at(talk, after + 2, clause.stop) if after < clause.stop else None
    if other:
        yield _not_cause(clause, other, after)


def _by_phrase(talk: Talk, clause: Clause) -> Seen | None:
    """Read "that rules out the regulator" and "nothing to do with the governor"."""
    for cue in cues(talk, "findings.clears", clause.start, clause.stop):
        what = noun_at(talk, cue.stop, clause.stop) if cue.stop < clause.stop else None
        if what and tags(talk)[what.stop - 1] & Tag.HEAD:
            return _not_cause(clause, what, cue.start)
    return None


def _not_cause(clause: Clause, what: Noun, start: int) -> Seen:
    rule, state = "findings.cleared", "not the cause"
    return Seen(what, state, start, clause.stop, rule, True, True, clause)


def _by_copula(talk: Talk, clause: Clause) -> Seen | None:
    """Read "it's not the board", "not the capacitor then", "the fault is in the pack"."""
    texts, kinds = words(talk), tags(talk)
    if clause.link in ("so", "and") and texts[clause.start : clause.start + 2] == ("not", "the"):
        what = noun_at(talk, clause.start + 2, clause.stop)
        plain = what and what.stop == _content_stop(talk, clause)
        return _not_cause(clause, what, clause.start) if what and plain else None
    if texts[clause.start] not in POINTERS and texts[clause.start + 1 : clause.start + 2] not in (
        ("fault",),
        ("trouble",),
        ("problem",),
    ):
        return None
    copula = next(
        (n for n in range(clause.start, clause.stop) if kinds[n] & Tag.COPULA), clause.stop
    )
    denied = any(k & Tag.NEGATION for k in kinds[clause.start : min(copula + 2, clause.stop)])
    article = next((n for n in range(copula, clause.stop) if texts[n] == "the"), None)
    if article is None or article - clause.start > LEAD + 1:
        return None
    blamed = texts[article - 1] == "in" and not denied
    if not denied and not blamed:
        return None
    what = noun_at(talk, article + 1, clause.stop)
    if (
        what is None
        or what.stop != _content_stop(talk, clause)
        or set(texts[article : what.stop]) & PICKED
    ):
        return None
    state = "at fault" if blamed else "not the cause"
    start, stop = clause.start, clause.stop
    return Seen(what, state, start, stop, "findings.cleared", denied, denied, clause)


def _content_stop(talk: Talk, clause: Clause) -> int:
    stop = clause.stop
    for place in range(clause.start, stop - 1):
        if words(talk)[place : place + 2] == ("and", "not"):
            stop = place
            break
    while stop > clause.start and (
        tags(talk)[stop - 1] & Tag.PUNCTUATION
        or words(talk)[stop - 1] in ("then", "anyway", "either")
    ):
        stop -= 1
    return stop

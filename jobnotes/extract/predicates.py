"""What a clause says of a thing after its name: its state, what it does, has or will not do."""

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.states import (
    State,
    cannot_at,
    did_at,
    fault_at,
    past_perceived,
    state_after_verb,
    state_alone,
    works_at,
)
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import words


def state_of(talk: Talk, place: int, clause: Clause, named: bool = False) -> State | None:
    """Read the state said at `place`; what a thing merely does counts only if it is `named`."""
    if place >= clause.stop:
        return None
    kind = tags(talk)[place]
    if kind & Tag.COPULA and words(talk)[place + 1 : place + 2] == ("having",):
        return _had(talk, place + 1, clause)
    if kind & (Tag.COPULA | Tag.LINKING) and not (kind & Tag.STATE and not kind & Tag.COPULA):
        return state_after_verb(talk, place, clause) or _had(talk, place, clause)
    if kind & Tag.HAVE:
        return _had(talk, place, clause)
    perceived = past_perceived(talk, place, clause)
    if perceived > place:
        return state_after_verb(talk, place, clause)
    if (
        kind & Tag.BEHAVIOUR
        and not kind & (Tag.STATE | Tag.FAULT)
        and place + 1 < clause.stop
        and tags(talk)[place + 1] & Tag.GOOD
    ):
        return State(place, clause.stop, "findings.does-well", good=True)
    return (
        state_alone(talk, place, clause)
        or fault_at(talk, place, clause)
        or cannot_at(talk, place, clause)
        or did_at(talk, place, clause)
        or (works_at(talk, place, clause) if named else None)
    )


def _had(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read what a thing has: "has a chipped seat", "had two vanes cracked", "'s got play"."""
    kinds, texts = tags(talk), words(talk)
    more = place + 1 < clause.stop and texts[place + 1] in ("got", "showing")
    owns = kinds[place] & Tag.HAVE or more or texts[place] in ("shows", "showed", "show")
    start = place + 1 + more
    while start < clause.stop and (
        kinds[start] & Tag.DETERMINER
        or texts[start] in ("been", "also", "just", "almost", "absolutely", "still")
    ):
        start += 1
    lacking = texts[start : start + 1] == ("no",) and start + 1 < clause.stop
    if owns and lacking:
        good = bool(kinds[start + 1] & Tag.DEFECT)
        return State(start, clause.stop, "findings.lacks", good, negated=True)
    phrases = [
        *cues(talk, "findings.fine", start, clause.stop),
        *cues(talk, "findings.bad", start, clause.stop),
    ]
    if owns and phrases:
        return State(start, clause.stop, phrases[0].rule, phrases[0].rule == "findings.fine")
    told = next((n for n in range(start, clause.stop) if _tells(talk, n)), None)
    if not owns or told is None or any(kinds[n] & Tag.UNIT for n in range(start, told)):
        return None
    good = bool(kinds[told] & Tag.GOOD)
    negated = any(kind & Tag.NEGATION for kind in kinds[place:told])
    first = place if negated else start
    return State(first, clause.stop, "findings.has", good or negated, negated)


def _tells(talk: Talk, place: int) -> bool:
    kind = tags(talk)[place]
    participle = kind == Tag.UNKNOWN and words(talk)[place].endswith("ed")
    return bool(kind & (Tag.STATE | Tag.DEFECT)) or participle

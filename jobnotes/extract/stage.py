"""The extraction stage: every finder in order, each seeing the facts found before it."""

import hashlib
from collections import Counter
from collections.abc import Callable, Sequence

from jobnotes.extract import (
    actions,
    causes,
    cautions,
    complaints,
    corrections,
    decisions,
    findings,
    labour,
    parts,
    private,
    readings,
    recommendations,
    specs,
    symptoms,
    tests_done,
    verifications,
    wiring,
)
from jobnotes.extract.talk import Talk, talk_of
from jobnotes.record import AnyFact, Flag, Job, Labour, Part, Reading, Spec

Finder = Callable[[Talk, tuple[AnyFact, ...]], tuple[AnyFact, ...]]

FINDERS: tuple[Finder, ...] = (
    private.find,
    corrections.find,
    readings.find,
    specs.find,
    parts.find,
    complaints.find,
    symptoms.find,
    tests_done.find,
    wiring.find,
    findings.find,
    causes.find,
    actions.find,
    decisions.find,
    recommendations.find,
    verifications.find,
    cautions.find,
    labour.find,
)


def find_facts(job: Job) -> tuple[AnyFact, ...]:
    """Return every fact proposed from the job's words, with ids, in the order of the finders."""
    talk = talk_of(job)
    if not len(talk.doc):
        return ()
    facts: tuple[AnyFact, ...] = ()
    for find in FINDERS:
        facts += _numbered(find(talk, facts), facts)
    doubts = {(word.recording, word.index): word.flags for word in job.words if word.flags}
    return tuple(_with_doubts(fact, doubts) for fact in private.office_only(talk, facts))


def _numbered(new: Sequence[AnyFact], earlier: Sequence[AnyFact]) -> tuple[AnyFact, ...]:
    seen = Counter(_place(fact) for fact in earlier)
    named = []
    for fact in new:
        place = _place(fact)
        named.append(fact.having(id=_fact_id(place, seen[place])))
        seen[place] += 1
    return tuple(named)


def _place(fact: AnyFact) -> str:
    spans = [f"{e.recording}:{e.first}-{e.last}" for e in fact.evidence]
    return " ".join([fact.kind, *spans])


def _fact_id(place: str, nth: int) -> str:
    """Name a fact by its kind and words, so that it keeps its name when rules change its fields."""
    return hashlib.sha256(f"{place}#{nth}".encode()).hexdigest()[:10]


def _with_doubts(fact: AnyFact, doubts: dict[tuple[str, int], tuple[Flag, ...]]) -> AnyFact:
    """Hand the recogniser's doubts about the words under a figure on to the fact."""
    if not isinstance(fact, Reading | Spec | Part | Labour):
        return fact
    raised = [
        flag
        for place in fact.evidence
        for index in range(place.first, place.last + 1)
        for flag in doubts.get((place.recording, index), ())
    ]
    return fact.having(flags=tuple(dict.fromkeys([*fact.flags, *raised])))

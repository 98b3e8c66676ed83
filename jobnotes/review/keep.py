"""What a stage may replace: proposals that nobody has touched, and nothing else."""

from collections.abc import Iterable, Sequence

from jobnotes.record import AnyFact, Job, State
from jobnotes.review.history import standing


def replace_proposals(job: Job, new: Sequence[AnyFact]) -> Job:
    """Put new proposals in the place of the untouched old ones, all in the order they were said.

    A fact that a person confirmed, corrected, rejected, kept for the office or settled a flag of
    stays as it is, and a new proposal of the same id is dropped.
    """
    touched = {event.subject for event in standing(job)}
    kept = [fact for fact in job.facts if fact.state is not State.PROPOSED or fact.id in touched]
    taken = {fact.id for fact in kept}
    facts = [*kept, *(fact for fact in new if fact.id not in taken)]
    return job.having(facts=in_order(job, facts))


def in_order(job: Job, facts: Iterable[AnyFact]) -> tuple[AnyFact, ...]:
    """Return facts in the order they were said; what has no words comes last."""
    return tuple(sorted(facts, key=lambda fact: _place(job, fact)))


def _place(job: Job, fact: AnyFact) -> tuple[int, int]:
    order = [recording.id for recording in job.recordings]
    if not fact.evidence or fact.evidence[0].recording not in order:
        return len(order), 0
    return order.index(fact.evidence[0].recording), fact.evidence[0].first

"""The checking stage: flags on facts and questions on the job, in place of those raised before."""

from collections.abc import Callable, Iterable

from jobnotes.checks.completeness import questions
from jobnotes.checks.contradictions import contradicted
from jobnotes.checks.plausibility import implausible
from jobnotes.checks.spec_book import BookedSpec, specs_for
from jobnotes.record import AnyFact, Flag, Job, State

Check = Callable[[tuple[AnyFact, ...]], dict[str, Flag]]

CHECKS: tuple[Check, ...] = (implausible, contradicted)


def check(job: Job, book: Iterable[BookedSpec] = ()) -> Job:
    """Return the job with its facts checked against each other and against the shop's spec book.

    A flag that a person has settled stays settled as long as it is about the same value; rejected
    facts are not checked.
    """
    booked = specs_for(job.machine.description, book)
    standing = tuple(fact for fact in job.facts if fact.state is not State.REJECTED)
    raised: dict[str, list[Flag]] = {}
    for find in CHECKS:
        for fact_id, flag in find(standing).items():
            raised.setdefault(fact_id, []).append(flag)
    facts = tuple(_checked(fact, raised.get(fact.id, [])) for fact in job.facts)
    return job.having(facts=facts, booked=booked, questions=questions(standing, booked))


def _checked(fact: AnyFact, raised: list[Flag]) -> AnyFact:
    settled = {_doubt(flag): flag for flag in fact.flags if flag.by == "checks" and not flag.open}
    kept = [flag for flag in fact.flags if flag.by != "checks"]
    return fact.having(flags=(*kept, *(settled.get(_doubt(flag), flag) for flag in raised)))


def _doubt(flag: Flag) -> tuple[str, str]:
    """Return what tells a doubt from others: its sentence names the value."""
    return flag.code, flag.why

"""What the finders of figures and parts make of typed lines, for the tests of this folder."""

from datetime import UTC, datetime

from jobnotes.extract import corrections, parts, private, readings, specs
from jobnotes.extract.talk import talk_of
from jobnotes.intake.typed import typed
from jobnotes.record import AnyFact, Job

FINDERS = (private.find, corrections.find, readings.find, specs.find, parts.find)


def heard(kind, *lines) -> list:
    """Return the facts of one kind that are found in the lines, one utterance each."""
    job = typed(Job(id="j", created_at=datetime(2026, 9, 1, tzinfo=UTC)), "\n".join(lines))
    talk = talk_of(job)
    facts: tuple[AnyFact, ...] = ()
    for find in FINDERS:
        facts += find(talk, facts)
    return [fact for fact in facts if isinstance(fact, kind)]

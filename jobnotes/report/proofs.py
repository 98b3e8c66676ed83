"""The readings that prove a finding: taken in the same breath, of the same thing."""

from collections.abc import Mapping, Sequence

from jobnotes.checks.names import key_words
from jobnotes.checks.verdict import Verdict
from jobnotes.record import AnyFact, Finding, Job, Reading
from jobnotes.report.figures import spec_figure
from jobnotes.report.sentences import proof
from jobnotes.report.spans import breaths
from jobnotes.report.story import Sentence


def readings_for(job: Job, finding: Finding, facts: Sequence[AnyFact]) -> tuple[Reading, ...]:
    """Return the readings said in the finding's breath about the thing that it names."""
    if finding.negated:
        return ()
    where = set(breaths(job, finding.evidence))
    readings = (fact for fact in facts if isinstance(fact, Reading) and _about(finding, fact))
    return tuple(reading for reading in readings if where & set(breaths(job, reading.evidence)))


def _about(finding: Finding, reading: Reading) -> bool:
    thing, place = key_words(f"{finding.what} {finding.where}"), key_words(reading.where)
    return bool(key_words(finding.what) & key_words(reading.what)) and place <= thing


def proven(
    said: Sentence, readings: Sequence[Reading], verdicts: Mapping[str, Verdict]
) -> Sentence:
    """Add to a finding what was measured, and what it should have been."""
    if not readings:
        return said
    told, ids = [], list(said.facts)
    for reading in readings:
        held = verdicts.get(reading.id)
        should = f"; should be {spec_figure(held.spec)}" if held else ""
        told.append(f"{proof(reading)}{should}")
        ids += [reading.id, *([held.spec.id] if held and held.spec.id else [])]
    return Sentence(f"{said.text} Measured: {'; '.join(told)}.", tuple(ids))

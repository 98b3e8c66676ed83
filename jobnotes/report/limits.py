"""Which limits a reading is held against in print: only such as are beyond doubt about it."""

from collections.abc import Sequence
from dataclasses import dataclass

from jobnotes.checks.names import key_words
from jobnotes.checks.verdict import Verdict, verdict
from jobnotes.numbers.units import codes, measures, same_dimension
from jobnotes.record import AnyFact, Job, Reading, Spec
from jobnotes.report.spans import breaths, place

# A spec of another but fitting name is taken only from this many breaths around the reading.
NEAR = 2
# "All within two volts" bounds how far readings differ, which no single reading can show.
SPREAD = "within"


@dataclass(frozen=True)
class _Said:
    """A spec and the reading it was said closest to, if any; a booked spec needs none."""

    spec: Spec
    anchor: Reading | None = None
    booked: bool = False


def verdicts(job: Job, facts: Sequence[AnyFact]) -> dict[str, Verdict]:
    """Judge the readings, by their ids, by the specs said, else by those booked.

    A reading for which it is not clear which limits are meant has no entry.
    """
    readings = [fact for fact in facts if isinstance(fact, Reading)]
    said = [_anchored(job, fact, readings) for fact in facts if isinstance(fact, Spec)]
    booked = [_Said(spec, booked=True) for spec in job.booked]
    found = {r.id: _clear(r, said) or _clear(r, booked) for r in readings}
    return {name: judgement for name, judgement in found.items() if judgement is not None}


def comparable(unit: str, other: str) -> bool:
    """Say whether values in two units can be held against each other."""
    known = codes()
    return unit == other or (unit in known and other in known and same_dimension(unit, other))


def _clear(reading: Reading, specs: Sequence[_Said]) -> Verdict | None:
    """Judge by the specs meant for a reading; where two of them differ, by none."""
    meant = [said.spec for said in specs if _is_meant(reading, said)]
    agree = len({(spec.low, spec.high, spec.unit) for spec in meant}) == 1
    return verdict(reading, meant) if agree else None


def _is_meant(reading: Reading, said: _Said) -> bool:
    """A spec is meant for the reading it was said closest to, and others taken the same way."""
    if not _fits(reading, said.spec):
        return False
    anchor = said.anchor
    if anchor is None:
        return said.booked and _named_alike(reading, said.spec)
    same_way = (anchor.when, anchor.setting) == (reading.when, reading.setting)
    return same_way and key_words(anchor.what) == key_words(reading.what)


def _anchored(job: Job, spec: Spec, readings: Sequence[Reading]) -> _Said:
    """Find the reading that a spec was said closest to, rather before it than after.

    By a name that only resembles its own a spec finds no reading past a closer one of its kind.
    """
    alike = [r for r in readings if _fits(r, spec) and _named_alike(r, spec)]
    near = [
        reading
        for reading in readings
        if comparable(reading.unit, spec.unit) and _distance(job, reading, spec) <= NEAR
    ]
    closest = min(alike or near, key=lambda r: _closeness(job, r, spec), default=None)
    return _Said(spec, closest if closest is not None and _fits(closest, spec) else None)


def _fits(reading: Reading, spec: Spec) -> bool:
    if _is_spread(spec):
        return False
    return comparable(reading.unit, spec.unit) and verdict(reading, [spec]) is not None


def _is_spread(spec: Spec) -> bool:
    said = " ".join(part.text for part in spec.evidence).lower().split()
    return spec.low is None and SPREAD in said and measures(spec.unit) != "time"


def _named_alike(reading: Reading, spec: Spec) -> bool:
    thing = key_words(f"{spec.what} {spec.where}")
    return thing in (key_words(reading.what), key_words(f"{reading.what} {reading.where}"))


def _closeness(job: Job, reading: Reading, spec: Spec) -> tuple[int, bool, int]:
    apart = place(job, spec.evidence)[1] - place(job, reading.evidence)[1]
    return _distance(job, reading, spec), apart < 0, abs(apart)


def _distance(job: Job, reading: Reading, spec: Spec) -> int:
    """Count the breaths from a reading to a spec; a job's length where that is not known."""
    here, there = breaths(job, reading.evidence), breaths(job, spec.evidence)
    gaps = [abs(one - other) for one in here for other in there]
    return min(gaps, default=len(job.utterances))

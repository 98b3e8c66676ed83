"""A reading held against the specs that were said or booked."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from jobnotes.checks.names import key_words, same_name, same_place
from jobnotes.numbers.convert import convert
from jobnotes.numbers.units import same_dimension
from jobnotes.record import Reading, Spec

Side = Literal["within", "below", "above"]


@dataclass(frozen=True)
class Verdict:
    """On which side of a spec a reading lies; `low` and `high` are in the reading's unit."""

    side: Side
    spec: Spec
    low: Decimal | None
    high: Decimal | None


def verdict(reading: Reading, specs: Iterable[Spec]) -> Verdict | None:
    """Return the verdict by the best-fitting spec, or None where none is about this reading."""
    fitting = [spec for spec in specs if _fits(reading, spec)]
    if not fitting:
        return None
    return _judge(reading, max(fitting, key=lambda spec: _closeness(reading, spec)))


def _fits(reading: Reading, spec: Spec) -> bool:
    return (
        same_name(reading.what, spec.what)
        and same_place(reading.where, spec.where)
        and same_dimension(reading.unit, spec.unit)
    )


def _limits(reading: Reading, spec: Spec) -> tuple[Decimal | None, Decimal | None]:
    low, high = (
        None if limit is None else convert(limit, spec.unit, reading.unit)
        for limit in (spec.low, spec.high)
    )
    return low, high


def _closeness(reading: Reading, spec: Spec) -> tuple[int, int, int]:
    """Prefer the spec that shares most words, then one said in the job, then the nearest."""
    shared = len(key_words(reading.what) & key_words(spec.what))
    if not (reading.evidence and spec.evidence):
        return shared, 0, 0
    return shared, 1, -abs(reading.evidence[0].first - spec.evidence[0].first)


def _judge(reading: Reading, spec: Spec) -> Verdict:
    low, high = _limits(reading, spec)
    side: Side = "within"
    if low is not None and reading.value < low:
        side = "below"
    if high is not None and reading.value > high:
        side = "above"
    return Verdict(side, spec, low, high)

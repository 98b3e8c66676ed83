"""What was measured lately, so that "now", "the other side" and "spec is" can be understood."""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from math import log

from jobnotes.extract.measures import Measure
from jobnotes.extract.values import sayable
from jobnotes.extract.vocabulary import rules
from jobnotes.numbers.number import Number
from jobnotes.record import Flag

KEPT = 24  # measurements looked back on
NEVER = 99.0  # a score below every other
NEARLY = 1.8  # closeness that "eight six" for 8600 needs
FEW = 12  # numbers up to that count or name things more often than they shorten a speed
FAR = 60  # utterances after which one is forgotten


@dataclass(frozen=True, slots=True)
class Remembered:
    """A figure or an announcement of what is being measured, with the words said around it.

    `doubts` are the flags on its unit: a figure that takes the unit over takes them over.
    """

    measure: Measure
    unit: str
    thing: str
    what: str
    name: str
    value: Decimal | None
    utterance: int
    told: frozenset[str]
    doubts: tuple[Flag, ...] = ()


@dataclass(slots=True)
class Memory:
    """The latest measurements, and the unit last said for each quantity."""

    kept: deque[Remembered] = field(default_factory=lambda: deque(maxlen=KEPT))
    units: dict[str, str] = field(default_factory=dict)

    def add(self, item: Remembered) -> None:
        """Remember a measurement."""
        self.kept.append(item)
        if item.unit:
            self.units[item.measure.id] = item.unit

    def recall(
        self,
        low: Number,
        high: Number,
        units: tuple[str, ...],
        told: frozenset[str],
        utterance: int,
        is_spec: bool,
    ) -> tuple[float, Remembered, float] | None:
        """Return the measurement that a figure most likely continues, with its score.

        The third is the score by which it leads the best one of another quantity or unit.

        `low` and `high` are the ends of the figure, `units` the units said (none: any), `told` the
        words around it. Two shared words outweigh ten utterances of distance.
        """
        scored = [
            (_score(item, options, told, utterance), item)
            for item in self._near(units, utterance, is_spec)
            if (options := _likely(low, item)) and _likely(high, item)
        ]
        best = max(scored, key=lambda pair: pair[0], default=None)
        if best is None:
            return None
        others = [score for score, item in scored if not _same_kind(item, best[1])]
        return best[0], best[1], best[0] - max(others, default=-NEVER)

    def unit_of(
        self, measure: Measure, options: tuple[Decimal, ...], told: frozenset[str], utterance: int
    ) -> Remembered | None:
        """Return the likeliest earlier figure of the same kind, for its unit."""
        scored = [
            (_score(item, options, told, utterance), item)
            for item in self.kept
            if item.unit in measure.units and item.value is not None
            if any(measure.likely(option, item.unit) for option in options)
        ]
        best = max(scored, key=lambda pair: pair[0], default=None)
        return best[1] if best is not None and best[0] > -2 else None

    def _near(self, units: tuple[str, ...], utterance: int, is_spec: bool) -> Iterator[Remembered]:
        for item in self.kept:
            same = item.utterance == utterance
            near = utterance - item.utterance <= FAR and (is_spec or same or item.measure.recalled)
            fits = item.unit in units if units else bool(item.unit)
            if near and fits:
                yield item


def _same_kind(one: Remembered, two: Remembered) -> bool:
    return one.measure is two.measure and one.unit == two.unit


def _likely(number: Number, item: Remembered) -> tuple[Decimal, ...]:
    said = sayable(number, item.measure, item.unit)
    return tuple(
        o.value
        for o in said
        if item.measure.likely(o.value, item.unit)
        and (o.form != "thousands" or _is_shortened(number, item, o.value))
    )


def _is_shortened(number: Number, item: Remembered, value: Decimal) -> bool:
    """Tell "thirty-four" for 3400 beside a figure of that size, but no bare "three" for 3000."""
    counts = number.form == "plain" and number.value <= FEW
    return not counts and _closeness(item.value, value) > NEARLY


def _score(
    item: Remembered, options: tuple[Decimal, ...], told: frozenset[str], utterance: int
) -> float:
    shared = told & item.told
    words = 2 * len(shared) - 0.5 * len(shared & _conditions()) - len(shared & _places())
    closeness = max(_closeness(item.value, option) for option in options)
    return words + closeness - _ageing(utterance - item.utterance)


@cache
def _conditions() -> frozenset[str]:
    """Return the words of conditions: many quantities are taken cranking, hot or idling."""
    return frozenset(w for text in rules("measures")["when"]["words"] for w in text.split())


@cache
def _places() -> frozenset[str]:
    """Return the words of sides and numbers: every quantity is taken left and right."""
    told = rules("measures")["where"]
    return frozenset((*told["numbered"], *(w for text in told["words"] for w in text.split())))


def _ageing(distance: int) -> float:
    """Weigh distance in utterances: what was measured just now is nearly always meant."""
    return 0.5 * min(distance, 4) + 0.1 * max(distance - 4, 0)


def _closeness(value: Decimal | None, option: Decimal) -> float:
    """Grade how near two values are: a repeated measurement is seldom ten times another."""
    if value is None or value * option <= 0:
        return 0.0
    distance = abs(log(float(value / option)))
    if distance < 0.7:
        return 2.35 - distance
    if distance < 1.3:
        return 1.0
    return 0.0 if distance < 2.5 else -3.0

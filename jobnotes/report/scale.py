"""A reading against its limits as a drawing: where the line, ticks, marks and words stand.

Nothing depends on colour: a hollow ring is "before", a filled disc any other reading, and each mark
and tick has its words beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.pdfbase.pdfmetrics import stringWidth

from jobnotes.record import Language
from jobnotes.report.fonts import SANS, has_all
from jobnotes.report.languages.messages import say
from jobnotes.report.story import Limits, Measure, Point

SIZE = 8.5
ROW = 11.0
TICK = 5.0
RADIUS = 3.6
MARGIN = 0.14
LONGEST = 30  # letters of a name in the drawing


@dataclass(frozen=True)
class Label:
    """A short text centred over `x`, pushed inwards where it would leave the drawing."""

    x: float
    left: float
    text: str
    row: int
    wide: float


@dataclass(frozen=True)
class Drawing:
    """All that is drawn, y upwards: `line` is the height of the line, `within` the good stretch."""

    width: float
    height: float
    line: float
    within: tuple[float, float]
    above: tuple[Label, ...]
    below: tuple[Label, ...]
    hollow: tuple[bool, ...]

    def baseline(self, label: Label, *, above: bool) -> float:
        """Return the height at which a label is written."""
        if above:
            return self.line + TICK + 4 + ROW * label.row
        return self.line - TICK - ROW * (label.row + 1) + 2


def drawing(measure: Measure, limits: Limits, width: float) -> Drawing:
    """Return the drawing of a measure that has limits, `width` wide."""
    ends = span(measure, limits)
    language = measure.language
    marks = [(position(p.value, ends, width), _name(p, language)) for p in measure.points]
    ticks = _ticks(limits, ends, width, language)
    above, below = labels(marks, width), labels(ticks, width)
    line = _rows(below) * ROW + TICK + 3
    low = 0.0 if limits.low is None else position(limits.low, ends, width)
    high = width if limits.high is None else position(limits.high, ends, width)
    hollow = tuple(point.hollow for point in measure.points)
    tall = line + TICK + 6 + _rows(above) * ROW
    return Drawing(width, tall, line, (low, high), above, below, hollow)


def span(measure: Measure, limits: Limits) -> tuple[float, float]:
    """Return the values at both ends of the line: all readings and limits, with some room."""
    values = [point.value for point in measure.points]
    values += [end for end in (limits.low, limits.high) if end is not None]
    low, high = min(values), max(values)
    room = (high - low or abs(high) or 1.0) * MARGIN
    return low - room, high + room


def position(value: float, ends: tuple[float, float], width: float) -> float:
    """Return how far from the left a value stands, in points."""
    low, high = ends
    return (value - low) / (high - low) * width


def labels(texts: Sequence[tuple[float, str]], width: float) -> tuple[Label, ...]:
    """Place a label over each x; one that would touch an earlier one moves to the next row."""
    placed: list[Label] = []
    for x, text in texts:
        wide = stringWidth(text, SANS, SIZE)
        left = min(max(0.0, x - wide / 2), max(0.0, width - wide))
        row = 0
        while any(_touch(label, left, wide, row) for label in placed):
            row += 1
        placed.append(Label(x, left, text, row, wide))
    return tuple(placed)


def _touch(label: Label, left: float, wide: float, row: int) -> bool:
    right = label.left + label.wide
    return label.row == row and label.left < left + wide + 4 and left < right + 4


def _ticks(
    limits: Limits, ends: tuple[float, float], width: float, language: Language
) -> list[tuple[float, str]]:
    texts = {
        limits.low: say(language, "at-least", figure=limits.low_said),
        limits.high: say(language, "at-most", figure=limits.high_said),
    }
    if limits.low == limits.high:
        texts = {limits.low: limits.low_said}
    found = [(value, text) for value, text in texts.items() if value is not None]
    return [(position(value, ends, width), text) for value, text in found]


def _name(point: Point, language: Language) -> str:
    """Return a reading with its name; one that is no plain, short name is in the words beside."""
    if len(point.name) > LONGEST or not has_all(point.name, SANS):
        return point.said
    if not point.name:
        return point.said
    return say(language, "reading-line", name=point.name, figure=point.said)


def _rows(placed: Sequence[Label]) -> int:
    return max((label.row + 1 for label in placed), default=0)

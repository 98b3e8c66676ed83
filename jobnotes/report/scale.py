"""A reading drawn against its limits: a line, the limits as ticks, the readings as marks.

Nothing depends on colour: a hollow ring is "before", a filled disc any other reading, and each mark
and tick has its words beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from jobnotes.report.fonts import SANS
from jobnotes.report.story import Limits, Measure, Point
from jobnotes.report.styles import ACCENT, FAINT, INK

SIZE = 8.5
ROW = 11.0
TICK = 5.0
RADIUS = 3.6
MARGIN = 0.14


@dataclass(frozen=True)
class Label:
    """A short text centred over `x`, pushed inwards where it would leave the drawing."""

    x: float
    left: float
    text: str
    row: int


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
        placed.append(Label(x, left, text, row))
    return tuple(placed)


def _touch(label: Label, left: float, wide: float, row: int) -> bool:
    right = label.left + stringWidth(label.text, SANS, SIZE)
    return label.row == row and label.left < left + wide + 4 and left < right + 4


class Scale(Flowable):
    """The drawing of one measure that has limits, as wide as its column."""

    def __init__(self, measure: Measure, limits: Limits) -> None:
        """Take the measure and its limits."""
        super().__init__()
        self.measure, self.limits = measure, limits

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take all the width, and the height of the rows of labels."""
        self.width = width
        self.ends = span(self.measure, self.limits)
        self.above = labels([(self._x(p.value), _name(p)) for p in self.measure.points], width)
        self.below = labels(self._ticks(), width)
        rows = _rows(self.above), _rows(self.below)
        self.line = rows[1] * ROW + TICK + 3
        self.height = self.line + TICK + 6 + rows[0] * ROW
        return width, self.height

    def draw(self) -> None:
        """Draw the line, the stretch between the limits, ticks, marks and words."""
        canvas: Canvas = self.canv
        canvas.saveState()
        self._draw_line(canvas)
        for label in self.below:
            canvas.line(label.x, self.line - TICK, label.x, self.line + TICK)
            _write(canvas, label, self.line - TICK - ROW * (label.row + 1) + 2)
        self._draw_leaders(canvas)
        for label, point in zip(self.above, self.measure.points, strict=True):
            self._draw_mark(canvas, label.x, hollow=point.hollow)
            _write(canvas, label, self.line + TICK + 4 + ROW * label.row)
        canvas.restoreState()

    def _draw_leaders(self, canvas: Canvas) -> None:
        """Lead from each mark to its label where that stands in a higher row."""
        canvas.saveState()
        canvas.setStrokeColor(FAINT)
        canvas.setLineWidth(0.5)
        for label in (label for label in self.above if label.row):
            canvas.line(label.x, self.line + TICK, label.x, self.line + TICK + 3 + ROW * label.row)
        canvas.restoreState()

    def _draw_line(self, canvas: Canvas) -> None:
        canvas.setFillColor(INK)
        canvas.setStrokeColor(FAINT)
        canvas.setLineWidth(0.8)
        canvas.line(0, self.line, self.width, self.line)
        canvas.setStrokeColor(ACCENT)
        canvas.setLineWidth(2.4)
        canvas.line(*self._between())
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.9)

    def _between(self) -> tuple[float, float, float, float]:
        """Return the stretch of line on which a reading is within limits."""
        low = 0.0 if self.limits.low is None else self._x(self.limits.low)
        high = self.width if self.limits.high is None else self._x(self.limits.high)
        return low, self.line, high, self.line

    def _draw_mark(self, canvas: Canvas, x: float, *, hollow: bool) -> None:
        canvas.saveState()
        if hollow:
            canvas.setFillGray(1)
        canvas.setLineWidth(1.2)
        canvas.circle(x, self.line, RADIUS, stroke=1, fill=1)
        canvas.restoreState()

    def _x(self, value: float) -> float:
        return position(value, self.ends, self.width)

    def _ticks(self) -> list[tuple[float, str]]:
        limits = self.limits
        ends = {
            limits.low: f"at least {limits.low_said}",
            limits.high: f"at most {limits.high_said}",
        }
        if limits.low == limits.high:
            ends = {limits.low: limits.low_said}
        return [(self._x(value), text) for value, text in ends.items() if value is not None]


def _name(point: Point) -> str:
    return f"{point.name}: {point.said}" if point.name else point.said


def _rows(placed: Sequence[Label]) -> int:
    return max((label.row + 1 for label in placed), default=0)


def _write(canvas: Canvas, label: Label, y: float) -> None:
    wide = stringWidth(label.text, SANS, SIZE)
    canvas.saveState()
    canvas.setFillGray(1)
    canvas.rect(label.left - 1, y - 2, wide + 2, SIZE + 1, stroke=0, fill=1)
    canvas.restoreState()
    canvas.setFont(SANS, SIZE)
    canvas.drawString(label.left, y, label.text)

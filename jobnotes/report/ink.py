"""What is drawn as a figure on the page: a measure's scale, a machine's readings, a photo."""

from io import BytesIO
from itertools import pairwise

from reportlab.lib.colors import HexColor
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from jobnotes.photos.marks import EDGE, EDGE_WIDTH, INK, STROKE, Line, lines
from jobnotes.record import Mark
from jobnotes.report import plot, styles
from jobnotes.report.fonts import SANS
from jobnotes.report.machine import Series
from jobnotes.report.scale import RADIUS, SIZE, TICK, Drawing, Label, drawing
from jobnotes.report.story import Limits, Measure
from jobnotes.report.tagged import Drawn
from jobnotes.report.tags import Element, TaggedCanvas


class Scale(Drawn):
    """The drawing of one measure that has limits, as wide as its column."""

    def __init__(self, measure: Measure, limits: Limits, tag: Element) -> None:
        """Take the measure, its limits and the figure's element."""
        super().__init__(tag)
        self.measure, self.limits = measure, limits

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take all the width, and the height of the rows of labels."""
        self.drawing = drawing(self.measure, self.limits, width)
        self.width, self.height = width, self.drawing.height
        return width, self.height

    def figure(self, canvas: TaggedCanvas) -> None:
        """Draw the line, the stretch between the limits, ticks, marks and words."""
        shown = self.drawing
        _draw_line(canvas, shown)
        for label in shown.below:
            canvas.line(label.x, shown.line - TICK, label.x, shown.line + TICK)
            _write(canvas, label, shown.baseline(label, above=False))
        _draw_leaders(canvas, shown)
        for label, hollow in zip(shown.above, shown.hollow, strict=True):
            _draw_mark(canvas, label.x, shown.line, RADIUS, hollow=hollow)
            _write(canvas, label, shown.baseline(label, above=True))


def _draw_line(canvas: Canvas, shown: Drawing) -> None:
    canvas.setFillColor(styles.INK)
    canvas.setStrokeColor(styles.FAINT)
    canvas.setLineWidth(0.8)
    canvas.line(0, shown.line, shown.width, shown.line)
    canvas.setStrokeColor(styles.ACCENT)
    canvas.setLineWidth(2.4)
    canvas.line(shown.within[0], shown.line, shown.within[1], shown.line)
    canvas.setStrokeColor(styles.INK)
    canvas.setLineWidth(0.9)


def _draw_leaders(canvas: Canvas, shown: Drawing) -> None:
    """Lead from each mark to its label where that stands in a higher row."""
    canvas.saveState()
    canvas.setStrokeColor(styles.FAINT)
    canvas.setLineWidth(0.5)
    for label in (label for label in shown.above if label.row):
        top = shown.baseline(label, above=True) - 1
        canvas.line(label.x, shown.line + TICK, label.x, top)
    canvas.restoreState()


def _draw_mark(canvas: Canvas, x: float, y: float, radius: float, *, hollow: bool) -> None:
    canvas.saveState()
    if hollow:
        canvas.setFillGray(1)
    canvas.setLineWidth(1.2)
    canvas.circle(x, y, radius, stroke=1, fill=1)
    canvas.restoreState()


def _write(canvas: Canvas, label: Label, y: float) -> None:
    canvas.saveState()
    canvas.setFillGray(1)
    canvas.rect(label.left - 1, y - 2, label.wide + 2, SIZE + 1, stroke=0, fill=1)
    canvas.restoreState()
    canvas.setFont(SANS, SIZE)
    canvas.drawString(label.left, y, label.text)


class Plot(Drawn):
    """The drawing of the same reading over several jobs."""

    def __init__(self, series: Series, tag: Element) -> None:
        """Take the readings and the figure's element."""
        super().__init__(tag)
        self.series, self.width, self.height = series, plot.WIDE, plot.TALL

    def figure(self, canvas: TaggedCanvas) -> None:
        """Draw the line from mark to mark, then the marks with their words."""
        placed = plot.marks(self.series)
        canvas.setLineWidth(0.8)
        canvas.setStrokeColor(styles.FAINT)
        canvas.lines([(a.x, a.y, b.x, b.y) for a, b in pairwise(placed)])
        canvas.setStrokeColor(styles.INK)
        canvas.setFillColor(styles.INK)
        canvas.setFont(SANS, plot.SIZE)
        for mark in placed:
            _draw_mark(canvas, mark.x, mark.y, plot.RADIUS, hollow=mark.hollow)
            canvas.drawCentredString(mark.x, mark.label_y, mark.label)
            canvas.drawCentredString(mark.x, plot.DAY, mark.day)


class Photograph(Drawn):
    """A photo fitted whole into a box, with its marks as lines over it."""

    hAlign = "LEFT"

    def __init__(self, data: bytes, marks: tuple[Mark, ...], tag: Element) -> None:
        """Take a JPEG or PNG, its marks and the figure's element."""
        super().__init__(tag)
        self.picture, self.marks = ImageReader(BytesIO(data)), marks

    def fit(self, width: float, height: float) -> "Photograph":
        """Take the largest size in points at which all of it is inside the box."""
        wide, tall = self.picture.getSize()
        scale = min(width / wide, height / tall)
        self.width, self.height = max(1.0, wide * scale), max(1.0, tall * scale)
        return self

    def figure(self, canvas: TaggedCanvas) -> None:
        """Draw the pixels, then each mark with a light edge around its ink."""
        canvas.drawImage(self.picture, 0, 0, self.width, self.height, mask=None)
        strokes = lines(self.marks, self.width, self.height)
        if not strokes:
            return
        ink = max(1.2, max(self.width, self.height) * STROKE)
        canvas.saveState()
        canvas.clipPath(self._outline(canvas), stroke=0, fill=0)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for colour, width in ((EDGE, ink * EDGE_WIDTH), (INK, ink)):
            canvas.setStrokeColor(HexColor(colour))
            canvas.setLineWidth(width)
            self._stroke(canvas, strokes)
        canvas.restoreState()

    def _outline(self, canvas: Canvas) -> object:
        outline = canvas.beginPath()
        outline.rect(0, 0, self.width, self.height)
        return outline

    def _stroke(self, canvas: Canvas, strokes: tuple[Line, ...]) -> None:
        path = canvas.beginPath()
        for first, *rest in strokes:
            path.moveTo(first[0], self.height - first[1])
            for x, y in rest:
                path.lineTo(x, self.height - y)
        canvas.drawPath(path, stroke=1, fill=0)

"""Marks on a photo: the lines that draw them, and the part of the picture that a crop keeps."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin

from PIL import Image

from jobnotes.record import Mark

INK = "#1f3a5f"
EDGE = "#ffffff"

STROKE = 1 / 160
"""Width of the ink, as a part of the picture's long side."""
EDGE_WIDTH = 2.0
"""Width of ink and edge together, in widths of the ink."""
_BARB = pi / 7  # half the opening of an arrow's head

Point = tuple[float, float]
Line = tuple[Point, ...]


@dataclass(frozen=True)
class Part:
    """The part of a picture that is shown, in fractions of the whole picture's sides."""

    left: float
    top: float
    wide: float
    tall: float


WHOLE = Part(0.0, 0.0, 1.0, 1.0)


def part(marks: Sequence[Mark]) -> Part:
    """Return what the last crop keeps, whichever way round it was drawn; else the whole."""
    crops = [mark for mark in marks if mark.shape == "crop"]
    if not crops:
        return WHOLE
    left, right = _inside(crops[-1].left, crops[-1].right)
    top, bottom = _inside(crops[-1].top, crops[-1].bottom)
    return Part(left, top, right - left, bottom - top)


def _inside(one: float, other: float) -> Point:
    low, high = sorted((min(max(one, 0.0), 1.0), min(max(other, 0.0), 1.0)))
    return low, high


def cut(picture: Image.Image, marks: Sequence[Mark]) -> Image.Image:
    """Return what the last crop keeps of a picture; a crop without extent keeps one pixel."""
    kept = part(marks)
    if kept == WHOLE:
        return picture
    left, right = _span(kept.left, kept.wide, picture.width)
    top, bottom = _span(kept.top, kept.tall, picture.height)
    return picture.crop((left, top, right, bottom))


def _span(start: float, extent: float, side: int) -> tuple[int, int]:
    low, high = round(start * side), round((start + extent) * side)
    low = min(low, side - 1)
    return low, max(high, low + 1)


def lines(marks: Sequence[Mark], width: float, height: float) -> tuple[Line, ...]:
    """Return the lines of all marks over a picture shown `width` by `height`, y downwards.

    Marks count in fractions of the whole picture, whatever the crop. A circle fills its box; an
    arrow points from (left, top) to (right, bottom).
    """
    shown = part(marks)
    drawn = [mark for mark in marks if mark.shape in _LINES]
    ends = [_placed(mark, shown, width, height) for mark in drawn]
    return tuple(
        line
        for mark, (start, end) in zip(drawn, ends, strict=True)
        for line in _LINES[mark.shape](start, end)
    )


def _placed(mark: Mark, shown: Part, width: float, height: float) -> tuple[Point, Point]:
    across, down = width / max(shown.wide, 1e-6), height / max(shown.tall, 1e-6)
    start = ((mark.left - shown.left) * across, (mark.top - shown.top) * down)
    return start, ((mark.right - shown.left) * across, (mark.bottom - shown.top) * down)


def _circle(start: Point, end: Point) -> list[Line]:
    (left, top), (right, bottom) = start, end
    across, down = (right - left) / 2, (bottom - top) / 2
    turns = [2 * pi * step / 90 for step in range(91)]
    return [tuple((left + across * (1 + cos(t)), top + down * (1 + sin(t))) for t in turns)]


def _box(start: Point, end: Point) -> list[Line]:
    (left, top), (right, bottom) = start, end
    return [(start, (right, top), end, (left, bottom), start)]


def _arrow(start: Point, end: Point) -> list[Line]:
    back = atan2(start[1] - end[1], start[0] - end[0])
    long = hypot(end[0] - start[0], end[1] - start[1]) / 4
    one, other = (
        (end[0] + long * cos(a), end[1] + long * sin(a)) for a in (back - _BARB, back + _BARB)
    )
    return [(start, end), (one, end, other)]


_LINES: dict[str, Callable[[Point, Point], list[Line]]] = {
    "circle": _circle,
    "box": _box,
    "arrow": _arrow,
}

"""Drawing marks onto a copy of a photo: one ink colour with a white edge."""

from collections.abc import Callable, Sequence
from math import atan2, cos, hypot, pi, sin

from PIL import Image, ImageDraw

from jobnotes.record import Mark

INK = "#1f3a5f"
EDGE = "white"

_STROKE = 1 / 160  # width of the ink, as a part of the picture's long side
_EDGE = 2.0  # width of ink and edge together, in widths of the ink
_FINE = 3  # masks are drawn this much larger and then reduced, for smooth lines
_BARB = pi / 7  # half the opening of an arrow's head

Point = tuple[float, float]
Line = list[Point]


def draw(picture: Image.Image, marks: Sequence[Mark]) -> Image.Image:
    """Return a copy with its marks drawn, cut to the last crop if there is one.

    Marks count in fractions of the whole picture, whatever the crop. A circle fills its box; an
    arrow points from (left, top) to (right, bottom).
    """
    marked = picture.copy()
    width = max(2.0, max(picture.size) * _STROKE)
    for mark in marks:
        if mark.shape in _LINES:
            lines = _LINES[mark.shape](*_pixels(mark, picture))
            marked.paste(EDGE, mask=_mask(picture, lines, width * _EDGE))
            marked.paste(INK, mask=_mask(picture, lines, width))
    crops = [mark for mark in marks if mark.shape == "crop"]
    return marked.crop(_crop_box(crops[-1], picture)) if crops else marked


def _pixels(mark: Mark, picture: Image.Image) -> tuple[Point, Point]:
    width, height = picture.size
    return (mark.left * width, mark.top * height), (mark.right * width, mark.bottom * height)


def _mask(picture: Image.Image, lines: Sequence[Line], width: float) -> Image.Image:
    mask = Image.new("L", (picture.width * _FINE, picture.height * _FINE))
    pen = ImageDraw.Draw(mask)
    for line in lines:
        points = [(x * _FINE, y * _FINE) for x, y in line]
        pen.line(points, fill=255, width=round(width * _FINE))
        for corner in points:
            pen.circle(corner, width * _FINE / 2, fill=255)
    return mask.reduce(_FINE)


def _circle(start: Point, end: Point) -> list[Line]:
    (left, top), (right, bottom) = start, end
    across, down = (right - left) / 2, (bottom - top) / 2
    turns = [2 * pi * step / 180 for step in range(182)]
    return [[(left + across * (1 + cos(t)), top + down * (1 + sin(t))) for t in turns]]


def _box(start: Point, end: Point) -> list[Line]:
    (left, top), (right, bottom) = start, end
    return [[start, (right, top), end, (left, bottom), start]]


def _arrow(start: Point, end: Point) -> list[Line]:
    back = atan2(start[1] - end[1], start[0] - end[0])
    long = hypot(end[0] - start[0], end[1] - start[1]) / 4
    barbs = [(end[0] + long * cos(a), end[1] + long * sin(a)) for a in (back - _BARB, back + _BARB)]
    return [[start, end], [barbs[0], end, barbs[1]]]


_LINES: dict[str, Callable[[Point, Point], list[Line]]] = {
    "circle": _circle,
    "box": _box,
    "arrow": _arrow,
}


def _crop_box(mark: Mark, picture: Image.Image) -> tuple[int, int, int, int]:
    (x1, y1), (x2, y2) = _pixels(mark, picture)
    left, right = _span(x1, x2, picture.width)
    top, bottom = _span(y1, y2, picture.height)
    return left, top, right, bottom


def _span(one: float, other: float, side: int) -> tuple[int, int]:
    """Return whole pixels within the side; at least one, whichever way round it was drawn."""
    low, high = sorted((round(one), round(other)))
    low = min(max(low, 0), side - 1)
    return low, min(max(high, low + 1), side)

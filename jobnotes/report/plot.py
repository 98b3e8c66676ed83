"""A series of readings as a small line drawing: where its marks stand.

Nothing depends on colour: rings are readings before a repair, discs are all others, and the first
and the last mark have their figures beside them.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from jobnotes.report.machine import Series

WIDE, TALL = 220.0, 84.0  # points, or units of a screen's drawing
SIDE, HEAD, FOOT = 30.0, 18.0, 30.0  # free of marks, for the words
RADIUS = 3.2
SIZE = 8.0
DAY = 4.0  # the line of the days


@dataclass(frozen=True)
class Mark:
    """One reading in a drawing whose origin is its lower left corner.

    `label`, which may be empty, stands centred over `x` at `label_y`, clear of the drawing's line.
    """

    x: float
    y: float
    hollow: bool
    label: str
    label_y: float
    day: str


def marks(series: Series) -> tuple[Mark, ...]:
    """Place the readings that are not in doubt: days from left to right, values upwards."""
    days = [one.day.toordinal() for one in series.sure]
    values = [one.value for one in series.sure]
    count = len(values)
    xs = _spread(days if len(set(days)) > 1 else range(count), SIDE, WIDE - SIDE)
    ys = _spread(values, FOOT, TALL - HEAD)
    ends = (0, count - 1)
    return tuple(
        Mark(
            x=xs[n],
            y=ys[n],
            hollow=one.phase == "before",
            label=one.text.partition(" (")[0] if n in ends else "",
            label_y=_beside(ys, n),
            day=f"{one.day}" if n in ends else "",
        )
        for n, one in enumerate(series.sure)
    )


def _beside(ys: Sequence[float], n: int) -> float:
    """Return the line of a label: under its mark where the next mark is higher, else above."""
    neighbour = ys[1] if n == 0 else ys[n - 1]
    return ys[n] - RADIUS - SIZE if neighbour > ys[n] else ys[n] + RADIUS + 4


def _spread(values: Sequence[float], low: float, high: float) -> list[float]:
    """Map values onto a stretch, the least at its beginning; equal ones to its middle."""
    least, most = min(values), max(values)
    if least == most:
        return [(low + high) / 2 for _ in values]
    return [low + (value - least) / (most - least) * (high - low) for value in values]

"""How far the camera's clock is from the recorder's, told by the spoken photo marks."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import product
from statistics import median

from jobnotes.photos.rules import section

_TRIED = 12  # offsets that are looked at closely


def pairs(photos: Sequence[float], marks: Sequence[float], reach: float) -> list[tuple[int, int]]:
    """Return which photo goes with which mark: as many as can be within reach, nearest first.

    Both are seconds in ascending order; order is kept, and each goes with at most one.
    """
    best: list[list[tuple[int, float]]] = [[(0, 0.0)] * (len(marks) + 1)]
    for photo in photos:
        row = [(0, 0.0)]
        for column, mark in enumerate(marks):
            apart = abs(photo - mark)
            count, cost = best[-1][column]
            together = [(count + 1, cost - apart)] if apart <= reach else []
            row.append(max(row[-1], best[-1][column + 1], *together))
        best.append(row)
    return _traced(best)


def _traced(best: Sequence[Sequence[tuple[int, float]]]) -> list[tuple[int, int]]:
    """Walk back from the best total to the pairs that it is made of."""
    found: list[tuple[int, int]] = []
    row, column = len(best) - 1, len(best[0]) - 1
    while row and column:
        if best[row][column] == best[row - 1][column]:
            row -= 1
        elif best[row][column] == best[row][column - 1]:
            column -= 1
        else:
            row, column = row - 1, column - 1
            found.append((row, column))
    return found[::-1]


def clock_offset(photos: Sequence[float], marks: Sequence[float]) -> float | None:
    """Return the seconds that the camera is ahead of the recorder, or None where nothing tells.

    It is the offset at which most marks have a photo within reach; the further off, the more of
    them must agree (rules.toml, clock.trust).
    """
    reach = section("clock")["reach_s"]
    for offset in _likely(photos, marks, reach):
        shifted = [photo - offset for photo in photos]
        found = pairs(shifted, marks, reach)
        exact = median(photos[photo] - marks[mark] for photo, mark in found)
        if len(found) >= _needed(exact, min(len(photos), len(marks))):
            return exact
    return None


def _likely(photos: Sequence[float], marks: Sequence[float], reach: float) -> list[float]:
    """Return offsets worth a look: those that bring most photos near a mark, then the smallest."""
    offsets = sorted(photo - mark for photo, mark in product(photos, marks))
    support = {
        offset: bisect_right(offsets, offset + reach) - bisect_left(offsets, offset - reach)
        for offset in offsets
    }
    likely = sorted(support, key=lambda offset: (-support[offset], abs(offset)))[:_TRIED]
    return sorted(likely, key=lambda offset: (-_fit(photos, marks, offset, reach), abs(offset)))


def _fit(photos: Sequence[float], marks: Sequence[float], offset: float, reach: float) -> int:
    return len(pairs([photo - offset for photo in photos], marks, reach))


def _needed(offset: float, possible: int) -> float:
    """Return how many marks must agree: at least half of all for a clock more than seconds off."""
    trust = section("clock")["trust"]
    step = next(step for step in trust if abs(offset) <= step["off_s"])
    return float(max(step["marks"], 0 if step is trust[0] else possible / 2))

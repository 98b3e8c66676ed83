"""Whether a photo shows anything: how sharp and how bright it is."""

import numpy
from numpy.typing import NDArray
from PIL import Image

from jobnotes.record import Flag

SHARP_ENOUGH = 0.4
"""Set on 13 sample pictures of scikit-image and scikit-learn: as they are, and with noise added,
all measured above 0.5; blurred by two pixels or more, of 1024 along the long side, below 0.4."""

SIDE = 1024
"""Long side in pixels on which sharpness is measured; averaging down removes most noise."""

BRIGHT_ENOUGH = 0.12
"""A mean of 12 %: an indoor picture about three stops under; common practice, no source."""

_BLUR = 9  # width in pixels of the blur that the picture is compared with
_NOISE = 4.0  # steps between neighbours, of 255, that may be noise
_TILES = 8  # tiles along a side
_BEST = 16  # of the tiles, those with most detail count: the background may be soft

Grey = NDArray[numpy.float64]


def measured(picture: Image.Image) -> tuple[float, float]:
    """Return the sharpness and the brightness of a picture, each from 0 to 1.

    Sharpness is the part of the steps between neighbouring pixels that a blur takes away, where
    there is most detail: little in a picture that is blurred already. Brightness is the mean.
    """
    small = picture.convert("L")
    small.thumbnail((SIDE, SIDE), Image.Resampling.BOX)
    grey = numpy.asarray(small, dtype=numpy.float64)
    return min(_sharpness(grey), _sharpness(grey.T)), float(grey.mean() / 255)


def doubts(sharpness: float, brightness: float) -> tuple[Flag, ...]:
    """Return the flag of a photo that is dark or, in enough light, blurred."""
    if brightness < BRIGHT_ENOUGH:
        return (Flag(by="photos", code="dark", why="The photo is dark: take it again with light."),)
    if sharpness < SHARP_ENOUGH:
        return (Flag(by="photos", code="blurred", why="The photo is blurred: take it again."),)
    return ()


def _sharpness(grey: Grey) -> float:
    """Measure along the rows; 0 where a picture has no detail or is too small to tell."""
    if grey.shape[1] <= _BLUR + _TILES or grey.shape[0] < _TILES:
        return 0.0
    edge = _BLUR // 2
    steps = numpy.abs(numpy.diff(grey[:, edge:-edge], axis=1)) - _NOISE
    steps = numpy.maximum(steps, 0)
    lost = numpy.maximum(steps - numpy.abs(numpy.diff(_blurred(grey), axis=1)), 0)
    tiles = sorted(zip(_tile_sums(steps), _tile_sums(lost), strict=True), reverse=True)[:_BEST]
    return float(numpy.median([gone / max(there, 1e-6) for there, gone in tiles]))


def _blurred(grey: Grey) -> Grey:
    sums = numpy.cumsum(numpy.pad(grey, ((0, 0), (1, 0))), axis=1)
    return (sums[:, _BLUR:] - sums[:, :-_BLUR]) / _BLUR


def _tile_sums(steps: Grey) -> list[float]:
    rows = numpy.array_split(steps, _TILES, axis=0)
    return [float(tile.sum()) for row in rows for tile in numpy.array_split(row, _TILES, axis=1)]

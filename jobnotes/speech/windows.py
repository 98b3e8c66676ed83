"""Windows for the recogniser: whole stretches of speech, long silences between them taken out."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from jobnotes.intake.audio import RATE
from jobnotes.speech.engine import Samples, Stretch

LONGEST_S = 28.0  # the recogniser hears 30 s at once; long windows give it the most context
_KEPT_PAUSE_S = 0.6  # of each silence, so that breaths still sound apart


@dataclass(frozen=True)
class Window:
    """Stretches heard together, and the pieces of the sound (stretch and its kept pauses)."""

    stretches: tuple[Stretch, ...]
    pieces: tuple[Stretch, ...]

    @property
    def length_s(self) -> float:
        """Return the seconds of sound in the window."""
        return sum(piece.length_s for piece in self.pieces)

    def cut(self, samples: Samples) -> Samples:
        """Return the samples of the window."""
        bounds = [(int(p.start_s * RATE), int(p.end_s * RATE)) for p in self.pieces]
        return np.concatenate([samples[first:stop] for first, stop in bounds])

    def place(self, start_s: float, end_s: float) -> tuple[float, float]:
        """Turn seconds of the window into seconds of the sound, kept inside one stretch."""
        middle, before = (start_s + end_s) / 2, 0.0
        for number, piece in enumerate(self.pieces):
            if middle < before + piece.length_s or number == len(self.pieces) - 1:
                break
            before += piece.length_s
        stretch, moved = self.stretches[number], piece.start_s - before
        first = min(max(start_s + moved, stretch.start_s), stretch.end_s)
        return first, max(first, min(end_s + moved, stretch.end_s))


def windows(stretches: Sequence[Stretch], longest_s: float = LONGEST_S) -> tuple[Window, ...]:
    """Put stretches together, in order, into as few windows of at most `longest_s` as fit.

    A stretch that is longer by itself has a window of its own.
    """
    groups: list[list[Stretch]] = []
    for stretch in stretches:
        if groups and _length_s([*groups[-1], stretch]) <= longest_s:
            groups[-1].append(stretch)
        else:
            groups.append([stretch])
    return tuple(_window(group) for group in groups)


def _length_s(group: Sequence[Stretch]) -> float:
    return _KEPT_PAUSE_S + sum(
        stretch.length_s + (min(_KEPT_PAUSE_S, stretch.start_s - group[n - 1].end_s) if n else 0.0)
        for n, stretch in enumerate(group)
    )


def _window(group: Sequence[Stretch]) -> Window:
    half = _KEPT_PAUSE_S / 2
    pieces = []
    for n, stretch in enumerate(group):
        before = (stretch.start_s - group[n - 1].end_s) / 2 if n else half
        after = (group[n + 1].start_s - stretch.end_s) / 2 if n + 1 < len(group) else half
        start_s = max(0.0, stretch.start_s - min(half, before))
        pieces.append(Stretch(start_s, stretch.end_s + min(half, after)))
    return Window(tuple(group), tuple(pieces))

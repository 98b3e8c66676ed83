"""Where somebody speaks: voiced stretches by the Silero detector that faster-whisper ships."""

import numpy as np
from faster_whisper.vad import get_vad_model  # type: ignore[import-untyped]
from numpy.typing import NDArray

from jobnotes.intake.audio import RATE
from jobnotes.speech.engine import Samples, Stretch

FRAME = 512  # samples that the detector judges at once, at 16,000 a second
_ON, _OFF = 0.5, 0.35  # the detector's own advice: speech begins above _ON and ends below _OFF
_SHORTEST_PAUSE = 4  # frames (0.13 s): a stop consonant is shorter
_SHORTEST_SPEECH = 4  # frames: a click or a clink is shorter
_MARGIN = 3  # frames (0.1 s) added on either side, for soft beginnings and endings
_LONGEST = 850  # frames (27 s): what fits one window of the recogniser


def voice_in(samples: Samples) -> tuple[Stretch, ...]:
    """Return where speech is in mono samples, 16,000 a second."""
    if not samples.size:
        return ()
    whole = np.pad(samples, (0, -samples.size % FRAME))
    likely = np.asarray(get_vad_model()(whole), np.float32).ravel()
    return _stretches(likely, samples.size / RATE)


def _stretches(likely: NDArray[np.float32], length_s: float) -> tuple[Stretch, ...]:
    runs = _joined(_runs(likely))
    runs = [run for run in runs if run[1] - run[0] >= _SHORTEST_SPEECH]
    parts = [part for first, stop in runs for part in _parts(likely, first, stop)]
    return tuple(_widened(parts, n, likely.size, length_s) for n in range(len(parts)))


def _runs(likely: NDArray[np.float32]) -> list[tuple[int, int]]:
    """Frames from one that rises above _ON to the next that falls below _OFF."""
    runs: list[tuple[int, int]] = []
    start = -1
    for frame, value in enumerate(likely):
        if start < 0 and value >= _ON:
            start = frame
        elif start >= 0 and value < _OFF:
            runs.append((start, frame))
            start = -1
    return [*runs, (start, likely.size)] if start >= 0 else runs


def _joined(runs: list[tuple[int, int]]) -> list[tuple[int, int]]:
    joined: list[tuple[int, int]] = []
    for run in runs:
        if joined and run[0] - joined[-1][1] < _SHORTEST_PAUSE:
            joined[-1] = (joined[-1][0], run[1])
        else:
            joined.append(run)
    return joined


def _parts(likely: NDArray[np.float32], first: int, stop: int) -> list[tuple[int, int]]:
    """Cut a stretch that fits no window at its least voiced frame, away from its ends."""
    if stop - first <= _LONGEST:
        return [(first, stop)]
    low, high = first + _LONGEST // 2, min(first + _LONGEST, stop - 1)
    cut = low + int(likely[low:high].argmin())
    return [(first, cut), *_parts(likely, cut, stop)]


def _widened(parts: list[tuple[int, int]], n: int, frames: int, length_s: float) -> Stretch:
    """Add the margin, but no more than half the way to the neighbour."""
    before = parts[n - 1][1] if n else 0
    after = parts[n + 1][0] if n + 1 < len(parts) else frames
    first = max(parts[n][0] - _MARGIN, (before + parts[n][0]) / 2 if n else 0)
    stop = min(parts[n][1] + _MARGIN, (after + parts[n][1]) / 2 if n + 1 < len(parts) else frames)
    return Stretch(first * FRAME / RATE, min(stop * FRAME / RATE, length_s))

"""Real spoken digits joined into part numbers and readings: right, flagged, or silently wrong."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
from demo_scenes.noise import RATE, Sound, rms

from accuracy_parts.noises import SPEECH_LEVEL
from accuracy_parts.voices import read_wave

NAMES = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
AT_ONCE = 8  # numbers in one recording, with pauses of a second and a half between
LENGTHS = (6, 7, 8, 9, 3, 2)  # part numbers, then readings


def recordings(folder: Path, seed: int = 1) -> Iterator[tuple[str, list[str], Sound]]:
    """Yield speaker, numbers said (in words) and sound; files are DIGIT_SPEAKER_TAKE.wav."""
    speakers = sorted({path.stem.split("_")[1] for path in folder.glob("?_*_*.wav")})
    rng = np.random.default_rng(seed)
    for speaker in speakers:
        for length in LENGTHS:
            numbers = [rng.integers(0, 10, length) for _ in range(AT_ONCE)]
            sound = np.concatenate([_said(rng, folder, speaker, digits) for digits in numbers])
            yield speaker, [" ".join(NAMES[digit] for digit in digits) for digits in numbers], sound


def _said(rng: np.random.Generator, folder: Path, speaker: str, digits: np.ndarray) -> Sound:
    pieces = [np.zeros(int(1.5 * RATE))]
    for digit in digits:
        takes = sorted(folder.glob(f"{digit}_{speaker}_*.wav"))
        sound = read_wave(takes[rng.integers(len(takes))])
        pieces += [sound * SPEECH_LEVEL / rms(sound), np.zeros(int(rng.uniform(0.05, 0.2) * RATE))]
    return np.concatenate(pieces)

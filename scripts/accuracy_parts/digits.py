"""Real spoken digits joined into part numbers and readings: right, flagged, or silently wrong."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
from demo_scenes.noise import RATE, Sound, rms

from accuracy_parts.noises import SPEECH_LEVEL
from accuracy_parts.voices import read_wave

NAMES = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
TIMES = 4  # numbers of each length and speaker
LENGTHS = (6, 7, 8, 9, 3, 2)  # part numbers, then readings


def recordings(folder: Path, seed: int = 1) -> Iterator[tuple[str, str, Sound]]:
    """Yield speaker, number said (in words) and sound; files are DIGIT_SPEAKER_TAKE.wav.

    Each number has its own sound, as without a word between them two numbers run into one.
    """
    speakers = sorted({path.stem.split("_")[1] for path in folder.glob("?_*_*.wav")})
    rng = np.random.default_rng(seed)
    for speaker in speakers:
        for length in LENGTHS * TIMES:
            digits = rng.integers(0, 10, length)
            said = " ".join(NAMES[digit] for digit in digits)
            yield speaker, said, _said(rng, folder, speaker, digits)


def _said(rng: np.random.Generator, folder: Path, speaker: str, digits: np.ndarray) -> Sound:
    pieces = [np.zeros(RATE // 2)]
    for digit in digits:
        takes = sorted(folder.glob(f"{digit}_{speaker}_*.wav"))
        sound = read_wave(takes[rng.integers(len(takes))])
        pieces += [sound * SPEECH_LEVEL / rms(sound), np.zeros(int(rng.uniform(0.05, 0.2) * RATE))]
    return np.concatenate(pieces)

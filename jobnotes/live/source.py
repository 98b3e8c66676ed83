"""Where live sound comes from: a microphone, or a file that is played as if into one."""

import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple, Protocol

import numpy as np

from jobnotes.intake.audio import RATE, blocks
from jobnotes.speech.engine import Samples
from jobnotes.spool.wav import Pcm

BLOCK_S = 0.1  # of sound at once: what is not on disk yet when a program is killed
_FULL = 1 << 15  # of a 16-bit sample


class Block(NamedTuple):
    """Samples (mono, 16 bits, 16,000 a second); `gap` when sound before them was lost."""

    samples: Pcm
    gap: bool = False


class Source(Protocol):
    """Anything that gives sound as it is spoken."""

    def blocks(self) -> Iterator[Block]:
        """Yield sound until there is no more; raises DictationError when it breaks off."""
        ...


@dataclass(frozen=True)
class FileSource:
    """A sound file, played at the speed of speech; `speed` 2 plays it twice as fast."""

    path: Path
    speed: float = 1.0

    def blocks(self) -> Iterator[Block]:
        """Yield the sound of the file in its own time; raises InputError as `intake.audio` does."""
        begun = time.monotonic()
        for number, block in enumerate(blocks(self.path, BLOCK_S), 1):
            time.sleep(max(0.0, begun + number * BLOCK_S / self.speed - time.monotonic()))
            yield Block(as_pcm(block))


def as_pcm(samples: Samples) -> Pcm:
    """Return samples of -1 to 1 as 16-bit ones."""
    return np.clip(np.round(samples * _FULL), -_FULL, _FULL - 1).astype(np.int16)


def as_floats(samples: Pcm) -> Samples:
    """Return samples as recognisers take them, -1 to 1."""
    return samples.astype(np.float32) / np.float32(_FULL)


def seconds(samples: Pcm) -> float:
    """Return how long samples last."""
    return samples.size / RATE

"""What a recogniser is: samples in, words with seconds and doubts out."""

from dataclasses import dataclass
from math import inf
from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from jobnotes.record import Flag, Word

Samples = NDArray[np.float32]

# A breath ends at a pause of this many seconds. Pauses inside a phrase, also those of somebody who
# spells a number digit by digit, are mostly shorter; between statements they are mostly longer.
BREATH_S = 0.6

# What every number carries that was heard while it was spoken, and is to be heard again.
NOT_CHECKED = Flag(
    by="speech",
    code="heard-once",
    why="Heard once, quickly; it is checked when the whole recording is heard.",
)


class Stretch(NamedTuple):
    """Seconds of unbroken speech."""

    start_s: float
    end_s: float

    @property
    def length_s(self) -> float:
        """Return its length."""
        return self.end_s - self.start_s


@dataclass(frozen=True)
class Said:
    """A word of a second opinion, which needs no seconds.

    `margin` is by how much (natural logarithm of the ratio of probabilities) the model preferred it
    to the number that sounds like it; infinite where there is none.
    """

    text: str
    probability: float = 1.0
    margin: float = inf


@dataclass(frozen=True)
class Heard:
    """Words in order (`recording` empty, `index` from 0, seconds from the first sample).

    `lost` are stretches in which somebody speaks but nothing was understood.
    """

    words: tuple[Word, ...]
    lost: tuple[Stretch, ...] = ()


class Recogniser(Protocol):
    """Anything that hears words in sound."""

    def hear(self, samples: Samples) -> Heard:
        """Return what is said in mono samples, 16,000 a second, -1 to 1."""
        ...

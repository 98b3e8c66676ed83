"""Hearing a dictation piece by piece, in a thread of its own, while it is being recorded."""

from collections.abc import Callable, Sequence
from queue import SimpleQueue
from threading import Thread

import numpy as np

from jobnotes.errors import JobnotesError
from jobnotes.intake.audio import RATE
from jobnotes.live.cutting import cut_at, silent_from
from jobnotes.live.source import as_floats, seconds
from jobnotes.speech.engine import Samples, Stretch
from jobnotes.spool.wav import Pcm

_LOOK_S = 0.3  # of new sound before it is looked at
_SILENCE_S = 120.0  # without speech, after which that is told
_SILENT = (
    f"Nobody has been heard for {_SILENCE_S / 60:.0f} minutes; recording goes on."
    " Is the microphone on, and near enough?"
)

Hear = Callable[[Samples, float], None]
Tell = Callable[[str], None]


class Hearer:
    """Cuts the sound that it is given at pauses, and has each piece heard; recording goes on.

    `prepare` makes what hears a piece (samples, and the second at which they begin), which takes
    seconds. Where it raises an error of ours the reason is told, and nothing is heard.
    """

    def __init__(self, prepare: Callable[[], Hear], tell: Tell) -> None:
        """Begin to prepare; sound may be given at once."""
        self._prepare, self._tell = prepare, tell
        self._sound: SimpleQueue[Pcm | None] = SimpleQueue()
        self._held = np.zeros(0, np.int16)
        self._held_from_s, self._spoken_until_s, self._silence_told = 0.0, 0.0, False
        self._thread = Thread(target=self._work, name="hearer", daemon=True)
        self._thread.start()

    def add(self, samples: Pcm) -> None:
        """Give it sound; returns at once."""
        self._sound.put(samples)

    def close(self) -> None:
        """Let it hear what it has been given, and wait until it has."""
        self._sound.put(None)
        self._thread.join()

    def _work(self) -> None:
        try:
            hear = self._prepare()
        except JobnotesError as error:
            self._tell(f"No words can be shown, but recording goes on: {error}")
            return
        fresh_s = 0.0
        while (samples := self._sound.get()) is not None:
            self._held = np.concatenate([self._held, samples])
            fresh_s += seconds(samples)
            if fresh_s >= _LOOK_S and self._sound.empty():  # all that came meanwhile at once
                self._look(hear)
                fresh_s = 0.0
        self._cut(hear, seconds(self._held))

    def _look(self, hear: Hear) -> None:
        from jobnotes.speech.voice import voice_in

        length_s = seconds(self._held)
        stretches = voice_in(as_floats(self._held))
        self._heed_silence(stretches, length_s)
        if until_s := cut_at(stretches, length_s):
            self._cut(hear, until_s)
        else:
            self._let_go(silent_from(stretches, length_s))

    def _cut(self, hear: Hear, until_s: float) -> None:
        piece, at_s = as_floats(self._held[: int(until_s * RATE)]), self._held_from_s
        self._let_go(until_s)
        hear(piece, at_s)

    def _let_go(self, until_s: float) -> None:
        count = int(until_s * RATE)
        self._held = self._held[count:]
        self._held_from_s += count / RATE

    def _heed_silence(self, stretches: Sequence[Stretch], length_s: float) -> None:
        """Tell once that nobody has been heard for long; it may be told again after speech."""
        if stretches:
            self._spoken_until_s = self._held_from_s + stretches[-1].end_s
            self._silence_told = False
        silent_s = self._held_from_s + length_s - self._spoken_until_s
        if silent_s >= _SILENCE_S and not self._silence_told:
            self._silence_told = True
            self._tell(_SILENT)

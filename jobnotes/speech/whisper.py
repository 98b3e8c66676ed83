"""The recogniser of the product: a local Whisper model with guards and second opinions."""

import os
from collections.abc import Sequence
from itertools import chain
from pathlib import Path

from jobnotes.record import Word
from jobnotes.speech.engine import Heard, Said, Samples, Stretch
from jobnotes.speech.guards import is_silence, loop_in, uncovered, within, without_repeats
from jobnotes.speech.listener import Listener, Take
from jobnotes.speech.meant import with_meaning
from jobnotes.speech.second import doubted
from jobnotes.speech.voice import voice_in
from jobnotes.speech.weights import SECOND, locate
from jobnotes.speech.windows import Window, windows

_MOST_WORKERS = 4  # batches heard at once; each takes memory of its own


class WhisperRecogniser:
    """Hears English with a Whisper model, offline; the same sound gives the same words.

    Numbers are heard three times: in words, in figures, and in words by a second model. Only where
    all three agree does a number go without a flag.
    """

    def __init__(self, listener: Listener, second: Listener) -> None:
        """Take two loaded models: the one whose words count, and the one that doubts."""
        self._listener = listener
        self._second = second

    @classmethod
    def load(cls, model: str | Path = "base", *, allow_hub: bool = False) -> "WhisperRecogniser":
        """Load weights by name or folder; raises SpeechModelError if they are not whole."""
        workers = min(_MOST_WORKERS, os.cpu_count() or 1)
        listener = Listener(locate(model, allow_hub), workers)
        return cls(listener, Listener(locate(SECOND), workers))

    def hear(self, samples: Samples) -> Heard:
        """Return the words in mono samples, 16,000 a second, with flags where they are in doubt."""
        stretches = voice_in(samples)
        words = self._words(samples, windows(stretches))
        missed = uncovered(stretches, words)
        for breath in missed:
            inside = [one for one in stretches if breath.start_s <= one.start_s < breath.end_s]
            words = _better(words, self._words(samples, windows(inside)), breath)
        numbered = tuple(word.having(index=n) for n, word in enumerate(words))
        return Heard(numbered, tuple(uncovered(stretches, words)))

    def _words(self, samples: Samples, cuts: Sequence[Window]) -> list[Word]:
        heard = self._listener.listen(samples, cuts)
        others = self._second.opine(samples, cuts)
        parts = [
            self._settled(samples, window, take, other)
            for window, take, other in zip(cuts, heard, others, strict=True)
        ]
        return list(chain.from_iterable(parts))

    def _settled(
        self, samples: Samples, window: Window, take: Take, other: Sequence[Said]
    ) -> list[Word]:
        """Return the words of a window; one that runs in a loop is heard again in halves."""
        if is_silence(take):
            return []
        if loop_in(take.words) is None:
            meant = with_meaning(take.words, take.opinion, other)
            return doubted(meant, take.opinion, other)
        if len(window.stretches) > 1:
            half = len(window.stretches) // 2
            parts = window.stretches[:half], window.stretches[half:]
            return self._words(samples, [windows(part)[0] for part in parts])
        return without_repeats(take.words)


def _better(words: list[Word], again: list[Word], breath: Stretch) -> list[Word]:
    """Take the second hearing of a breath where it gave more words."""
    before = within(breath, words)
    if len(again) <= len(before):
        return words
    rest = [word for word in words if word not in before]
    return sorted([*rest, *again], key=lambda word: word.start_s)

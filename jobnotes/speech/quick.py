"""The first hearing of what is still being spoken: one model, once, in time for the bench."""

from collections.abc import Sequence
from functools import cache

from jobnotes.record import Word
from jobnotes.speech.engine import NOT_CHECKED, Heard, Samples
from jobnotes.speech.guards import is_silence, uncovered, without_repeats
from jobnotes.speech.listener import Listener
from jobnotes.speech.second import doubted_alone
from jobnotes.speech.voice import voice_in
from jobnotes.speech.weights import SECOND, locate
from jobnotes.speech.windows import Window, windows


class QuickRecogniser:
    """Hears short pieces of English within a second or so; nothing in them is heard again.

    Every word of a number carries a flag: the one that says what makes it doubtful, else
    NOT_CHECKED. The words are for the screen; those of the record come from `WhisperRecogniser`.
    """

    def __init__(self, listener: Listener) -> None:
        """Take a loaded model."""
        self._listener = listener

    def hear(self, samples: Samples) -> Heard:
        """Return the words in mono samples, 16,000 a second, their numbers flagged."""
        stretches = voice_in(samples)
        words = [word for window in windows(stretches) for word in self._words(samples, window)]
        numbered = tuple(word.having(index=n) for n, word in enumerate(words))
        return Heard(numbered, tuple(uncovered(stretches, words)))

    def _words(self, samples: Samples, window: Window) -> Sequence[Word]:
        take = self._listener.glance(samples, window)
        if is_silence(take):
            return ()
        return without_repeats(doubted_alone(take.words, NOT_CHECKED))


@cache
def quick_recogniser() -> QuickRecogniser:
    """Return the one that this program keeps loaded; raises SpeechModelError without weights.

    It hears with tiny.en whatever the shop has chosen: base, which knows many languages, says
    things over and over in sound that is not filled up to half a minute.
    """
    return QuickRecogniser(Listener(locate(SECOND), workers=1))

"""Where nobody speaks there are no words, and speech without words is heard again, then flagged."""

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import pytest

from jobnotes.intake.audio import RATE, decode
from jobnotes.record import Word
from jobnotes.speech.engine import Heard, Said, Samples
from jobnotes.speech.listener import Take
from jobnotes.speech.quick import QuickRecogniser, quick_recogniser
from jobnotes.speech.whisper import WhisperRecogniser
from jobnotes.speech.windows import Window

SECONDS = 12
T = np.arange(SECONDS * RATE) / RATE
Sound = np.ndarray


def chord(*pitches: float) -> Sound:
    return sum(np.sin(2 * np.pi * n * pitch * T) / n for pitch in pitches for n in (1, 2, 3))


def music(rng: np.random.Generator) -> Sound:
    """Two chords in turn, and a drum twice a second."""
    turn = np.floor(T / 2) % 2
    drum = rng.standard_normal(T.size) * np.exp(-(T % 0.5) / 0.02)
    return turn * chord(220, 277, 330) + (1 - turn) * chord(196, 247, 294) + 3 * drum


def hammering(rng: np.random.Generator) -> Sound:
    """Blows on steel, one in 0.7 s: some ringing tones that die away."""
    ring = sum(np.sin(2 * np.pi * pitch * T) for pitch in (1900, 3270, 5140))
    return ring * np.exp(-(T % 0.7) / 0.03) + 0.001 * rng.standard_normal(T.size)


def grinder(rng: np.random.Generator) -> Sound:
    """A whine whose pitch sinks under load, over broad hiss."""
    turn = 2 * np.pi * np.cumsum(180 - 25 * (np.sin(T) > 0)) / RATE
    return sum(np.sin(n * turn) / n for n in (1, 2, 7, 8)) + rng.standard_normal(T.size)


def impact_wrench(rng: np.random.Generator) -> Sound:
    """Bursts of blows, twenty a second, with pauses."""
    blows = np.exp(-(T % 0.05) / 0.008) * (T % 3 < 1.2)
    return blows * (rng.standard_normal(T.size) + np.sin(2 * np.pi * 850 * T))


def loud(make: Callable[[np.random.Generator], Sound]) -> Samples:
    sound = make(np.random.default_rng(5))
    return (0.2 * sound / np.sqrt(np.mean(sound**2))).astype(np.float32)


@pytest.mark.parametrize("make", [music, hammering, grinder, impact_wrench])
def test_music_and_tools_hold_no_word(
    recogniser: WhisperRecogniser, make: Callable[[np.random.Generator], Sound]
) -> None:
    assert recogniser.hear(loud(make)).words == ()


@pytest.mark.parametrize("make", [music, hammering, grinder, impact_wrench])
def test_music_and_tools_hold_no_word_while_dictating(
    weights: Path, make: Callable[[np.random.Generator], Sound]
) -> None:
    assert quick_recogniser().hear(loud(make)).words == ()


class Deaf:
    """Hears nothing at first, and what it is given from the hearing `until` on."""

    def __init__(self, until: int, text: str = "the battery reads twelve volts") -> None:
        self.times, self._until, self._text = 0, until, text

    def listen(self, samples: Samples, windows: Sequence[Window]) -> list[Take]:
        self.times += 1
        return [self.glance(samples, window) for window in windows]

    def glance(self, samples: Samples, window: Window) -> Take:
        said = self._text.split() if self.times >= self._until else []
        start_s = window.stretches[0].start_s
        words = tuple(
            Word(recording="", index=n, text=text, start_s=start_s + n / 9, end_s=start_s + n / 9)
            for n, text in enumerate(said)
        )
        return Take(words, no_speech=0.0, likelihood=0.0, opinion=tuple(map(Said, said)))

    def opine(self, samples: Samples, windows: Sequence[Window]) -> list[tuple[Said, ...]]:
        return [()] * len(windows)


@pytest.fixture(scope="module")
def sentence(audio: Path) -> Samples:
    return decode(audio / "readings.ogg")[: int(3.3 * RATE)]


def test_speech_in_which_no_word_was_heard_is_heard_again(sentence: Samples) -> None:
    listener = Deaf(until=2)
    heard = WhisperRecogniser(listener, listener).hear(sentence)
    assert listener.times == 2
    assert [word.text for word in heard.words] == ["the", "battery", "reads", "twelve", "volts"]
    assert heard.lost == ()


def test_speech_in_which_no_word_is_heard_twice_is_told_as_lost(sentence: Samples) -> None:
    (lost,) = WhisperRecogniser(Deaf(until=9), Deaf(until=9)).hear(sentence).lost
    assert (lost.start_s, lost.end_s) == pytest.approx((0.50, 2.78), abs=0.25)


def test_speech_that_was_not_understood_while_dictating_is_told_as_lost(sentence: Samples) -> None:
    heard = QuickRecogniser(Deaf(until=9)).hear(sentence)
    assert heard.words == ()
    assert len(heard.lost) == 1


def test_words_in_silence_are_never_asked_for() -> None:
    listener = Deaf(until=0)
    silence = np.zeros(5 * RATE, np.float32)
    assert WhisperRecogniser(listener, listener).hear(silence) == Heard(())

import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from jobnotes.intake.audio import RATE, decode
from jobnotes.record import Word
from jobnotes.speech.engine import NOT_CHECKED, Heard, Samples
from jobnotes.speech.listener import Take
from jobnotes.speech.quick import QuickRecogniser, quick_recogniser
from jobnotes.speech.windows import Window

# The first two sentences of readings.ogg, each from pause to pause: tests/audio/README.md.
SENTENCES = {"twelve point four volts": (0.2, 3.3), "one hundred and ten": (3.3, 6.6)}


@pytest.fixture(scope="module")
def quick(weights: Path) -> QuickRecogniser:
    return quick_recogniser()


@pytest.fixture(scope="module")
def speech(audio: Path) -> Samples:
    return decode(audio / "readings.ogg")


def piece(speech: Samples, said: str) -> Samples:
    start_s, end_s = SENTENCES[said]
    return speech[int(start_s * RATE) : int(end_s * RATE)]


def text(heard: Heard) -> str:
    return re.sub(r"[^a-z]+", " ", " ".join(word.text for word in heard.words).lower())


@pytest.mark.parametrize("said", SENTENCES)
def test_a_sentence_is_heard_from_its_own_seconds_alone(
    quick: QuickRecogniser, speech: Samples, said: str
) -> None:
    assert said in text(quick.hear(piece(speech, said)))


def test_every_number_and_nothing_else_is_marked_as_not_checked(
    quick: QuickRecogniser, speech: Samples
) -> None:
    heard = quick.hear(piece(speech, "twelve point four volts"))
    marked = [word.text for word in heard.words if NOT_CHECKED in word.flags]
    assert marked == ["twelve", "point", "four"]


def test_words_have_the_seconds_in_which_they_are_said(
    quick: QuickRecogniser, speech: Samples
) -> None:
    first, *_, last = quick.hear(piece(speech, "one hundred and ten")).words
    assert first.start_s == pytest.approx(3.78 - 3.3, abs=0.25)
    assert last.end_s == pytest.approx(6.08 - 3.3, abs=0.4)


def test_speech_longer_than_a_window_is_heard_to_its_end(
    quick: QuickRecogniser, speech: Samples
) -> None:
    heard = quick.hear(np.tile(speech, 2))
    assert text(heard).count("twelve point four volts") == 2
    assert text(heard).count("dirt") == 2


@dataclass(frozen=True)
class Mumbled:
    """Hears one number, of which it is not sure."""

    def glance(self, samples: Samples, window: Window) -> Take:
        word = Word(recording="", index=0, text="fifty", start_s=0, end_s=1, probability=0.3)
        return Take((word,), no_speech=0.0, likelihood=0.0)


def test_a_number_that_is_not_clear_says_so_instead(speech: Samples) -> None:
    (word,) = QuickRecogniser(Mumbled()).hear(speech[: 3 * RATE]).words
    assert [flag.code for flag in word.flags] == ["unsure-number"]


def test_silence_and_hiss_hold_no_word(quick: QuickRecogniser) -> None:
    hiss = 0.05 * np.random.default_rng(1).standard_normal(10 * RATE)
    for sound in (np.zeros(10 * RATE), hiss):
        assert quick.hear(sound.astype(np.float32)) == Heard(())


def test_the_model_is_loaded_once(weights: Path) -> None:
    assert quick_recogniser() is quick_recogniser()

import re
from pathlib import Path

import numpy as np
import pytest

from jobnotes.intake.audio import RATE, decode
from jobnotes.speech.engine import Heard, Samples
from jobnotes.speech.transcribe import breaths
from jobnotes.speech.whisper import WhisperRecogniser

# What is said in readings.ogg, and where each sentence begins: tests/audio/README.md.
NUMBERS = [
    "twelve point four volts",
    "one hundred and ten",
    "six thousandths",
    "thirty six hundred rpm",
]
BEGINS = [0.50, 3.78, 7.08, 10.48, 14.17]


def text(heard: Heard) -> str:
    said = " ".join(word.text for word in heard.words).lower()
    return re.sub(r"[^a-z0-9]+", " ", said)


@pytest.fixture(scope="module")
def speech(audio: Path) -> Samples:
    return decode(audio / "readings.ogg")


@pytest.fixture(scope="module")
def heard(recogniser: WhisperRecogniser, speech: Samples) -> Heard:
    return recogniser.hear(speech)


def noise(seconds: float) -> Samples:
    """An engine of our own making: hum with harmonics that swells, and hiss."""
    t = np.arange(int(seconds * RATE)) / RATE
    hum = sum(np.sin(2 * np.pi * 62 * n * t) / n for n in (1, 2, 3, 5, 8))
    hiss = np.random.default_rng(7).normal(size=t.size)
    sound = (hum + 0.5 * hiss) * (1 + 0.3 * np.sin(2 * np.pi * 3 * t))
    return (sound / np.sqrt(np.mean(sound**2))).astype(np.float32)


@pytest.mark.parametrize("said", NUMBERS)
def test_numbers_are_heard_in_words(heard: Heard, said: str) -> None:
    assert said in text(heard)


def test_no_figure_is_written(heard: Heard) -> None:
    assert not re.search(r"[0-9$%]", " ".join(word.text for word in heard.words))


def test_numbers_that_were_heard_right_carry_no_flag(heard: Heard) -> None:
    assert [word.text for word in heard.words if word.flags] == []


def test_every_sentence_is_a_breath_that_begins_when_it_is_said(heard: Heard) -> None:
    begun = [heard.words[breath.first].start_s for breath in breaths(heard.words)]
    assert begun == pytest.approx(BEGINS, abs=0.2)


def test_the_same_sound_gives_the_same_words(
    recogniser: WhisperRecogniser, speech: Samples, heard: Heard
) -> None:
    assert recogniser.hear(speech) == heard


def test_noise_under_speech_leaves_the_numbers(
    recogniser: WhisperRecogniser, speech: Samples
) -> None:
    level = float(np.sqrt(np.mean(speech**2))) / 10 ** (12 / 20)  # 12 dB below the speech
    noisy = recogniser.hear(speech + level * noise(speech.size / RATE)[: speech.size])
    assert [said for said in NUMBERS if said not in text(noisy)] == []


def test_words_after_a_minute_of_silence_have_the_seconds_of_the_sound(
    recogniser: WhisperRecogniser, speech: Samples
) -> None:
    late = recogniser.hear(np.concatenate([np.zeros(60 * RATE, np.float32), speech[: 3 * RATE]]))
    assert late.words[0].start_s == pytest.approx(60.5, abs=0.2)
    assert "twelve point four" in text(late)


@pytest.mark.parametrize(
    "sound",
    [np.zeros(0), np.zeros(20), np.zeros(20 * RATE), 0.05 * noise(20), 0.6 * noise(20)],
    ids=["nothing", "a click", "silence", "an engine far away", "an engine beside the phone"],
)
def test_where_nobody_speaks_nothing_is_heard(
    recogniser: WhisperRecogniser, sound: Samples
) -> None:
    assert recogniser.hear(sound.astype(np.float32)) == Heard(())


def test_a_number_that_is_heard_wrong_is_flagged(
    recogniser: WhisperRecogniser, audio: Path
) -> None:
    heard = recogniser.hear(decode(audio / "doubtful.ogg"))
    before = next(n for n, word in enumerate(heard.words) if word.text.lower() == "draws")
    assert "draws eighteen" not in text(heard)
    assert heard.words[before + 1].flags


def test_the_small_model_hears_too(weights: Path, speech: Samples) -> None:
    small = WhisperRecogniser.load("tiny.en").hear(speech[: int(3.3 * RATE)])
    assert "twelve point four volts" in text(small)

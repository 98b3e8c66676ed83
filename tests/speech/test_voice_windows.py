from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobnotes.intake.audio import RATE, decode
from jobnotes.speech.engine import Stretch
from jobnotes.speech.voice import voice_in
from jobnotes.speech.windows import LONGEST_S, windows

# Where the sentences of readings.ogg begin and end: tests/audio/README.md.
SENTENCES = [(0.50, 2.78), (3.78, 6.08), (7.08, 9.48), (10.48, 13.17), (14.17, 17.05)]


def test_every_sentence_lies_in_a_voiced_stretch(audio: Path) -> None:
    stretches = voice_in(decode(audio / "readings.ogg"))
    for start_s, end_s in SENTENCES:
        middle = (start_s + end_s) / 2
        assert any(one.start_s < middle < one.end_s for one in stretches)


def test_no_stretch_reaches_over_the_pause_between_sentences(audio: Path) -> None:
    stretches = voice_in(decode(audio / "readings.ogg"))
    pauses = [(a[1] + b[0]) / 2 for a, b in zip(SENTENCES, SENTENCES[1:], strict=False)]
    assert not [p for p in pauses if any(one.start_s < p < one.end_s for one in stretches)]


@pytest.mark.parametrize("samples", [0, 1, 511, RATE])
def test_silence_of_any_length_holds_no_voice(samples: int) -> None:
    assert voice_in(np.zeros(samples, np.float32)) == ()


def test_speech_without_a_pause_is_cut_to_fit_a_window(audio: Path) -> None:
    sentence = decode(audio / "readings.ogg")[int(0.6 * RATE) : int(2.7 * RATE)]
    stretches = voice_in(np.tile(sentence, 40))
    assert sum(one.length_s for one in stretches) > 60
    assert max(one.length_s for one in stretches) <= LONGEST_S


lengths = st.lists(st.tuples(st.floats(0.1, 27.0), st.floats(0.2, 60.0)), min_size=1, max_size=30)


def laid_out(pairs: list[tuple[float, float]]) -> list[Stretch]:
    stretches, now = [], 0.5
    for length, pause in pairs:
        stretches.append(Stretch(now, now + length))
        now += length + pause
    return stretches


@given(lengths)
def test_every_stretch_is_in_exactly_one_window_in_order(pairs: list[tuple[float, float]]) -> None:
    stretches = laid_out(pairs)
    assert [one for window in windows(stretches) for one in window.stretches] == stretches


@given(lengths)
def test_no_window_is_longer_than_what_is_heard_at_once(pairs: list[tuple[float, float]]) -> None:
    assert all(window.length_s <= 30.0 for window in windows(laid_out(pairs)))


@given(lengths)
def test_seconds_of_a_window_turn_back_into_seconds_of_the_sound(
    pairs: list[tuple[float, float]],
) -> None:
    for window in windows(laid_out(pairs)):
        before = 0.0
        for piece, stretch in zip(window.pieces, window.stretches, strict=True):
            shift = before - piece.start_s
            middle = (stretch.start_s + stretch.end_s) / 2
            placed = window.place(middle + shift - 0.04, middle + shift + 0.04)
            assert placed == pytest.approx((middle - 0.04, middle + 0.04), abs=1e-6)
            before += piece.length_s


def test_a_long_silence_is_not_heard(audio: Path) -> None:
    speech = decode(audio / "readings.ogg")
    apart = np.concatenate([speech, np.zeros(120 * RATE, np.float32), speech])
    cuts = windows(voice_in(apart))
    assert sum(window.length_s for window in cuts) < 2 * speech.size / RATE

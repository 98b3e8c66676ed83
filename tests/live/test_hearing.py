import time
from threading import Event

import numpy as np

from jobnotes.errors import SpeechModelError
from jobnotes.intake.audio import decode
from jobnotes.live.hearing import Hearer

SPEECH_ENDS_S = (2.78, 6.08, 9.48, 13.17, 17.05)  # tests/audio/README.md


def give(hearer: Hearer, samples: np.ndarray) -> None:
    for part in np.array_split(samples, max(1, samples.size // 1600)):
        hearer.add(part)


def wait_for(told: list[str]) -> None:
    until = time.monotonic() + 60
    while not told and time.monotonic() < until:
        time.sleep(0.05)


def test_speech_comes_in_pieces_that_together_are_all_of_it(audio):
    sound = np.round(decode(audio / "readings.ogg") * 32768).clip(-32768, 32767).astype(np.int16)
    heard: list[tuple[float, float]] = []
    hearer = Hearer(lambda: lambda s, at_s: heard.append((at_s, at_s + s.size / 16000)), print)
    give(hearer, sound)
    hearer.close()
    for end_s in SPEECH_ENDS_S:
        assert any(first < end_s - 1 and end_s <= last + 0.01 for first, last in heard)
    assert all(one[1] <= other[0] + 0.01 for one, other in zip(heard, heard[1:], strict=False))


def test_giving_sound_never_waits_for_the_hearing():
    may_hear, heard = Event(), []

    def slow():
        may_hear.wait()
        return lambda samples, at_s: heard.append(samples.size)

    hearer = Hearer(slow, print)
    give(hearer, np.ones(160_000, np.int16))  # returns, although nothing is heard yet
    assert heard == []
    may_hear.set()
    hearer.close()


def test_silence_of_minutes_is_told_once():
    told: list[str] = []
    hearer = Hearer(lambda: lambda samples, at_s: None, told.append)
    for seconds in (125, 1, 1):
        give(hearer, np.zeros(seconds * 16000, np.int16))
        wait_for(told)
    hearer.close()
    assert len(told) == 1
    assert "microphone" in told[0]


def test_a_recogniser_that_does_not_load_is_told_and_stops_nothing():
    def broken():
        raise SpeechModelError("The weights are gone.")

    told: list[str] = []
    hearer = Hearer(broken, told.append)
    give(hearer, np.ones(32_000, np.int16))
    hearer.close()
    assert "recording goes on" in told[0]

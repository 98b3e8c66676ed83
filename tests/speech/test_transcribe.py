from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import av
import numpy as np
import pytest

from jobnotes.errors import DamagedFileError
from jobnotes.intake.audio import RATE, decode
from jobnotes.record import Flag, Job, Recording, Utterance, Word
from jobnotes.speech.canned import CannedRecogniser
from jobnotes.speech.engine import Heard, Samples, Stretch
from jobnotes.speech.transcribe import breaths, transcribe, unheard

SAID = CannedRecogniser.saying("battery reads twelve volts\ncoil is cracked")


def write(path: Path, samples: Samples) -> Path:
    with av.open(str(path), "w", format="wav") as out:
        stream = out.add_stream("pcm_s16le", rate=RATE, layout="mono")
        frame = av.AudioFrame.from_ndarray(
            (samples * 32767).astype(np.int16)[None], format="s16", layout="mono"
        )
        frame.sample_rate = RATE
        out.mux(stream.encode(frame))
        out.mux(stream.encode(None))
    return path


def recording(name: str = "r1", **more: object) -> Recording:
    return Recording(id=name, name=f"{name}.wav", sha256="0" * 64, format="wav").having(**more)


def job(*recordings: Recording, **more: object) -> Job:
    made = Job(id="2026-0001", created_at=datetime(2026, 3, 14, tzinfo=UTC))
    return made.having(recordings=recordings, **more)


@pytest.fixture
def at(tmp_path: Path) -> Callable[[Recording], Path]:
    """Four seconds of silence for every recording."""
    path = write(tmp_path / "sound.wav", np.zeros(4 * RATE, np.float32))
    return lambda recording: path


def test_words_carry_their_recording_and_count_from_nought(at: Callable[..., Path]) -> None:
    heard = transcribe(job(recording()), SAID, at)
    assert [(w.recording, w.index) for w in heard.words] == [("r1", n) for n in range(7)]


def test_a_pause_ends_a_breath(at: Callable[..., Path]) -> None:
    heard = transcribe(job(recording()), SAID, at)
    assert [(u.index, u.first, u.last) for u in heard.utterances] == [(0, 0, 3), (1, 4, 6)]


def test_the_length_is_that_of_the_decoded_sound(at: Callable[..., Path]) -> None:
    assert transcribe(job(recording()), SAID, at).recordings[0].duration_s == 4.0


def test_recordings_keep_their_order_whichever_is_heard_first(at: Callable[..., Path]) -> None:
    second = transcribe(job(recording("r2")), SAID, at)
    both = second.having(recordings=(recording("r1"), *second.recordings))
    heard = transcribe(both, SAID, at)
    assert [w.recording for w in heard.words] == ["r1"] * 7 + ["r2"] * 7
    assert [u.recording for u in heard.utterances] == ["r1", "r1", "r2", "r2"]


def test_a_recording_that_has_words_is_left_alone(at: Callable[..., Path]) -> None:
    heard = transcribe(job(recording()), SAID, at)
    assert transcribe(heard, CannedRecogniser.saying("something else"), at) == heard


def test_hearing_again_replaces_the_words(at: Callable[..., Path]) -> None:
    heard = transcribe(job(recording()), SAID, at)
    other = transcribe(heard, CannedRecogniser.saying("something else"), at, again=True)
    assert [word.text for word in other.words] == ["something", "else"]
    assert len(other.utterances) == 1


def test_typed_lines_are_never_heard(at: Callable[..., Path]) -> None:
    typed = Recording(id="r1", name="typed", format="text")
    assert unheard(job(typed), again=True) == ()


def test_no_words_put_a_flag_on_the_recording(at: Callable[..., Path]) -> None:
    heard = transcribe(job(recording()), CannedRecogniser(()), at)
    assert [(flag.by, flag.code) for flag in heard.recordings[0].flags] == [("speech", "no-speech")]


def test_a_silent_recording_is_not_heard_twice(at: Callable[..., Path]) -> None:
    assert unheard(transcribe(job(recording()), CannedRecogniser(()), at)) == ()


def test_flags_of_other_stages_stay(at: Callable[..., Path]) -> None:
    flag = Flag(by="intake", code="clock", why="The clock was not set.")
    heard = transcribe(job(recording(flags=(flag,))), CannedRecogniser(()), at)
    again = transcribe(heard, SAID, at, again=True)
    assert again.recordings[0].flags == (flag,)


def test_a_recording_cut_short_says_so(tmp_path: Path) -> None:
    path = write(tmp_path / "sound.wav", np.zeros(4 * RATE, np.float32))
    path.write_bytes(path.read_bytes()[:-RATE])
    heard = transcribe(job(recording()), SAID, lambda recording: path)
    assert [flag.code for flag in heard.recordings[0].flags] == ["recording-cut-short"]


def test_a_file_that_does_not_decode_stops_the_stage(tmp_path: Path) -> None:
    path = tmp_path / "sound.flac"
    path.write_bytes(b"fLaC" + bytes(200))
    with pytest.raises(DamagedFileError):
        transcribe(job(recording()), SAID, lambda recording: path)


def test_progress_rises_to_one(at: Callable[..., Path]) -> None:
    told: list[float] = []
    both = job(recording("r1", duration_s=4.0), recording("r2", duration_s=4.0))
    transcribe(both, SAID, at, told.append)
    assert told == [0.5, 1.0]


@dataclass
class Listening:
    """Keeps the sounds it is given, hears one word a second in, and loses the second after."""

    sounds: list[Samples] = field(default_factory=list)

    def hear(self, samples: Samples) -> Heard:
        self.sounds.append(samples)
        word = Word(recording="", index=0, text="word", start_s=1.0, end_s=1.5)
        return Heard((word,), (Stretch(2.0, 3.0),))


def test_a_long_recording_is_heard_in_blocks_cut_where_nobody_speaks(
    tmp_path: Path, audio: Path
) -> None:
    speech = decode(audio / "readings.ogg")
    whole = np.tile(speech, 38)  # eleven minutes
    path = write(tmp_path / "long.wav", whole)
    listener = Listening()
    heard = transcribe(job(recording()), listener, lambda recording: path)
    first, second = listener.sounds
    assert first.size + second.size == whole.size
    assert max(abs(first[-800:]).max(), abs(second[:800]).max()) < 0.01
    at_s = first.size / RATE
    assert [word.start_s for word in heard.words] == pytest.approx([1.0, at_s + 1.0], abs=0.01)
    (flag,) = heard.recordings[0].flags
    assert flag.code == "speech-not-understood"
    assert f"2-3 s, {at_s + 2:.0f}-{at_s + 3:.0f} s" in flag.why


@dataclass
class Stopped(Listening):
    """Hears the first sound, and is stopped by its user in the second."""

    def hear(self, samples: Samples) -> Heard:
        if self.sounds:
            raise KeyboardInterrupt
        return super().hear(samples)


def test_a_hearing_that_was_stopped_goes_on_where_it_stopped(tmp_path: Path, audio: Path) -> None:
    whole = np.tile(decode(audio / "readings.ogg"), 38)  # eleven minutes
    path = write(tmp_path / "long.wav", whole)
    kept = tmp_path / "unfinished"
    with pytest.raises(KeyboardInterrupt):
        transcribe(job(recording()), Stopped(), lambda recording: path, unfinished=kept)
    listener = Listening()
    heard = transcribe(job(recording()), listener, lambda recording: path, unfinished=kept)
    at_once = transcribe(job(recording()), Listening(), lambda recording: path)
    assert len(listener.sounds) == 1
    assert (heard.words, heard.recordings) == (at_once.words, at_once.recordings)
    assert list(kept.iterdir()) == []


def test_no_words_make_no_breath() -> None:
    assert breaths(()) == ()


def test_one_word_is_a_breath() -> None:
    word = Word(recording="r1", index=0, text="good", start_s=0, end_s=0.3)
    assert breaths((word,)) == (Utterance(recording="r1", index=0, first=0, last=0),)

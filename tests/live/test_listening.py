import os
import signal
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import Event

import numpy as np
import pytest

from jobnotes.desk import Desk, open_desk
from jobnotes.errors import BusyError, MicrophoneError, MissingFileError
from jobnotes.live.session import Dictation, listen
from jobnotes.live.source import Block, FileSource
from jobnotes.live.understanding import News
from jobnotes.pipeline import incomplete
from jobnotes.record import Reading
from jobnotes.settings import Settings
from jobnotes.spool.spool import held, left_in
from jobnotes.stopping import until_interrupted


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return open_desk(Settings(data_folder=tmp_path / "shop"))


@dataclass(frozen=True)
class Unplugged:
    """A microphone that is pulled out after some blocks."""

    blocks_before: int

    def blocks(self) -> Iterator[Block]:
        for _ in range(self.blocks_before):
            yield Block(np.zeros(1600, np.int16))
        raise MicrophoneError("The microphone gives no sound any more.")


@pytest.fixture
def no_weights(monkeypatch, tmp_path):
    """Spare the tests that need no words the loading of the recogniser."""
    monkeypatch.setenv("JOBNOTES_MODELS", str(tmp_path / "none"))


def dictated(
    desk: Desk, job: str, source: object, for_s: float | None = None
) -> tuple[object, list[News]]:
    shown: list[News] = []
    return listen(Dictation(desk, source, shown.append, print, Event(), for_s), job), shown


@pytest.mark.usefixtures("no_weights")
def test_a_dictation_ends_after_the_seconds_asked_for(desk, audio):
    job = desk.new().id
    dictated(desk, job, FileSource(audio / "readings.ogg"), for_s=0.5)
    assert desk.load(job).recordings[0].duration_s == 0.5


def test_speech_is_shown_with_its_figures_and_becomes_a_recording(desk, audio, weights):
    job = desk.new().id
    broken, shown = dictated(desk, job, FileSource(audio / "readings.ogg", speed=4))
    assert broken is None
    live = [str(f.value) for news in shown for f in news.facts if isinstance(f, Reading)]
    assert live == ["12.4", "110", "6", "3600"]
    final = desk.run(job)
    assert not incomplete(final)
    assert [str(f.value) for f in final.facts if isinstance(f, Reading)] == live
    assert [one.flags for one in final.recordings] == [()]
    assert left_in(desk.settings.spool_folder) == ()


@pytest.mark.usefixtures("no_weights")
def test_a_microphone_that_is_unplugged_leaves_what_it_heard_with_a_flag(desk):
    job = desk.new().id
    broken, _ = dictated(desk, job, Unplugged(7))
    assert isinstance(broken, MicrophoneError)
    (recording,) = desk.load(job).recordings
    assert recording.duration_s == pytest.approx(0.7)
    assert recording.flags[0].code == "dictation-broken-off"


@pytest.mark.usefixtures("no_weights")
def test_a_microphone_that_never_gave_a_sound_leaves_the_job_as_it_was(desk):
    job = desk.new()
    dictated(desk, job.id, Unplugged(0))
    assert desk.load(job.id) == job


@pytest.mark.usefixtures("no_weights")
def test_a_file_that_is_not_there_is_an_error_of_ours(desk, tmp_path):
    broken, _ = dictated(desk, desk.new().id, FileSource(tmp_path / "none.wav"))
    assert isinstance(broken, MissingFileError)


@pytest.mark.usefixtures("no_weights")
def test_there_is_one_dictation_at_a_time(desk):
    job = desk.new().id
    with held(desk.settings.spool_folder), pytest.raises(BusyError):
        dictated(desk, job, Unplugged(1))


def test_a_file_is_played_at_the_speed_of_speech(audio):
    began = time.monotonic()
    sound = FileSource(audio / "readings.ogg").blocks()
    length_s = sum(next(sound).samples.size for _ in range(10)) / 16000
    assert length_s == pytest.approx(1.0)
    assert time.monotonic() - began >= 0.9


def test_the_first_control_c_asks_to_stop_and_the_second_ends_as_usual():
    with until_interrupted() as stop:
        os.kill(os.getpid(), signal.SIGINT)
        assert stop.is_set()
        with pytest.raises(KeyboardInterrupt):
            os.kill(os.getpid(), signal.SIGINT)

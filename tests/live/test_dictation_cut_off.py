import hashlib
import random
import signal
import time
from pathlib import Path

import numpy as np
import pytest
from dictating import listening, noise

from jobnotes.desk import Desk, open_desk
from jobnotes.errors import DictationError, IncompleteJobError
from jobnotes.intake.audio import decode
from jobnotes.pipeline import incomplete
from jobnotes.settings import Settings
from jobnotes.spool.spool import left_in

MOST_LOST_S = 2.0  # what the program promises


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(data_folder=tmp_path / "shop")


@pytest.fixture
def job(settings: Settings) -> str:
    return open_desk(settings).new().id


def recorded(desk: Desk, job: str) -> np.ndarray:
    """Return the samples of the one recording of a job."""
    (recording,) = desk.load(job).recordings
    return np.round(decode(desk.audio_path(recording)) * 32768).astype(np.int16)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_kill_at_any_moment_loses_little_and_doubles_nothing(settings, job, tmp_path, seed):
    spoken = noise(tmp_path / "spoken.wav", 30)
    child = listening(settings.data_folder, job, "--from", tmp_path / "spoken.wav")
    began = time.monotonic()
    time.sleep(random.Random(seed).uniform(0.2, 4.0))
    child.kill()
    dictated_s = time.monotonic() - began
    child.communicate()
    (left,) = left_in(settings.spool_folder)
    sha256 = hashlib.sha256(left.path.read_bytes()).hexdigest()
    desk = open_desk(settings)
    kept = recorded(desk, job)
    assert dictated_s - kept.size / 16000 < MOST_LOST_S
    assert np.array_equal(kept, spoken[: kept.size])
    assert desk.load(job).recordings[0].sha256 == sha256
    assert desk.load(job).recordings[0].flags[0].code == "dictation-broken-off"
    assert incomplete(desk.load(job))
    assert open_desk(settings).load(job) == desk.load(job)


def test_control_c_ends_a_dictation_properly_even_without_speech_weights(settings, job, tmp_path):
    spoken = noise(tmp_path / "spoken.wav", 30)
    told = "No words can be shown", "jobnotes weights"
    child = listening(settings.data_folder, job, "--from", tmp_path / "spoken.wav", told=told)
    child.send_signal(signal.SIGINT)
    child.communicate()
    assert child.returncode == IncompleteJobError.exit_code
    desk = open_desk(settings)
    kept = recorded(desk, job)
    assert np.array_equal(kept, spoken[: kept.size])
    assert desk.load(job).recordings[0].flags == ()


def test_a_disk_that_takes_no_more_is_told_and_what_it_took_is_kept(settings, job, tmp_path):
    resource = pytest.importorskip("resource", reason="Windows cannot limit a program's files")
    limit = 400_000  # bytes a file: 12.5 s of sound; the store itself needs less

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    spoken = noise(tmp_path / "spoken.wav", 30)
    arguments = job, "--from", tmp_path / "spoken.wav"
    child = listening(settings.data_folder, *arguments, preexec_fn=limited)
    _, told = child.communicate()
    assert "cannot be written" in told
    assert "Traceback" not in told
    assert child.returncode in (DictationError.exit_code, IncompleteJobError.exit_code)
    desk = open_desk(settings)
    kept = recorded(desk, job)
    assert kept.size > 11 * 16000
    assert np.array_equal(kept, spoken[: kept.size])
    assert desk.load(job).recordings[0].flags[0].code == "dictation-broken-off"

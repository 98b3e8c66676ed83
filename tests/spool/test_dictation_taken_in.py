import hashlib
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from jobnotes.desk import Desk, open_desk
from jobnotes.errors import DictationError
from jobnotes.pipeline import incomplete
from jobnotes.settings import Settings
from jobnotes.spool.spool import held, left_in
from jobnotes.spool.wav import end, head, read_head

START = datetime(2026, 3, 14, 9, 5, tzinfo=UTC)


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(data_folder=tmp_path / "shop")


@pytest.fixture
def desk(settings: Settings) -> Desk:
    return open_desk(settings)


def left(settings: Settings, job: str, number: int = 1, ended: bool = False) -> Path:
    """Leave a file of a dictation as a program that was killed would."""
    path = settings.spool_folder / f"dictation-{number}.wav"
    path.parent.mkdir(exist_ok=True)
    sound = np.full(16000 * number, number, np.int16).tobytes()
    path.write_bytes(head(job, START + timedelta(minutes=number)) + sound)
    if ended:
        with path.open("r+b") as stream:
            end(stream, read_head(path).size)
    return path


def test_what_a_kill_left_becomes_a_recording_when_the_desk_is_opened(settings, desk):
    job, told = desk.new().id, []
    sha256 = hashlib.sha256(left(settings, job).read_bytes()).hexdigest()
    (recording,) = open_desk(settings, told.append).load(job).recordings
    assert recording.sha256 == sha256
    assert recording.started_at == START + timedelta(minutes=1)
    assert desk.problems() == ()
    assert left_in(settings.spool_folder) == ()
    assert job in told[0]


def test_files_of_one_dictation_become_recordings_in_the_order_spoken(settings, desk):
    job = desk.new().id
    for number in (2, 1, 3):
        left(settings, job, number)
    found = open_desk(settings).load(job).recordings
    assert [recording.duration_s for recording in found] == [1, 2, 3]


def test_a_kill_before_the_taken_file_is_gone_doubles_nothing(settings, desk):
    job = desk.new().id
    path = left(settings, job)
    sound = path.read_bytes()
    before = open_desk(settings).load(job)
    path.write_bytes(sound)
    assert open_desk(settings).load(job) == before
    assert not path.exists()


def test_only_a_file_that_was_not_ended_is_flagged(settings, desk):
    job = desk.new().id
    left(settings, job, 1, ended=True)
    left(settings, job, 2, ended=False)
    whole, cut = open_desk(settings).load(job).recordings
    assert whole.flags == ()
    assert [flag.code for flag in cut.flags] == ["dictation-broken-off"]


def test_a_job_is_incomplete_from_the_first_sound_until_its_stages_have_run(settings, desk):
    job = desk.new().id
    desk.begin_dictation(job)
    assert "dictation" in incomplete(desk.load(job))[0]
    left(settings, job)
    assert "'transcribe' has not run" in incomplete(open_desk(settings).load(job))[0]


def test_a_dictation_without_a_sound_leaves_the_job_as_it_was(settings, desk):
    job = desk.new()
    desk.begin_dictation(job.id)
    settings.spool_folder.mkdir(exist_ok=True)
    (settings.spool_folder / "a.wav").write_bytes(head(job.id, START))
    assert open_desk(settings).load(job.id) == job
    assert left_in(settings.spool_folder) == ()


def test_a_file_that_was_cut_off_within_its_head_is_put_away(settings, desk):
    settings.spool_folder.mkdir(exist_ok=True)
    (settings.spool_folder / "a.wav").write_bytes(head("2026-0001", START)[:30])
    open_desk(settings)
    assert left_in(settings.spool_folder) == ()


def test_a_dictation_of_an_unknown_job_waits_and_is_told(settings):
    told: list[str] = []
    path = left_with_folder(settings)
    open_desk(settings, told.append)
    assert path.exists()
    assert "2026-0999" in told[0]


def left_with_folder(settings: Settings) -> Path:
    settings.spool_folder.mkdir(parents=True)
    return left(settings, "2026-0999")


def test_a_dictation_that_is_going_on_is_left_alone(settings, desk):
    job = desk.new().id
    path = left(settings, job)
    with held(settings.spool_folder) as alone:
        assert alone
        assert open_desk(settings).load(job).recordings == ()
    assert path.exists()


def test_a_spool_folder_that_cannot_be_made_is_told_in_plain_words(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    impossible = held(tmp_path / "file" / "dictation")
    with pytest.raises(DictationError, match="cannot be used"), impossible:
        pass

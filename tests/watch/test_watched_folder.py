import os
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from jobnotes.desk import Desk, open_desk
from jobnotes.errors import BusyError, MissingFileError
from jobnotes.record import Job
from jobnotes.retention import erase_customer
from jobnotes.settings import Settings
from jobnotes.watch import folder as watching
from jobnotes.watch.folder import watched

DEMO = Path(__file__).parents[2] / "demo_data"
PHOTO, OTHER = DEMO / "photos" / "IMG_2041.jpg", DEMO / "photos" / "IMG_2042.jpg"
TAKEN = datetime(2026, 9, 17, 13, 31, tzinfo=UTC)  # about; of the first photos and the recording


@pytest.fixture(autouse=True)
def no_weights(monkeypatch, tmp_path):
    """Spare these tests the hearing: the step 'transcribe' says that the weights are missing."""
    monkeypatch.setenv("JOBNOTES_MODELS", str(tmp_path / "none"))
    monkeypatch.setattr(watching, "LOOK_S", 0.3)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return open_desk(Settings(data_folder=tmp_path / "shop"))


@pytest.fixture
def phone(tmp_path: Path) -> Path:
    folder = tmp_path / "phone"
    folder.mkdir()
    return folder


@pytest.fixture
def recording(audio: Path, phone: Path) -> Path:
    """A recording whose name says when it was begun, just put there by the phone."""
    return Path(shutil.copy(audio / "readings.ogg", phone / "20260917_083000.ogg"))


def looked(desk: Desk, phone: Path) -> list[str]:
    """Look once and return what was told."""
    told: list[str] = []
    watched(desk, phone, told.append, lambda job: None, threading.Event(), once=True)
    return told


def all_jobs(desk: Desk) -> list[Job]:
    return [desk.load(line.id) for line in desk.jobs()]


@pytest.fixture
def watch(desk: Desk, phone: Path) -> Iterator[Callable[[Callable[[], bool]], None]]:
    """Watch in a thread; what is given waits until something has come true."""
    stop = threading.Event()
    arguments = desk, phone, print, lambda job: None, stop
    thread = threading.Thread(target=watched, args=arguments)
    thread.start()
    yield until
    stop.set()
    thread.join()


def until(true: Callable[[], bool]) -> None:
    end = time.monotonic() + 60
    while not true():
        assert time.monotonic() < end
        time.sleep(0.1)


def test_files_without_a_job_begin_one_at_the_time_of_the_first(desk, phone, recording):
    looked(desk, phone)
    (job,) = all_jobs(desk)
    assert [one.name for one in job.recordings] == [recording.name]
    assert job.created_at == job.recordings[0].started_at.astimezone()
    assert job.stages


def test_a_photo_goes_into_the_job_that_was_worked_on_when_it_was_taken(desk, phone):
    job = desk.new(created_at=TAKEN)
    desk.new(created_at=TAKEN - timedelta(days=1))
    shutil.copy(PHOTO, phone)
    looked(desk, phone)
    assert [photo.name for photo in desk.load(job.id).photos] == [PHOTO.name]


def test_a_recording_placed_by_its_time_alone_waits_for_a_person(desk, phone, recording):
    begun = datetime(2026, 9, 17, 8, 0).astimezone()
    job = desk.new(created_at=begun)
    looked(desk, phone)
    (one,) = desk.load(job.id).recordings
    assert "placed-by-time" in [flag.code for flag in one.flags if flag.open]


def test_a_file_that_may_belong_to_two_jobs_is_left_and_told(desk, phone):
    for _ in range(2):
        desk.new(created_at=TAKEN)
    shutil.copy(PHOTO, phone)
    (told,) = looked(desk, phone)
    assert "jobnotes add" in told
    assert all(not job.photos for job in all_jobs(desk))
    assert not desk.media.folder.exists()


def test_the_same_photo_under_two_names_is_taken_in_once(desk, phone):
    shutil.copy(PHOTO, phone)
    (phone / "below").mkdir()
    shutil.copy(PHOTO, phone / "below" / "copy of it.jpg")
    looked(desk, phone)
    looked(desk, phone)
    assert sum(len(job.photos) for job in all_jobs(desk)) == 1


def test_the_files_of_the_phone_stay_as_they_are(desk, phone, recording):
    shutil.copy2(PHOTO, phone)
    before = {p: (p.read_bytes(), p.stat().st_mtime_ns) for p in phone.iterdir()}
    looked(desk, phone)
    assert {p: (p.read_bytes(), p.stat().st_mtime_ns) for p in phone.iterdir()} == before


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("cut.jpg", PHOTO.read_bytes()[:20_000]),
        ("cut.m4a", (DEMO / "audio" / "1-arrival.m4a").read_bytes()[:90_000]),
        ("empty.wav", b""),
        ("list.pdf", b"%PDF-1.7 nothing for us"),
    ],
)
def test_a_file_that_cannot_be_used_is_named_and_left(desk, phone, name, content):
    (phone / name).write_bytes(content)
    (told,) = looked(desk, phone)
    assert name in told
    assert "is left" in told
    assert all_jobs(desk) == []
    assert not desk.media.folder.exists()


def test_hidden_files_are_not_looked_at(desk, phone):
    (phone / ".sync").write_bytes(b"half a file")
    assert looked(desk, phone) == []


def test_a_broken_file_is_named_once_and_taken_in_when_it_is_whole(desk, phone, watch, capsys):
    path = phone / "a.jpg"
    path.write_bytes(PHOTO.read_bytes()[:20_000])
    time.sleep(2)
    path.write_bytes(PHOTO.read_bytes())
    watch(lambda: bool(all_jobs(desk)))
    assert capsys.readouterr().out.count("is left") == 1


def test_a_file_that_grows_is_taken_in_whole(desk, phone, watch):
    whole = PHOTO.read_bytes()
    with (phone / "a.jpg").open("wb", buffering=0) as file:
        for start in range(0, len(whole), max(1, len(whole) // 10)):
            file.write(whole[start : start + max(1, len(whole) // 10)])
            time.sleep(0.1)
    watch(lambda: any(job.photos for job in all_jobs(desk)))
    (photo,) = all_jobs(desk)[0].photos
    assert desk.media.path(photo.sha256).read_bytes() == whole


def test_what_is_in_a_job_already_is_not_taken_in_again(desk, phone, recording):
    job = desk.new()
    desk.add(job.id, [recording])
    assert looked(desk, phone) == []
    assert [one.id for one in all_jobs(desk)] == [job.id]


def test_what_was_erased_is_not_taken_in_anew(desk, phone):
    job = desk.new(customer="Ms Okafor", created_at=TAKEN)
    shutil.copy(PHOTO, phone)
    looked(desk, phone)
    assert desk.load(job.id).photos
    erase_customer(desk, "Ms Okafor", "Ada")
    assert looked(desk, phone) == []
    assert [one.photos for one in all_jobs(desk)] == [()]


def test_a_job_that_was_not_run_before_a_kill_is_run_at_the_next_start(desk, phone, recording):
    job = desk.new().id
    desk.add(job, [recording])
    looked(desk, phone)
    assert desk.load(job).stages


def test_a_kill_while_files_are_taken_in_neither_loses_nor_doubles_one(desk, phone, recording):
    for photo in sorted((DEMO / "photos").glob("*.jpg"))[:4]:
        shutil.copy(photo, phone)
    command = [sys.executable, "-m", "jobnotes.cli", "watch", str(phone)]
    environment = {**os.environ, "JOBNOTES_HOME": str(desk.settings.data_folder)}
    with subprocess.Popen(command, env=environment, stderr=subprocess.PIPE, text=True) as child:
        child.stderr.readline()  # the first file is in
        child.kill()
    looked(desk, phone)
    names = [one.name for job in all_jobs(desk) for one in (*job.recordings, *job.photos)]
    assert sorted(names) == sorted(path.name for path in phone.iterdir())


def test_one_window_watches_at_a_time(desk, phone, watch):
    until((desk.settings.data_folder / "watch").exists)
    time.sleep(0.2)
    with pytest.raises(BusyError):
        looked(desk, phone)


def test_a_folder_that_is_not_there_is_an_error_of_ours(desk, tmp_path):
    with pytest.raises(MissingFileError):
        looked(desk, tmp_path / "none")

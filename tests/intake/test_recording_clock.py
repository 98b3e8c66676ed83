import os
import wave
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import av
import pytest

from jobnotes.intake.clock import on_the_wall, stamp_in_name
from jobnotes.intake.take_in import take_in
from jobnotes.record import Job, Recording
from jobnotes.store.media import Media

EMPTY = Job(id="2026-0001", created_at=datetime(2026, 9, 17, 8, tzinfo=UTC))
STARTED = datetime(2026, 3, 14, 10, 15, 2)


def recording(folder: Path, file: Path) -> Recording:
    return take_in(EMPTY, [file], Media(folder / "originals")).job.recordings[0]


def silence(file: Path, seconds: int) -> Path:
    with wave.open(str(file), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(16_000)
        out.writeframes(bytes(32_000 * seconds))
    return file


@pytest.mark.parametrize(
    "name",
    [
        "20260314_101502.m4a",
        "20260314101502.wav",
        "REC-2026-03-14-10-15-02.mp3",
        "Recording 2026-03-14 at 10.15.02.m4a",
        "2026-03-14T10:15:02.ogg",
        "VN_20260314-101502(1).m4a",
    ],
)
def test_the_stamp_in_a_file_name_is_read(name: str) -> None:
    assert stamp_in_name(name) == STARTED


def test_a_stamp_without_seconds_is_read_to_the_minute() -> None:
    assert stamp_in_name("2026-03-14 10.15.wav") == STARTED.replace(second=0)


@pytest.mark.parametrize(
    "name", ["note.wav", "20261399_101502.wav", "job 2026-0314.wav", "5512026031410150299.wav"]
)
def test_a_name_without_a_stamp_has_none(name: str) -> None:
    assert stamp_in_name(name) is None


def test_a_time_in_utc_is_given_as_the_clock_on_the_wall_has_it() -> None:
    moment = datetime(2026, 3, 14, 10, 15, 2, tzinfo=UTC)
    assert on_the_wall(moment) == moment
    assert on_the_wall(moment).utcoffset() == moment.astimezone().utcoffset()


def test_a_time_with_a_zone_of_its_own_keeps_it() -> None:
    zone = timezone(timedelta(hours=5, minutes=45))
    assert on_the_wall(STARTED.replace(tzinfo=zone)).tzinfo == zone


def test_a_recording_starts_when_its_container_says(tmp_path: Path) -> None:
    file = tmp_path / "20200101_000000.m4a"
    with av.open(str(file), "w", format="mp4") as out:
        out.metadata["creation_time"] = "2026-03-14T10:15:02.000000Z"
        stream = out.add_stream("aac", rate=16_000, layout="mono")
        frame = av.AudioFrame("fltp", "mono", 1024)
        frame.sample_rate = 16_000
        for plane in frame.planes:
            plane.update(bytes(plane.buffer_size))
        out.mux(stream.encode(frame))
        out.mux(stream.encode(None))
    started_at = recording(tmp_path, file).started_at
    assert started_at == STARTED.replace(tzinfo=UTC)


def test_a_recording_without_a_tag_starts_when_its_name_says(tmp_path: Path) -> None:
    kept = recording(tmp_path, silence(tmp_path / "20260314_101502.wav", 1))
    assert (kept.started_at, kept.zone_known) == (STARTED, False)


def test_a_recording_that_says_nothing_ended_when_its_file_was_written(tmp_path: Path) -> None:
    file = silence(tmp_path / "note.wav", 3)
    ended = datetime(2026, 3, 14, 10, 15, 5, tzinfo=UTC)
    os.utime(file, (ended.timestamp(), ended.timestamp()))
    kept = recording(tmp_path, file)
    assert (kept.started_at, kept.zone_known) == (ended - timedelta(seconds=3), True)

import io
import wave
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from jobnotes.intake.audio import decode, probe
from jobnotes.spool.wav import end, head, read_head

START = datetime(2026, 3, 14, 9, 5, tzinfo=UTC)
SAMPLES = np.arange(-8000, 8000, dtype=np.int16)


def growing(path: Path, samples: np.ndarray = SAMPLES, more: bytes = b"") -> Path:
    path.write_bytes(head("2026-0007", START) + samples.tobytes() + more)
    return path


def test_a_file_that_nobody_ended_decodes_to_its_last_sample(tmp_path):
    heard = decode(growing(tmp_path / "a.wav"))
    assert np.array_equal(np.round(heard * 32768).astype(np.int16), SAMPLES)


def test_half_a_sample_at_the_end_costs_only_itself(tmp_path):
    assert decode(growing(tmp_path / "a.wav", more=b"\1")).size == SAMPLES.size


def test_the_file_says_when_it_began_with_the_zone(tmp_path):
    assert probe(growing(tmp_path / "a.wav")).started_at == START


@pytest.mark.parametrize("job", ["2026-0007", "7", "werk-ä/12"])
def test_the_file_says_which_job_it_is_of(tmp_path, job):
    path = tmp_path / "a.wav"
    path.write_bytes(head(job, START))
    assert read_head(path).job == job


def test_a_file_counts_as_ended_only_once_its_length_is_written(tmp_path):
    path = growing(tmp_path / "a.wav")
    assert not read_head(path).ended
    with path.open("r+b") as stream:
        end(stream, read_head(path).size)
    assert read_head(path).ended


def test_an_ended_file_is_an_ordinary_wav(tmp_path):
    path = growing(tmp_path / "a.wav")
    with path.open("r+b") as stream:
        end(stream, read_head(path).size)
    with wave.open(io.BytesIO(path.read_bytes())) as sound:  # Python's own reader
        assert sound.getparams()[:4] == (1, 2, 16000, SAMPLES.size)
        assert sound.readframes(SAMPLES.size) == SAMPLES.tobytes()


def test_a_head_that_is_cut_anywhere_is_no_head(tmp_path):
    path, whole = tmp_path / "a.wav", head("2026-0007", START)
    for length in range(len(whole)):
        path.write_bytes(whole[:length])
        assert read_head(path) is None

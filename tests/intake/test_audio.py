from datetime import UTC, datetime
from pathlib import Path

import av
import numpy as np
import pytest

from jobnotes.errors import (
    DamagedFileError,
    EmptyFileError,
    FormatError,
    InputError,
    MissingFileError,
    TooLargeError,
)
from jobnotes.intake import audio
from jobnotes.intake.audio import RATE, blocks, cut_short, decode, kind_of, probe

SECONDS = 4.0
TONE_HZ = 440.0
# kind -> codec, container of PyAV, sample rate
KINDS = {
    "wav": ("pcm_s16le", "wav", 44_100),
    "mp3": ("libmp3lame", "mp3", 44_100),
    "m4a": ("aac", "ipod", 48_000),
    "ogg": ("libopus", "ogg", 48_000),
    "flac": ("flac", "flac", 16_000),
    "webm": ("libopus", "webm", 48_000),
}


def tone(seconds: float = SECONDS, rate: int = RATE) -> np.ndarray:
    wave = np.sin(2 * np.pi * TONE_HZ * np.arange(int(seconds * rate)) / rate)
    return (wave * 12_000).astype(np.int16)


def write(path: Path, kind: str, layout: str = "mono", tags: dict[str, str] | None = None) -> Path:
    codec, container, rate = KINDS[kind]
    with av.open(str(path), "w", format=container) as out:
        out.metadata.update(tags or {})
        stream = out.add_stream(codec, rate=rate, layout=layout)
        frame = av.AudioFrame.from_ndarray(tone()[None], format="s16", layout="mono")
        frame.sample_rate = RATE
        shape = {"format": stream.format.name, "layout": layout, "rate": rate}
        resampler = av.AudioResampler(**shape, frame_size=stream.frame_size or None)
        for piece in [*resampler.resample(frame), *resampler.resample(None)]:
            out.mux(stream.encode(piece))
        out.mux(stream.encode(None))
    return path


def cut(path: Path, part: float) -> Path:
    whole = path.read_bytes()
    path.write_bytes(whole[: int(len(whole) * part)])
    return path


def loudest_hz(samples: np.ndarray) -> float:
    return float(np.abs(np.fft.rfft(samples)).argmax() * RATE / samples.size)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_told_by_its_content_and_not_by_its_name(tmp_path: Path, kind: str) -> None:
    assert probe(write(tmp_path / "sound.txt", kind)).format == kind


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_tells_its_length(tmp_path: Path, kind: str) -> None:
    assert probe(write(tmp_path / "sound", kind)).duration_s == pytest.approx(SECONDS, abs=0.15)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_decodes_to_the_same_tone_at_16_khz(tmp_path: Path, kind: str) -> None:
    samples = decode(write(tmp_path / "sound", kind, layout="stereo"))
    assert samples.dtype == np.float32
    assert samples.size / RATE == pytest.approx(SECONDS, abs=0.15)
    assert loudest_hz(samples) == pytest.approx(TONE_HZ, abs=1.0)


def test_a_whole_file_is_not_cut_short(tmp_path: Path) -> None:
    for kind in KINDS:
        path = write(tmp_path / kind, kind)
        assert not cut_short(path, decode(path).size / RATE)


@pytest.mark.parametrize("kind", ["wav", "mp3", "flac", "webm"])
def test_a_file_that_ends_early_gives_what_it_holds_and_is_known(tmp_path: Path, kind: str) -> None:
    path = cut(write(tmp_path / "sound", kind), 0.6)
    seconds = decode(path).size / RATE
    assert 1.5 < seconds < 3.3
    assert cut_short(path, seconds)


def test_an_ogg_file_that_ends_early_gives_what_it_holds(tmp_path: Path) -> None:
    assert 1.5 < decode(cut(write(tmp_path / "sound", "ogg"), 0.6)).size / RATE < 3.3


def test_an_m4a_without_its_index_is_damaged(tmp_path: Path) -> None:
    with pytest.raises(DamagedFileError):
        probe(cut(write(tmp_path / "sound.m4a", "m4a"), 0.6))


def test_damage_in_the_middle_costs_only_itself(tmp_path: Path) -> None:
    path = write(tmp_path / "sound.mp3", "mp3")
    whole = bytearray(path.read_bytes())
    middle = len(whole) // 2
    whole[middle : middle + 1500] = bytes(1500)
    path.write_bytes(whole)
    assert decode(path).size / RATE > SECONDS - 0.5


@pytest.mark.parametrize("kind", KINDS)
def test_a_file_of_nothing_but_its_head_is_refused_in_plain_words(
    tmp_path: Path, kind: str
) -> None:
    path = write(tmp_path / "sound", kind)
    path.write_bytes(path.read_bytes()[:16])
    with pytest.raises(DamagedFileError):
        decode(path)


def test_a_file_of_no_bytes_is_empty(tmp_path: Path) -> None:
    (tmp_path / "empty.wav").touch()
    with pytest.raises(EmptyFileError):
        probe(tmp_path / "empty.wav")


def test_text_named_wav_is_no_sound(tmp_path: Path) -> None:
    (tmp_path / "notes.wav").write_text("battery reads twelve volts\n" * 40)
    with pytest.raises(FormatError):
        decode(tmp_path / "notes.wav")


def test_a_file_that_is_not_there_is_missing(tmp_path: Path) -> None:
    with pytest.raises(MissingFileError):
        probe(tmp_path / "none.wav")


def test_a_folder_is_no_sound(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        probe(tmp_path)


def test_a_film_without_sound_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "film.mp4"
    with av.open(str(path), "w") as out:
        stream = out.add_stream("mpeg4", rate=10)
        stream.width = stream.height = 64
        stream.pix_fmt = "yuv420p"
        picture = np.zeros((64, 64, 3), np.uint8)
        out.mux(stream.encode(av.VideoFrame.from_ndarray(picture, format="rgb24")))
        out.mux(stream.encode(None))
    with pytest.raises(FormatError, match="holds no sound"):
        probe(path)


def test_a_recording_longer_than_half_a_day_is_too_large(tmp_path: Path) -> None:
    path = write(tmp_path / "sound.wav", "wav")
    head = bytearray(path.read_bytes())
    at = head.index(b"fmt ") + 8
    head[at + 4 : at + 8] = (2).to_bytes(4, "little")  # samples a second
    head[at + 8 : at + 12] = (4).to_bytes(4, "little")  # bytes a second
    path.write_bytes(bytes(head))
    with pytest.raises(TooLargeError):
        probe(path)


def test_the_length_of_a_live_recording_comes_from_its_packets(tmp_path: Path) -> None:
    path = tmp_path / "live.webm"
    codec, container, rate = KINDS["webm"]
    with av.open(str(path), "w", format=container, options={"live": "1"}) as out:
        stream = out.add_stream(codec, rate=rate, layout="mono")
        frame = av.AudioFrame.from_ndarray(tone(rate=rate)[None], format="s16", layout="mono")
        frame.sample_rate = rate
        out.mux(stream.encode(frame))
        out.mux(stream.encode(None))
    with av.open(str(path)) as made:
        assert not made.duration
    assert probe(path).duration_s == pytest.approx(SECONDS, abs=0.15)


@pytest.mark.parametrize("kind", ["m4a", "webm", "flac"])
def test_the_start_is_read_from_the_file_with_its_zone(tmp_path: Path, kind: str) -> None:
    path = write(tmp_path / "sound", kind, tags={"creation_time": "2026-03-14T09:15:02Z"})
    info = probe(path)
    assert info.started_at == datetime(2026, 3, 14, 9, 15, 2, tzinfo=UTC)
    assert info.zone_known


def test_a_start_without_a_zone_says_so(tmp_path: Path) -> None:
    info = probe(write(tmp_path / "sound", "mp3", tags={"date": "2026-03-14T09:15:02"}))
    assert info.started_at == datetime(2026, 3, 14, 9, 15, 2)
    assert not info.zone_known


@pytest.mark.parametrize("told", ["2026", "2026-03-14", "yesterday", "1970-01-01T00:00:00Z"])
def test_a_clock_that_was_never_set_tells_no_start(tmp_path: Path, told: str) -> None:
    assert probe(write(tmp_path / "sound", "flac", tags={"creation_time": told})).started_at is None


def test_blocks_join_to_the_whole(tmp_path: Path) -> None:
    path = write(tmp_path / "sound", "flac")
    pieces = list(blocks(path, seconds=1.5))
    assert [piece.size for piece in pieces[:-1]] == [24_000, 24_000]
    assert np.array_equal(np.concatenate(pieces), decode(path))


def test_the_original_is_not_touched(tmp_path: Path) -> None:
    path = write(tmp_path / "sound", "mp3")
    before = path.read_bytes(), path.stat().st_mtime_ns
    decode(path)
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_a_photo_is_no_sound() -> None:
    assert kind_of(b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00") == ""


def test_every_kind_has_one_demuxer() -> None:
    assert set(audio._DEMUXERS) == set(KINDS)


def test_a_film_whose_sound_is_of_no_known_kind_is_damaged(tmp_path: Path) -> None:
    path = write(tmp_path / "sound.webm", "webm")
    path.write_bytes(path.read_bytes().replace(b"A_OPUS", b"A_ZZZZ"))
    with pytest.raises(DamagedFileError, match="not known"):
        probe(path)

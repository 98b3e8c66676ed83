import errno
import hashlib
import os
import resource
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jobnotes.errors import InputError, MissingFileError, StoreError
from jobnotes.store.media import Media


@pytest.fixture
def media(tmp_path: Path) -> Media:
    return Media(tmp_path / "originals")


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    file = tmp_path / "photo.jpg"
    file.write_bytes(os.urandom(3_000_000))
    return file


def kept_files(media: Media) -> list[str]:
    return sorted(path.name for path in media.folder.rglob("*") if path.is_file())


def test_an_original_is_kept_under_its_sha256(media: Media, tmp_path: Path) -> None:
    file = tmp_path / "note.txt"
    file.write_bytes(b"abc")
    # FIPS 180-4, worked example for "abc"
    expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert media.keep(file) == expected
    assert media.path(expected).read_bytes() == b"abc"


def test_the_source_is_left_as_it_was(media: Media, photo: Path) -> None:
    before = photo.read_bytes(), photo.stat().st_mtime_ns, photo.stat().st_mode
    media.keep(photo)
    assert (photo.read_bytes(), photo.stat().st_mtime_ns, photo.stat().st_mode) == before


def test_the_same_content_is_kept_once(media: Media, photo: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.jpg"
    copy.write_bytes(photo.read_bytes())
    assert media.keep(photo) == media.keep(copy)
    assert len(kept_files(media)) == 1


def test_a_kept_original_is_read_only(media: Media, photo: Path) -> None:
    assert media.path(media.keep(photo)).stat().st_mode & 0o222 == 0


def test_an_altered_original_is_healed_by_a_good_copy(media: Media, photo: Path) -> None:
    kept = media.path(media.keep(photo))
    kept.chmod(0o600)
    kept.write_bytes(b"rotten")
    media.keep(photo)
    assert kept.read_bytes() == photo.read_bytes()


def test_an_empty_file_can_be_kept(media: Media, tmp_path: Path) -> None:
    (tmp_path / "empty").touch()
    assert media.path(media.keep(tmp_path / "empty")).stat().st_size == 0


def test_a_missing_source_is_named(media: Media, tmp_path: Path) -> None:
    with pytest.raises(MissingFileError, match="nowhere.jpg"):
        media.keep(tmp_path / "nowhere.jpg")


def test_a_folder_is_no_source(media: Media, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be read"):
        media.keep(tmp_path)


def test_a_missing_original_is_a_store_error(media: Media) -> None:
    with pytest.raises(StoreError, match="missing"):
        media.path("0" * 64)


def test_a_sound_folder_has_no_problems(media: Media, photo: Path) -> None:
    media.keep(photo)
    assert media.verify() == []


def test_a_folder_that_was_never_made_has_no_problems(media: Media) -> None:
    assert media.verify() == []


def test_one_altered_bit_is_found(media: Media, photo: Path) -> None:
    kept = media.path(media.keep(photo))
    content = bytearray(kept.read_bytes())
    content[1_234_567] ^= 1
    kept.chmod(0o600)
    kept.write_bytes(content)
    assert [kept.name in problem for problem in media.verify()] == [True]


def test_a_stray_temporary_file_is_found(media: Media, photo: Path) -> None:
    media.keep(photo)
    (media.folder / "0123.part").write_bytes(b"half")
    assert "cut short" in media.verify()[0]


def test_a_file_that_does_not_belong_is_found(media: Media, photo: Path) -> None:
    media.keep(photo)
    (media.folder / "holiday.jpg").write_bytes(b"sun")
    assert "holiday.jpg does not belong" in media.verify()[0]


Call = Callable[..., Any]


def failing_from(call: Call, nth: int) -> Call:
    """A stand-in for a call of the operating system: from its nth use on, the disk is full."""
    uses = 0

    def fails(*args: Any, **kwargs: Any) -> Any:
        nonlocal uses
        uses += 1
        if uses >= nth:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return call(*args, **kwargs)

    return fails


@pytest.mark.parametrize(
    ("name", "nth"), [("fsync", 1), ("fsync", 2), ("fsync", 3), ("replace", 1), ("chmod", 1)]
)
def test_a_failing_disk_leaves_no_half_file_under_a_final_name(
    media: Media, photo: Path, monkeypatch: pytest.MonkeyPatch, name: str, nth: int
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(os, name, failing_from(getattr(os, name), nth))
        with pytest.raises(StoreError, match="No space left"):
            media.keep(photo)
    whole = hashlib.sha256(photo.read_bytes()).hexdigest()
    assert set(kept_files(media)) <= {whole}
    assert media.verify() == []
    assert media.path(media.keep(photo)).read_bytes() == photo.read_bytes()


def in_a_child(media: Media, photo: Path, before: Callable[[], None]) -> subprocess.Popen[str]:
    program = (
        "import sys; from pathlib import Path; from jobnotes.store.media import Media\n"
        "Media(Path(sys.argv[1])).keep(Path(sys.argv[2]))"
    )
    return subprocess.Popen(
        [sys.executable, "-c", program, str(media.folder), str(photo)],
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=before,
    )


@pytest.mark.parametrize("limit", [0, 1, 1_048_576, 2_500_000])
def test_a_disk_that_fills_up_part_way_leaves_nothing(
    media: Media, photo: Path, limit: int
) -> None:
    def file_size_limit() -> None:
        # setrlimit(2): a write past the limit fails with EFBIG where SIGXFSZ is ignored
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    child = in_a_child(media, photo, file_size_limit)
    assert "StoreError" in child.communicate()[1]
    assert kept_files(media) == []


def test_a_kill_in_the_middle_leaves_no_half_file_under_a_final_name(
    media: Media, photo: Path, tmp_path: Path
) -> None:
    pipe = tmp_path / "slow card"
    os.mkfifo(pipe)
    child = in_a_child(media, pipe, lambda: None)
    with pipe.open("wb") as card:
        card.write(photo.read_bytes())
        card.flush()
        child.kill()
        child.communicate()
    strays = kept_files(media)
    assert len(strays) == 1
    assert strays[0].endswith(".part")
    assert "cut short" in media.verify()[0]

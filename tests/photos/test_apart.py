"""Decoding in a process of its own: it gives the same, and a file can do no more than end it."""

import os
from pathlib import Path

import pytest
from PIL import Image

from jobnotes.errors import DamagedFileError, TooLargeError
from jobnotes.photos import apart, look, picture


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "a.jpg"
    Image.effect_mandelbrot((320, 240), (-2, -1.5, 1, 1.5), 50).convert("RGB").save(path)
    return path


def test_a_photo_is_seen_and_drawn_as_it_is_here(photo: Path) -> None:
    assert apart.look(photo, "a.jpg") == look.look(photo, "a.jpg")
    assert apart.for_print(photo, 100) == picture.for_print(photo, 100)


def test_what_is_wrong_with_a_photo_is_told_as_it_is_here(tmp_path: Path) -> None:
    cut = tmp_path / "cut.jpg"
    cut.write_bytes(b"\xff\xd8\xff\xe0 nothing more")
    with pytest.raises(DamagedFileError, match="does not decode"):
        apart.look(cut, "cut.jpg")


@pytest.mark.skipif(os.name != "posix", reason="only a POSIX system limits a process")
def test_a_photo_that_asks_for_too_much_memory_is_refused_and_the_next_one_is_drawn(
    photo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart, "APART", apart.Apart(memory=1024**3))
    large = tmp_path / "large.png"
    Image.new("L", (14_000, 13_000)).save(large, compress_level=1)
    with pytest.raises(DamagedFileError, match="more than a photo needs"):
        apart.for_print(large, 100)
    assert apart.for_print(photo, 100) == picture.for_print(photo, 100)


def test_a_process_that_ended_meanwhile_is_started_anew(
    photo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart, "APART", apart.Apart())
    apart.for_print(photo, 100)
    assert apart.APART.process
    apart.APART.process.kill()
    apart.APART.process.wait()
    assert apart.for_print(photo, 100) == picture.for_print(photo, 100)


@pytest.mark.skipif(not Path("/proc/self/limits").exists(), reason="only Linux tells the limits")
def test_the_process_may_write_no_file_and_has_its_share_of_memory(photo: Path) -> None:
    apart.for_print(photo, 100)
    assert apart.APART.process
    told = Path(f"/proc/{apart.APART.process.pid}/limits").read_text()
    limits = {line[:26].strip(): line[26:].split()[0] for line in told.splitlines()}
    assert limits["Max file size"] == "0"
    assert limits["Max address space"] == str(apart.MEMORY)
    assert limits["Max cpu time"] != "unlimited"


def test_a_bomb_is_refused_before_it_is_decoded(tmp_path: Path) -> None:
    bomb = tmp_path / "bomb.png"
    Image.new("1", (30_000, 30_000)).save(bomb)
    with pytest.raises(TooLargeError):
        apart.look(bomb, "bomb.png")

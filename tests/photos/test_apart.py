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
def test_a_photo_that_asks_for_too_much_memory_is_refused(
    photo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = apart._Apart()
    with pytest.raises(DamagedFileError, match="more than a photo needs"):
        own.run("a.jpg", bytearray, apart.MEMORY * 2)
    assert own.run("a.jpg", picture.for_print, photo, 100) == picture.for_print(photo, 100)


def test_a_photo_that_ends_the_process_is_refused_and_the_next_one_is_drawn(photo: Path) -> None:
    own = apart._Apart()
    with pytest.raises(DamagedFileError):
        own.run("a.jpg", os._exit, 1)
    assert own.run("a.jpg", picture.for_print, photo, 100) == picture.for_print(photo, 100)


@pytest.mark.skipif(os.name != "posix", reason="only a POSIX system limits a process")
def test_the_process_can_write_no_file(tmp_path: Path) -> None:
    own = apart._Apart()
    with pytest.raises(DamagedFileError):
        own.run("a.jpg", Path.write_bytes, tmp_path / "left-behind", b"x")
    assert not (tmp_path / "left-behind").exists() or not (tmp_path / "left-behind").stat().st_size


def test_a_bomb_is_refused_before_it_is_decoded(tmp_path: Path) -> None:
    bomb = tmp_path / "bomb.png"
    Image.new("1", (30_000, 30_000)).save(bomb)
    with pytest.raises(TooLargeError):
        apart.look(bomb, "bomb.png")

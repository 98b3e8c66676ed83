"""Decoding in a process of its own: it gives the same, and a file can do no more than end it."""

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


def test_a_bomb_is_refused_before_it_is_decoded(tmp_path: Path) -> None:
    bomb = tmp_path / "bomb.png"
    Image.new("1", (30_000, 30_000)).save(bomb)
    with pytest.raises(TooLargeError):
        apart.look(bomb, "bomb.png")

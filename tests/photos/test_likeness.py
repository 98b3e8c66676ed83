"""Photos of the same thing from the same place are found; others are not."""

from pathlib import Path

import pytest
from PIL import Image, ImageEnhance

from jobnotes.photos.likeness import are_alike, likeness
from jobnotes.photos.match import place
from jobnotes.photos.picture import upright
from jobnotes.record import Job, Photo

DEMO = Path(__file__).parent.parent.parent / "demo_data" / "photos"
PHOTOS = sorted(DEMO.glob("*.jpg"))[:4]


def shrunk(picture: Image.Image) -> Image.Image:
    return picture.resize((picture.width // 5, picture.height // 5))


def brighter(picture: Image.Image) -> Image.Image:
    return ImageEnhance.Brightness(picture).enhance(1.3)


def moved(picture: Image.Image) -> Image.Image:
    return picture.crop((picture.width // 40, picture.height // 40, picture.width, picture.height))


@pytest.mark.parametrize("again", [shrunk, brighter, moved])
def test_the_same_thing_taken_again_is_alike(again):
    for path in PHOTOS:
        picture = upright(path)
        assert are_alike(likeness(picture), likeness(again(picture)))


def test_different_photos_of_one_bench_are_not_alike():
    found = [likeness(upright(path)) for path in PHOTOS]
    assert [(a, b) for n, a in enumerate(found) for b in found[:n] if are_alike(a, b)] == []


def job(*likenesses: str, included: bool = True) -> Job:
    photos = [
        Photo(
            id=f"p{n}", name=f"{n}.jpg", sha256=f"{n:064x}", format="jpeg", width=4, height=3,
            likeness=one, included=included,
        )
        for n, one in enumerate(likenesses)
    ]  # fmt: skip
    return Job(id="1", created_at="2026-03-14T09:30:00Z", photos=tuple(photos))


def doubled(made: Job) -> list[bool]:
    return [any(flag.code == "alike" for flag in photo.flags) for photo in place(made).photos]


def test_the_later_of_two_alike_photos_is_flagged_once():
    made = place(job("ff00", "00ff" * 16, "ff01"))
    assert doubled(made) == [False, False, True]


def test_a_photo_that_is_left_out_has_no_double():
    assert doubled(job("ff00", "ff00", included=False)) == [False, False]


def test_a_photo_of_an_older_job_has_no_double():
    assert doubled(job("", "")) == [False, False]

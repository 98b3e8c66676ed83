import numpy
import pytest
from PIL import Image, ImageColor

from jobnotes.photos.marks import INK, draw
from jobnotes.record import Mark

GREY = (128, 128, 128)
INK_RGB = ImageColor.getrgb(INK)


def paper(width: int = 400, height: int = 300) -> Image.Image:
    return Image.new("RGB", (width, height), GREY)


def mark(shape: str, left: float, top: float, right: float, bottom: float) -> Mark:
    return Mark(shape=shape, left=left, top=top, right=right, bottom=bottom)  # type: ignore[arg-type]


def pixels_of(picture: Image.Image, colour: tuple[int, ...]) -> int:
    return int((numpy.asarray(picture) == colour).all(axis=2).sum())


def test_the_picture_that_is_marked_is_left_as_it_was() -> None:
    picture = paper()
    draw(picture, [mark("box", 0.1, 0.1, 0.9, 0.9)])
    assert picture.getcolors() == [(400 * 300, GREY)]


def test_a_circle_runs_through_the_middle_of_the_sides_of_its_box() -> None:
    marked = draw(paper(), [mark("circle", 0.25, 0.2, 0.75, 0.8)])
    for point in [(100, 150), (300, 150), (200, 60), (200, 240)]:
        assert marked.getpixel(point) == INK_RGB
    for point in [(200, 150), (110, 70), (20, 20)]:
        assert marked.getpixel(point) == GREY


def test_a_box_runs_through_its_corners() -> None:
    marked = draw(paper(), [mark("box", 0.25, 0.2, 0.75, 0.8)])
    for point in [(100, 60), (300, 60), (300, 240), (100, 240), (200, 60)]:
        assert marked.getpixel(point) == INK_RGB
    assert marked.getpixel((200, 150)) == GREY


def test_an_arrow_has_its_head_where_it_points() -> None:
    marked = draw(paper(), [mark("arrow", 0.1, 0.5, 0.9, 0.5)])
    assert marked.getpixel((200, 150)) == INK_RGB
    near_tip, near_tail = marked.crop((290, 80, 362, 220)), marked.crop((38, 80, 110, 220))
    assert pixels_of(near_tip, INK_RGB) > 2 * pixels_of(near_tail, INK_RGB)


@pytest.mark.parametrize("shape", ["circle", "box", "arrow"])
def test_ink_has_a_white_edge(shape: str) -> None:
    marked = draw(paper(), [mark(shape, 0.2, 0.2, 0.8, 0.8)])
    assert pixels_of(marked, (255, 255, 255)) > 100
    assert pixels_of(marked, INK_RGB) > 100


def test_marks_are_as_wide_in_a_large_picture_as_in_a_small_one() -> None:
    box = [mark("box", 0.25, 0.25, 0.75, 0.75)]
    small, large = draw(paper(400, 300), box), draw(paper(1600, 1200), box)
    assert pixels_of(large, INK_RGB) == pytest.approx(16 * pixels_of(small, INK_RGB), rel=0.2)


@pytest.mark.parametrize("corners", [(0.25, 0.2, 0.75, 0.8), (0.75, 0.8, 0.25, 0.2)])
def test_a_crop_cuts_whichever_way_round_it_was_drawn(
    corners: tuple[float, float, float, float],
) -> None:
    assert draw(paper(), [mark("crop", *corners)]).size == (200, 180)


def test_a_crop_beyond_the_picture_ends_at_its_edge() -> None:
    assert draw(paper(), [mark("crop", -1, 0.5, 2, 3)]).size == (400, 150)


@pytest.mark.parametrize("at", [0.0, 0.5, 1.0, 7.0])
def test_a_crop_without_extent_leaves_a_picture(at: float) -> None:
    assert draw(paper(), [mark("crop", at, at, at, at)]).size == (1, 1)


def test_marks_count_in_the_whole_picture_also_beside_a_crop() -> None:
    marks = [mark("crop", 0.5, 0, 1, 1), mark("box", 0.75, 0.25, 0.9, 0.75)]
    assert draw(paper(), marks).getpixel((100, 150)) == INK_RGB

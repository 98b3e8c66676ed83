"""Marks: where their lines run over the picture, and what a crop keeps of it."""

import pytest
from PIL import Image

from jobnotes.photos.marks import cut, lines, part
from jobnotes.record import Mark

GREY = (128, 128, 128)


def paper(width: int = 400, height: int = 300) -> Image.Image:
    return Image.new("RGB", (width, height), GREY)


def mark(shape: str, left: float, top: float, right: float, bottom: float) -> Mark:
    return Mark(shape=shape, left=left, top=top, right=right, bottom=bottom)  # type: ignore[arg-type]


def touches(line: tuple[tuple[float, float], ...], point: tuple[float, float]) -> bool:
    return any(abs(x - point[0]) < 4 and abs(y - point[1]) < 4 for x, y in line)


def test_a_circle_runs_through_the_middle_of_the_sides_of_its_box() -> None:
    (circle,) = lines([mark("circle", 0.25, 0.2, 0.75, 0.8)], 400, 300)
    for point in [(100, 150), (300, 150), (200, 60), (200, 240)]:
        assert touches(circle, point)
    for point in [(200, 150), (110, 70), (20, 20)]:
        assert not touches(circle, point)


def test_a_circle_is_closed() -> None:
    (circle,) = lines([mark("circle", 0.25, 0.2, 0.75, 0.8)], 400, 300)
    assert circle[0] == pytest.approx(circle[-1])


def test_a_box_runs_through_its_corners() -> None:
    (box,) = lines([mark("box", 0.25, 0.2, 0.75, 0.8)], 400, 300)
    for corner in [(100, 60), (300, 60), (300, 240), (100, 240)]:
        assert touches(box, corner)


def test_an_arrow_has_its_head_where_it_points() -> None:
    shaft, head = lines([mark("arrow", 0.1, 0.5, 0.9, 0.5)], 400, 300)
    assert shaft[0] == pytest.approx((40, 150))
    assert head[1] == shaft[1] == pytest.approx((360, 150))
    assert all(280 < x < 360 for x, _ in (head[0], head[2]))


@pytest.mark.parametrize("corners", [(0.25, 0.2, 0.75, 0.8), (0.75, 0.8, 0.25, 0.2)])
def test_a_crop_cuts_whichever_way_round_it_was_drawn(
    corners: tuple[float, float, float, float],
) -> None:
    assert cut(paper(), [mark("crop", *corners)]).size == (200, 180)


def test_a_crop_beyond_the_picture_ends_at_its_edge() -> None:
    assert cut(paper(), [mark("crop", -1, 0.5, 2, 3)]).size == (400, 150)


@pytest.mark.parametrize("at", [0.0, 0.5, 1.0, 7.0])
def test_a_crop_without_extent_leaves_a_picture(at: float) -> None:
    assert cut(paper(), [mark("crop", at, at, at, at)]).size == (1, 1)


def test_a_picture_without_a_crop_stays_whole() -> None:
    assert cut(paper(), [mark("box", 0.1, 0.1, 0.9, 0.9)]).size == (400, 300)


def test_the_last_crop_holds() -> None:
    crops = [mark("crop", 0, 0, 0.5, 1), mark("crop", 0.25, 0, 1, 1)]
    assert part(crops).left == 0.25


def test_marks_count_in_the_whole_picture_also_beside_a_crop() -> None:
    marks = [mark("crop", 0.5, 0, 1, 1), mark("box", 0.75, 0.25, 0.9, 0.75)]
    (box,) = lines(marks, 200, 300)
    assert box[0] == pytest.approx((100, 75))
    assert box[2] == pytest.approx((160, 225))

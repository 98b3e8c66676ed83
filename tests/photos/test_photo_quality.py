import numpy
import pytest
from PIL import Image, ImageDraw, ImageFilter

from jobnotes.photos.quality import doubts, measured


def scene(side: int = 1024) -> Image.Image:
    """Edges, textures and a disc, as a bench would show; made up, the same each time."""
    chance = numpy.random.default_rng(7)
    coarse = Image.fromarray(chance.integers(60, 200, (48, 64), dtype=numpy.uint8))
    picture = coarse.resize((side, side * 3 // 4), Image.Resampling.NEAREST)
    pen = ImageDraw.Draw(picture)
    for place in range(0, side, side // 40):
        pen.line([(place, 0), (side - place, side)], fill=20, width=2)
    pen.ellipse((side // 4, side // 5, side // 2, side // 2), fill=230)
    return picture


def noisy(picture: Image.Image, amount: float) -> Image.Image:
    grain = numpy.random.default_rng(3).normal(0, amount, (picture.height, picture.width))
    values = numpy.asarray(picture, dtype=float) + grain
    return Image.fromarray(numpy.clip(values, 0, 255).astype(numpy.uint8))


def codes(picture: Image.Image) -> list[str]:
    return [flag.code for flag in doubts(*measured(picture))]


def test_a_sharp_and_bright_photo_has_no_flag() -> None:
    assert codes(scene()) == []


def test_a_sharp_photo_with_camera_noise_has_no_flag() -> None:
    assert codes(noisy(scene(), 3)) == []


@pytest.mark.parametrize("radius", [3, 6, 12])
def test_a_photo_out_of_focus_is_flagged(radius: int) -> None:
    assert codes(scene().filter(ImageFilter.GaussianBlur(radius))) == ["blurred"]


def test_a_photo_out_of_focus_with_camera_noise_is_flagged() -> None:
    assert codes(noisy(scene().filter(ImageFilter.GaussianBlur(4)), 3)) == ["blurred"]


def test_a_shaken_photo_is_flagged_whichever_way_it_was_shaken() -> None:
    values = numpy.asarray(scene(), dtype=float)
    shaken = sum(numpy.roll(values, shift, axis=1) for shift in range(12)) / 12
    picture = Image.fromarray(shaken.astype(numpy.uint8))
    assert codes(picture) == codes(picture.transpose(Image.Transpose.ROTATE_90)) == ["blurred"]


def test_a_sharp_subject_before_a_soft_background_has_no_flag() -> None:
    picture = scene().filter(ImageFilter.GaussianBlur(12))
    picture.paste(scene().crop((300, 200, 800, 600)), (300, 200))
    assert codes(picture) == []


def test_a_photo_larger_than_what_is_measured_is_judged_alike() -> None:
    assert codes(scene(4000)) == []
    assert codes(scene(4000).filter(ImageFilter.GaussianBlur(14))) == ["blurred"]


def test_a_dark_photo_is_flagged() -> None:
    assert codes(scene().point(lambda value: value // 12)) == ["dark"]


@pytest.mark.parametrize(("grey", "brightness"), [(0, 0.0), (51, 0.2), (255, 1.0)])
def test_brightness_is_the_mean_of_the_picture(grey: int, brightness: float) -> None:
    assert measured(Image.new("L", (64, 64), grey))[1] == pytest.approx(brightness)


@pytest.mark.parametrize("size", [(1, 1), (1, 500), (500, 1), (20, 20)])
def test_a_picture_too_small_to_measure_does_not_count_as_sharp(size: tuple[int, int]) -> None:
    assert measured(Image.new("RGB", size, "white"))[0] == 0.0

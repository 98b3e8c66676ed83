import io
from pathlib import Path

import numpy
import pillow_heif
import pytest
from PIL import Image, ImageCms
from PIL.ExifTags import IFD, Base

from jobnotes.errors import DamagedFileError, TooLargeError
from jobnotes.photos.picture import for_print, upright
from jobnotes.record import Mark

RED, BLUE = (200, 30, 30), (30, 30, 200)
# Exif 2.31, tag 274: the side at which the stored row 0 is seen, and that of the column 0
SIDES = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}


def as_stored(orientation: int) -> Image.Image:
    """The picture as a camera with this orientation tag stores it."""
    sides = SIDES[orientation]
    seen = numpy.asarray(as_seen())
    seen = seen[::-1] if "bottom" in sides else seen
    seen = seen[:, ::-1] if "right" in sides else seen
    return Image.fromarray(seen if sides[0] in ("top", "bottom") else seen.swapaxes(0, 1))


def as_seen() -> Image.Image:
    """A picture that every turn changes: blue in its upper left corner, else red."""
    picture = Image.new("RGB", (96, 64), RED)
    picture.paste(BLUE, (0, 0, 32, 16))
    return picture


def private_exif(orientation: int = 1) -> Image.Exif:
    exif = Image.Exif()
    exif[Base.Orientation] = orientation
    exif[Base.Make] = "SECRETMAKER"
    exif[Base.Software] = "SECRETSOFTWARE"
    exif.get_ifd(IFD.Exif)[Base.BodySerialNumber] = "SECRETSERIAL"
    exif.get_ifd(IFD.GPSInfo).update({1: "N", 2: (1.0, 2.0, 3.0), 3: "E", 4: (4.0, 5.0, 6.0)})
    return exif


def near(one: Image.Image, other: Image.Image) -> bool:
    if one.size != other.size:
        return False
    difference = numpy.asarray(one, dtype=float) - numpy.asarray(other, dtype=float)
    return float(numpy.abs(difference).mean()) < 6


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_jpeg_is_turned_by_its_tag_once(tmp_path: Path, orientation: int) -> None:
    file = tmp_path / "photo.jpg"
    as_stored(orientation).save(file, exif=private_exif(orientation), quality=95)
    assert near(upright(file), as_seen())


@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_a_heic_is_turned_by_its_tag_once(tmp_path: Path, orientation: int) -> None:
    file = tmp_path / "photo.heic"
    stored = pillow_heif.from_pillow(as_stored(orientation))
    stored.save(file, exif=private_exif(orientation).tobytes(), quality=95)
    assert near(upright(file), as_seen())


def test_a_turn_that_makes_no_sense_is_passed_over(tmp_path: Path) -> None:
    as_seen().save(tmp_path / "photo.jpg", exif=private_exif(orientation=77), quality=95)
    assert near(upright(tmp_path / "photo.jpg"), as_seen())


def test_the_transparent_parts_of_a_png_are_white(tmp_path: Path) -> None:
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(tmp_path / "photo.png")
    assert upright(tmp_path / "photo.png").getpixel((20, 20)) == (255, 255, 255)


def test_a_palette_png_keeps_its_colours(tmp_path: Path) -> None:
    as_seen().quantize(4).save(tmp_path / "photo.png")
    assert near(upright(tmp_path / "photo.png"), as_seen())


def test_colours_of_another_space_are_brought_to_srgb(tmp_path: Path) -> None:
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    swapped = lab.replace(b"rXYZ", b"tmp0").replace(b"bXYZ", b"rXYZ").replace(b"tmp0", b"bXYZ")
    Image.new("RGB", (40, 40), RED).save(tmp_path / "photo.png", icc_profile=swapped)
    red, _, blue = upright(tmp_path / "photo.png").getpixel((20, 20))
    assert blue > red  # the profile says that what is stored as red is seen as blue


def test_a_damaged_colour_profile_is_passed_over(tmp_path: Path) -> None:
    as_seen().save(tmp_path / "photo.png", icc_profile=b"not a profile")
    assert near(upright(tmp_path / "photo.png"), as_seen())


@pytest.mark.parametrize("name", ["photo.jpg", "photo.png", "photo.heic"])
def test_print_carries_no_metadata(tmp_path: Path, name: str) -> None:
    exif = private_exif()
    exif.get_ifd(IFD.Exif)[Base.UserComment] = "SECRETCOMMENT"
    as_seen().save(tmp_path / name, exif=exif.tobytes(), xmp=b"<x>SECRETXMP</x>", comment="SECRET")
    assert b"SECRET" in (tmp_path / name).read_bytes()
    printed = for_print(tmp_path / name, 800)
    assert b"SECRET" not in printed
    assert b"Exif" not in printed
    with Image.open(io.BytesIO(printed)) as picture:
        assert picture.format == "JPEG"
        assert not picture.getexif()
        assert set(picture.info) == {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize(("max_px", "size"), [(48, (48, 32)), (96, (96, 64)), (500, (96, 64))])
def test_print_is_reduced_but_never_enlarged(
    tmp_path: Path, max_px: int, size: tuple[int, int]
) -> None:
    as_seen().save(tmp_path / "photo.jpg")
    with Image.open(io.BytesIO(for_print(tmp_path / "photo.jpg", max_px))) as printed:
        assert printed.size == size


def test_equal_photos_print_to_equal_bytes(tmp_path: Path) -> None:
    as_seen().save(tmp_path / "photo.jpg")
    marks = (Mark(shape="circle", left=0.1, top=0.1, right=0.5, bottom=0.5),)
    file = tmp_path / "photo.jpg"
    assert for_print(file, 80, marks) == for_print(file, 80, marks)


def test_printing_leaves_the_original_as_it_was(tmp_path: Path) -> None:
    file = tmp_path / "photo.jpg"
    as_seen().save(file, exif=private_exif(6))
    before = file.read_bytes()
    for_print(file, 40)
    assert file.read_bytes() == before


def test_print_is_cut_to_the_crop(tmp_path: Path) -> None:
    as_seen().save(tmp_path / "photo.png")
    crop = Mark(shape="crop", left=0, top=0, right=1 / 3, bottom=1 / 4)
    with Image.open(io.BytesIO(for_print(tmp_path / "photo.png", 200, (crop,)))) as printed:
        assert near(printed, Image.new("RGB", (32, 16), BLUE))


def test_a_picture_cut_short_is_a_damaged_file(tmp_path: Path) -> None:
    buffer = io.BytesIO()
    as_seen().save(buffer, "JPEG")
    (tmp_path / "photo.jpg").write_bytes(buffer.getvalue()[:-200])
    with pytest.raises(DamagedFileError, match="photo.jpg"):
        upright(tmp_path / "photo.jpg")


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_decoded(tmp_path: Path) -> None:
    Image.new("1", (15_000, 14_000)).save(tmp_path / "bomb.png")
    with pytest.raises(TooLargeError, match="megapixels"):
        upright(tmp_path / "bomb.png")


def test_a_webp_is_drawn_without_what_the_camera_wrote(tmp_path: Path) -> None:
    path = tmp_path / "a.webp"
    as_stored(6).save(path, lossless=True, exif=private_exif(6))
    drawn = for_print(path, 96)
    assert near(Image.open(io.BytesIO(drawn)), as_seen())
    assert b"SECRET" not in drawn


def test_of_several_pictures_in_one_jpeg_the_first_is_the_photo(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    other = Image.new("RGB", (96, 64), BLUE)
    as_stored(6).save(
        path, "MPO", save_all=True, append_images=[other], quality=95, exif=private_exif(6)
    )
    drawn = for_print(path, 96)
    assert near(Image.open(io.BytesIO(drawn)), as_seen())
    assert b"SECRET" not in drawn

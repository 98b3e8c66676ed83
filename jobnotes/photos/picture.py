"""Opening a picture safely, and the two forms it is used in: upright, and ready for print."""

import io
import struct
import warnings
import zlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from PIL import Image, ImageCms
from PIL.ExifTags import Base
from pillow_heif import register_heif_opener

from jobnotes.errors import DamagedFileError, TooLargeError
from jobnotes.photos.marks import cut, part
from jobnotes.record import Mark

register_heif_opener(thumbnails=False)

MAX_PIXELS = 16_384 * 12_288
"""The most pixels that are decoded: the largest phone sensors of today; three bytes each."""

Image.MAX_IMAGE_PIXELS = MAX_PIXELS // 2  # Pillow warns above this and refuses above its double

PRINT_QUALITY = 88
"""JPEG quality for print, of 95; common practice, no source."""

_TURNS = {  # Exif 2.31, tag 274: where the stored rows begin
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_READERS = ("JPEG", "PNG", "WEBP", "HEIF")
_DECODING = (OSError, SyntaxError, ValueError, EOFError, RuntimeError, struct.error, zlib.error)


@contextmanager
def opened(path: Path, name: str = "") -> Iterator[Image.Image]:
    """Give a picture whose size is known and safe; what follows in the block decodes it.

    `name` is how a message calls the file. Raises DamagedFileError where the picture does not
    decode, also within the block, and TooLargeError above MAX_PIXELS, before any is decoded.
    """
    name = name or path.name
    try:
        # Pillow warns of damaged tags and of size; the first costs nothing, the second is refused
        with (
            warnings.catch_warnings(action="ignore"),
            Image.open(path, formats=_READERS) as picture,
        ):
            yield picture
    except Image.DecompressionBombError as error:
        raise TooLargeError(f"{name} has more than {MAX_PIXELS // 10**6} megapixels.") from error
    except _DECODING as error:
        raise DamagedFileError(f"{name} does not decode as a picture.") from error


def upright(path: Path) -> Image.Image:
    """Return the picture as it is seen: turned by its tag, in sRGB on white, pixels only."""
    with opened(path) as picture:
        return _plain(picture)


def for_print(path: Path, max_px: int, marks: Sequence[Mark] = ()) -> bytes:
    """Return JPEG bytes, upright, cropped as marked, without any metadata.

    The long side of what is kept has at most `max_px` pixels. Other marks are not drawn: they are
    lines over the picture (`marks.lines`).
    """
    kept = part(marks)
    px = round(2 * max_px / max(kept.wide, kept.tall, 1 / 16))
    with opened(path) as picture:
        picture.draft("RGB", (px, px))  # a large JPEG decodes at a fraction of its size
        whole = _plain(picture)
    shown = cut(whole, marks)
    shown.thumbnail((max_px, max_px), Image.Resampling.LANCZOS)
    buffer = io.BytesIO()
    shown.save(buffer, "JPEG", quality=PRINT_QUALITY)
    return buffer.getvalue()


def turned(picture: Image.Image) -> Image.Image:
    """Return the picture turned by its orientation tag; a tag that makes no sense is passed over.

    Pillow's own function also writes the tags anew, and fails where a camera wrote them wrong.
    """
    turn = _TURNS.get(picture.getexif().get(Base.Orientation, 1))
    return picture if turn is None else picture.transpose(turn)


def turns_on_side(picture: Image.Image) -> bool:
    """Tell whether turning the picture upright swaps its width and height."""
    return picture.getexif().get(Base.Orientation, 1) in (5, 6, 7, 8)


def _plain(picture: Image.Image) -> Image.Image:
    profile = picture.info.get("icc_profile")
    seen = turned(picture).convert("RGBA" if picture.has_transparency_data else "RGB")
    paper = Image.new("RGB", seen.size, "white")
    paper.paste(seen, mask=seen if seen.mode == "RGBA" else None)
    return _in_srgb(paper, profile) if profile else paper


def _in_srgb(picture: Image.Image, profile: bytes) -> Image.Image:
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        change = ImageCms.buildTransform(source, ImageCms.createProfile("sRGB"), "RGB", "RGB")
    except (ImageCms.PyCMSError, OSError):  # not a profile for RGB: the colours are near enough
        return picture
    ImageCms.applyTransform(picture, change, inPlace=True)
    picture.info.clear()
    return picture

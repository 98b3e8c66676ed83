"""What the camera wrote beside the picture: when it was taken, and whether it tells where."""

import re
from datetime import datetime, timedelta, timezone

from PIL import Image
from PIL.ExifTags import IFD, Base

_OFFSET = re.compile(r"([+-])(\d\d):(\d\d)")


def taken_at(picture: Image.Image) -> datetime | None:
    """Return the time of the exposure, with its zone if the camera wrote one, else without.

    Reads DateTimeOriginal and OffsetTimeOriginal (Exif 2.31); none where unset or no real time.
    """
    tags = picture.getexif().get_ifd(IFD.Exif)
    try:
        local = datetime.strptime(_text(tags.get(Base.DateTimeOriginal)), "%Y:%m:%d %H:%M:%S")
    except ValueError:
        return None
    return local.replace(tzinfo=_zone(_text(tags.get(Base.OffsetTimeOriginal))))


def has_location(picture: Image.Image) -> bool:
    """Tell whether the file says where it was taken, in its Exif or its XMP metadata."""
    xmp = picture.info.get("xmp", b"")
    in_xmp = b"GPSLatitude" in (xmp if isinstance(xmp, bytes) else str(xmp).encode())
    return in_xmp or bool(picture.getexif().get_ifd(IFD.GPSInfo))


def _text(value: object) -> str:
    text = value.decode("latin-1") if isinstance(value, bytes) else str(value)
    return text.strip("\0 ")


def _zone(written: str) -> timezone | None:
    found = _OFFSET.fullmatch(written)
    if not found:
        return None
    sign, hours, minutes = found.groups()
    offset = timedelta(hours=int(hours), minutes=int(minutes))
    if offset >= timedelta(days=1):
        return None
    return timezone(-offset if sign == "-" else offset)

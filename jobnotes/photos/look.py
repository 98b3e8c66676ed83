"""Everything that is learned of a photo by opening it once."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from jobnotes.photos import camera
from jobnotes.photos.likeness import likeness
from jobnotes.photos.picture import opened, turns_on_side
from jobnotes.photos.quality import SIDE, measured


@dataclass(frozen=True)
class Look:
    """What a picture file says: upright size in pixels, time (zone or none), and its quality."""

    width: int
    height: int
    taken_at: datetime | None
    has_location: bool
    sharpness: float
    brightness: float
    likeness: str


def look(path: Path, name: str) -> Look:
    """Decode a picture whole, so that one cut short is found out, and return what it says.

    Raises DamagedFileError and TooLargeError, which call the file by `name`.
    """
    with opened(path, name) as picture:
        size = picture.size[::-1] if turns_on_side(picture) else picture.size
        taken_at, located = camera.taken_at(picture), camera.has_location(picture)
        picture.draft("L", (SIDE, SIDE))  # a large JPEG decodes at a fraction of its size
        return Look(*size, taken_at, located, *measured(picture), likeness(picture))

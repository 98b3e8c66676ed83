"""What a phone adds to a rendered picture: lens, sensor noise, file format and camera tags."""

import json
import tomllib
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from PIL import ExifTags, Image, ImageFilter
from pillow_heif import register_heif_opener

SIZE = (1600, 1200)
NOISE = 1.7  # standard deviation, in steps of 256; a little more in the dark
JPEG_QUALITY = 88
TURNED = 6  # Exif: the stored picture must be turned a quarter clockwise to stand upright

register_heif_opener()


def develop(rendered: Image.Image, seed: int) -> Image.Image:
    """Give a picture a phone's size, sharpening, darker corners and sensor noise."""
    picture = rendered.convert("RGB").resize(SIZE, Image.Resampling.LANCZOS)
    picture = picture.filter(ImageFilter.UnsharpMask(radius=1.6, percent=70, threshold=1))
    values = np.asarray(picture, dtype=float)
    down, across = np.mgrid[-1 : 1 : SIZE[1] * 1j, -1 : 1 : SIZE[0] * 1j]
    values *= (1 - 0.07 * (across**2 + down**2))[..., None]
    grain = np.random.default_rng(seed).standard_normal((SIZE[1], SIZE[0], 4))
    noise = 0.8 * grain[..., :1] + 0.5 * grain[..., 1:]
    values += NOISE * noise * (1.5 - values / 255)
    return Image.fromarray(np.clip(values + 0.5, 0, 255).astype(np.uint8))


def camera_tags(taken: datetime, plan: dict[str, Any]) -> Image.Exif:
    """Write the tags of one photo: time, zone unless it has none, place and turn where planned."""
    tags = Image.Exif()
    stamp = taken.strftime("%Y:%m:%d %H:%M:%S")
    tags[ExifTags.Base.DateTime] = stamp
    times = tags.get_ifd(ExifTags.IFD.Exif)
    times[ExifTags.Base.DateTimeOriginal] = stamp
    if plan.get("zone", True):
        times[ExifTags.Base.OffsetTimeOriginal] = taken.strftime("%z")[:3] + ":00"
    if plan.get("turned"):
        tags[ExifTags.Base.Orientation] = TURNED
    if "place" in plan:
        tags.get_ifd(ExifTags.IFD.GPSInfo).update(_place(*plan["place"]))
    return tags


def _place(north: float, east: float) -> dict[int, Any]:
    return {
        ExifTags.GPS.GPSLatitudeRef: "N",
        ExifTags.GPS.GPSLatitude: (0.0, 0.0, round(north * 3600, 2)),
        ExifTags.GPS.GPSLongitudeRef: "E",
        ExifTags.GPS.GPSLongitude: (0.0, 0.0, round(east * 3600, 2)),
    }


def taken_at(script: dict[str, Any], times: list[dict[str, Any]], scene: str) -> datetime:
    """Return the true time of a photo: a moment after the end of the utterance that names it."""
    number = 0
    for recording in script["recording"]:
        for line in recording["utterances"]:
            if line.get("photo") == scene:
                after_s = times[number]["end_s"] + 0.45 * line["pause"]
                start: datetime = recording["started_at"]
                return start + timedelta(seconds=after_s)
            number += 1
    raise KeyError(scene)


def keep(picture: Image.Image, path: Path, tags: Image.Exif) -> None:
    """Store a picture as the phone would: turned if its tags say so, HEIC or JPEG by its name."""
    if tags.get(ExifTags.Base.Orientation) == TURNED:
        picture = picture.transpose(Image.Transpose.ROTATE_90)
    quality = 62 if path.suffix == ".heic" else JPEG_QUALITY
    picture.save(path, quality=quality, exif=tags.tobytes())


def make_photos(rendered: Path, data: Path) -> int:
    """Turn the rendered pictures (`rendered`/SCENE.png) into the demo's photos; return how many."""
    script = tomllib.loads((data / "script.toml").read_text())
    plan = tomllib.loads((data / "photos.toml").read_text())
    times = json.loads((data / "timeline.json").read_text())
    ahead = timedelta(seconds=plan["phone_clock_ahead_s"])
    for seed, photo in enumerate(plan["photo"]):
        picture = develop(Image.open(rendered / f"{photo['scene']}.png"), seed)
        tags = camera_tags(taken_at(script, times, photo["scene"]) + ahead, photo)
        keep(picture, data / "photos" / photo["file"], tags)
    return len(plan["photo"])

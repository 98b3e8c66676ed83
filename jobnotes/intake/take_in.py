"""Taking files in: each is looked at, its original kept, and the job given a recording or photo."""

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from jobnotes.errors import DamagedFileError, InputError, TooLargeError
from jobnotes.intake import audio
from jobnotes.intake.clock import on_the_wall, stamp_in_name, start_by_file_time
from jobnotes.intake.sniff import photo_format
from jobnotes.intake.typed import TEXT_NAME, read_text, typed
from jobnotes.photos.apart import look
from jobnotes.photos.quality import doubts
from jobnotes.record import Job, Photo, Recording
from jobnotes.store.media import Media


class TakenIn(NamedTuple):
    """The job with what was taken in, why files were refused, and which it had already."""

    job: Job
    refused: tuple[InputError, ...]
    known: tuple[Path, ...]


def take_in(
    job: Job,
    paths: Sequence[Path],
    media: Media,
    progress: Callable[[float], None] | None = None,
) -> TakenIn:
    """Take in sound and photo files, and those directly in folders, in the order given.

    A file that cannot be used is refused by its own InputError and does not stop the others; the
    originals of known kinds are kept even then. `progress` is told the part done, 0 to 1. Raises
    StoreError if originals cannot be kept; the files that were handed in are never changed.
    """
    refused: list[InputError] = []
    known: list[Path] = []
    files = _files(paths)
    for number, file in enumerate(files, 1):
        try:
            taken = _take_one(job, file, media)
        except InputError as error:
            refused.append(error)
        else:
            known += [file] if taken is job else []
            job = taken
        if progress:
            progress(number / len(files))
    return TakenIn(job, tuple(refused), tuple(known))


def _files(paths: Sequence[Path]) -> list[Path]:
    """Replace each folder by its files in order of name; hidden ones are the system's own."""
    files: list[Path] = []
    for path in paths:
        inside = sorted(path.iterdir()) if path.is_dir() else [path]
        files += [f for f in inside if f == path or (f.is_file() and not f.name.startswith("."))]
    return files


def _take_one(job: Job, path: Path, media: Media) -> Job:
    if kind := photo_format(path):
        return _with_photo(job, path, kind, media)
    if path.suffix.lower() == TEXT_NAME:
        return _with_text(job, path, media)
    return _with_sound(job, path, media)


def _with_text(job: Job, path: Path, media: Media) -> Job:
    said = read_text(path)
    sha256 = media.keep(path)
    if any(recording.sha256 == sha256 for recording in job.recordings):
        return job
    return typed(job, said, name=_name(path), sha256=sha256)


def _with_photo(job: Job, path: Path, kind: str, media: Media) -> Job:
    sha256 = media.keep(path)
    if any(photo.sha256 == sha256 for photo in job.photos):
        return job
    name = _name(path)
    seen = look(media.path(sha256), name)
    taken_at = seen.taken_at or stamp_in_name(name)
    photo = Photo(
        id=f"p{len(job.photos) + 1}",
        name=name,
        sha256=sha256,
        format=kind,
        width=seen.width,
        height=seen.height,
        taken_at=taken_at,
        zone_known=bool(taken_at and taken_at.tzinfo),
        has_location=seen.has_location,
        sharpness=seen.sharpness,
        brightness=seen.brightness,
        likeness=seen.likeness,
        flags=doubts(seen.sharpness, seen.brightness),
    )
    return job.having(photos=(*job.photos, photo))


def _with_sound(job: Job, path: Path, media: Media) -> Job:
    try:
        info = audio.probe(path)
    except (DamagedFileError, TooLargeError):
        media.keep(path)
        raise
    sha256 = media.keep(path)
    if any(recording.sha256 == sha256 for recording in job.recordings):
        return job
    name = _name(path)
    began = started_at(path, name, info)
    recording = Recording(
        id=f"r{len(job.recordings) + 1}",
        name=name,
        sha256=sha256,
        format=info.format,
        duration_s=info.duration_s,
        started_at=began,
        zone_known=began.tzinfo is not None,
    )
    return job.having(recordings=(*job.recordings, recording))


def started_at(path: Path, name: str, info: audio.AudioInfo) -> datetime:
    """Return when a recording began: by what it says of itself, its name, or its file's time."""
    if info.started_at:
        return on_the_wall(info.started_at) if info.started_at.tzinfo else info.started_at
    return stamp_in_name(name) or start_by_file_time(path, info.duration_s)


def _name(path: Path) -> str:
    """Return the file's name as text, whatever bytes the file system holds."""
    return path.name.encode(errors="surrogateescape").decode(errors="replace")

"""Writing a bundle: the same bytes for the same job."""

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO
from zipfile import ZIP_STORED, ZipFile, ZipInfo

from jobnotes.bundle.form import MANIFEST, PIECE, RECORD, Held, Manifest, media_names, sha256_of
from jobnotes.errors import StoreError
from jobnotes.record import Job
from jobnotes.report.job_file import dump
from jobnotes.report.output import writing
from jobnotes.store.media import Media

READABLE = 0o644 << 16  # as zip files hold the rights of a file
UNIX = 3  # "made by", so that the bytes are the same on every system


def pack(job: Job, media: Media, out: Path) -> None:
    """Write a job with its originals and issued reports to a file.

    Raises StoreError if an original is missing or altered, OutputError if the file cannot be
    written; no half file is left.
    """
    with writing(out) as file, ZipFile(file, "w", ZIP_STORED) as bundle:
        held = [put(bundle, RECORD, iter([dump(job).encode()]))]
        for name in sorted(media_names(job)):
            held.append(put(bundle, name, _pieces(media.path(sha256_of(name)))))
            _check(held[-1])
        manifest = Manifest(files=tuple(held)).model_dump_json(indent=1)
        put(bundle, MANIFEST, iter([manifest.encode()]))


def put(bundle: ZipFile, name: str, pieces: Iterator[bytes]) -> Held:
    """Write one file; its time and rights are always the same ones."""
    entry = ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
    entry.external_attr, entry.create_system = READABLE, UNIX
    with bundle.open(entry, "w", force_zip64=True) as place:
        size, sha256 = _copied(pieces, place)
    return Held(name=name, size=size, sha256=sha256)


def _copied(pieces: Iterator[bytes], place: IO[bytes]) -> tuple[int, str]:
    digest, size = hashlib.sha256(), 0
    for piece in pieces:
        digest.update(piece)
        size += len(piece)
        place.write(piece)
    return size, digest.hexdigest()


def _pieces(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        while piece := file.read(PIECE):
            yield piece


def _check(held: Held) -> None:
    if held.sha256 != sha256_of(held.name):
        raise StoreError(f"The original {sha256_of(held.name)} was altered since it was kept.")

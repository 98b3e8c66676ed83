"""Reading a bundle, which anybody may have made: everything is checked before anything is kept."""

import hashlib
import re
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import NamedTuple
from zipfile import ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from pydantic import ValidationError

from jobnotes.bundle.form import (
    BUNDLE_VERSION,
    MANIFEST,
    NAME,
    PIECE,
    RECORD,
    Held,
    Manifest,
    media_names,
    sha256_of,
)
from jobnotes.errors import (
    BundleError,
    FormVersionError,
    InputError,
    KnownJobError,
    MissingFileError,
    UnknownJobError,
)
from jobnotes.record import Job
from jobnotes.report.job_file import load
from jobnotes.store.media import Media
from jobnotes.store.store import Store

MOST_FILES = 10_000
MOST_BYTES = 64 << 20  # of the record and of the manifest, which are read whole
NUMBER = re.compile(r"\d{4}-\d{4,}")  # as the store gives them


class Bundle(NamedTuple):
    """A bundle that was checked: its job, the files beside it, the SHA-256 of its manifest."""

    job: Job
    media: tuple[str, ...]
    sha256: str


def receive(path: Path, store: Store, media: Media) -> Job:
    """Take in the job of a bundle and return it, under a new number if its own is taken.

    Raises BundleError for a file that is no whole bundle, FormVersionError for one of another
    version, KnownJobError for a job that is here already; then nothing of it is kept.
    """
    with _opened(path) as file, ExitStack() as undo:
        _check_size(file, path)
        bundle = _checked(file)
        job = _numbered(bundle, store)
        for name in bundle.media:
            sha256 = sha256_of(name)
            if not media.holds(sha256):
                undo.callback(_drop, store, media, sha256)
                media.keep_pieces(_pieces(file, name), name)
        kept = store.create(job).job
        undo.pop_all()
    return kept


def _drop(store: Store, media: Media, sha256: str) -> None:
    """Delete what was kept for a job that does not come in, unless another job has it by now."""
    if sha256 not in store.originals():
        media.drop(sha256)


def _opened(path: Path) -> ZipFile:
    try:
        return ZipFile(path)
    except FileNotFoundError as error:
        raise MissingFileError(f"There is no file {path}.") from error
    except OSError as error:
        raise InputError(f"{path} cannot be read: {error.strerror}.") from error
    except (BadZipFile, ValueError, NotImplementedError) as error:
        raise BundleError(f"{path.name} is no bundle, or its copy was cut short.") from error


def _check_size(file: ZipFile, path: Path) -> None:
    """Refuse a zip whose files overlap, and so hold more together than there is."""
    if sum(entry.file_size for entry in file.infolist()) > path.stat().st_size:
        raise BundleError("The bundle claims to hold more than there is in it.")


def _checked(file: ZipFile) -> Bundle:
    """Return what a bundle holds once every file in it is the one that its manifest names."""
    entries = _entries(file)
    told = _whole(file, MANIFEST)
    manifest = _manifest(told)
    _check_names(entries, manifest)
    for held in manifest.files:
        _check_content(file, held)
    job = load(_whole(file, RECORD))
    names = tuple(sorted(held.name for held in manifest.files if held.name != RECORD))
    if frozenset(names) != media_names(job):
        raise BundleError("The bundle does not hold the files that its record names.")
    _check_ids(job)
    return Bundle(job, names, hashlib.sha256(told).hexdigest())


def _entries(file: ZipFile) -> list[ZipInfo]:
    """Return the entries of a zip; raises BundleError for such as this program never writes."""
    entries = file.infolist()
    if len(entries) > MOST_FILES:
        raise BundleError(f"The bundle holds {len(entries)} files, more than any job's.")
    for entry in entries:
        if entry.compress_type != ZIP_STORED or entry.flag_bits & 1:
            raise BundleError(f"The bundle holds a packed or locked file, {entry.filename!r}.")
    return entries


def _whole(file: ZipFile, name: str) -> bytes:
    """Return one of the two files that are read whole."""
    return b"".join(_pieces(file, name, MOST_BYTES))


def _pieces(file: ZipFile, name: str, most: int | None = None) -> Iterator[bytes]:
    """Yield a file of the bundle; raises BundleError where it does not hold together."""
    read = 0
    try:
        with file.open(name) as held:
            while piece := held.read(PIECE):
                read += len(piece)
                if most is not None and read > most:
                    raise BundleError(f"{name} in the bundle is larger than any job's.")
                yield piece
    except (BadZipFile, EOFError, KeyError, NotImplementedError, OSError) as error:
        raise BundleError(f"The bundle is damaged at {name}.") from error


def _manifest(told: bytes) -> Manifest:
    try:
        manifest = Manifest.model_validate_json(told)
    except ValidationError as error:
        raise BundleError("The bundle's manifest cannot be read.") from error
    if manifest.version != BUNDLE_VERSION:
        raise FormVersionError(
            f"The bundle has version {manifest.version}; this program knows {BUNDLE_VERSION}."
        )
    return manifest


def _check_names(entries: list[ZipInfo], manifest: Manifest) -> None:
    """Hold the names in the zip against those in the manifest: no more, no fewer, none twice."""
    listed = sorted([MANIFEST, *(held.name for held in manifest.files)])
    if sorted(entry.filename for entry in entries) != listed or len(set(listed)) != len(listed):
        raise BundleError("The bundle holds other files than its manifest names.")
    for held in manifest.files:
        if not NAME.fullmatch(held.name):
            raise BundleError(f"The bundle holds a file of a strange name, {held.name!r}.")


def _check_content(file: ZipFile, held: Held) -> None:
    digest, size = hashlib.sha256(), 0
    for piece in _pieces(file, held.name):
        digest.update(piece)
        size += len(piece)
    named = held.sha256 if held.name == RECORD else sha256_of(held.name)
    if (size, digest.hexdigest(), named) != (held.size, held.sha256, held.sha256):
        raise BundleError(f"{held.name} in the bundle is damaged or was altered.")


def _check_ids(job: Job) -> None:
    """Refuse a record in which two things have one id, since review could not tell them apart."""
    ids = [one.id for one in (*job.facts, *job.photos, *job.recordings)]
    if len(set(ids)) != len(ids):
        raise BundleError("The bundle's record names two things alike.")


def _numbered(bundle: Bundle, store: Store) -> Job:
    """Return the job under the number that it gets here; raises KnownJobError if it is here."""
    job = bundle.job.having(bundle=bundle.sha256)
    came = store.list(bundle.sha256, limit=1)
    if came:
        raise KnownJobError(f"This bundle was taken in before, as job {came[0].id}.")
    if not NUMBER.fullmatch(job.id):
        return job.having(id="")
    try:
        here = store.load(job.id).job
    except UnknownJobError:
        return job
    if here.created_at == job.created_at:
        raise KnownJobError(f"Job {job.id} is here already.")
    return job.having(id="")

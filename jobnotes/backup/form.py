"""The form of a backup: a folder that holds several, or one zip file without compression.

    originals/ab/abcd...     in a folder: each recording, photo and issued report, for all backups
    20261125T181000Z/        in a folder: one backup, named by its time (UTC), with the files below
    jobs.db                  the database as it was at one moment, as a SQLite file
    shop/NAME                settings.toml (without this computer's servers), spec book, logo
    originals/abcd...        in a zip: each original
    manifest.json            written last: name, size and SHA-256 of each file and original

A name ending in .part is of a backup that was cut short, and is never taken for one.
"""

import hashlib
import re
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Literal, NamedTuple
from zipfile import BadZipFile, ZipFile

from pydantic import ValidationError

from jobnotes.bundle.form import MANIFEST, ORIGINALS, PIECE, Held
from jobnotes.errors import BackupError, FormVersionError
from jobnotes.record import Model

BACKUP_VERSION = 1
DATABASE, SHOP, PART = "jobs.db", "shop/", ".part"
STAMP = "%Y%m%dT%H%M%SZ"
_NAMED = re.compile(r"\d{8}T\d{6}Z(-\d+)?")
_NAME = re.compile(r"jobs\.db|shop/[^/\\]+|originals/[0-9a-f]{64}")


class BackupManifest(Model):
    """All that a backup holds, when it was taken, and the rows of each table."""

    form: Literal["jobnotes backup"] = "jobnotes backup"
    version: int = BACKUP_VERSION
    taken_at: datetime
    counts: dict[str, int]
    files: tuple[Held, ...]

    def named(self, start: str) -> tuple[Held, ...]:
        """Return the files whose names begin so."""
        return tuple(held for held in self.files if held.name.startswith(start))


class Backup(NamedTuple):
    """A backup to read: a zip file, or the folder of one and that of all originals."""

    path: Path
    originals: Path | None

    def pieces(self, name: str) -> Iterator[bytes]:
        """Yield one file; raises BackupError where it is missing or cannot be read."""
        try:
            if self.originals is None:
                with ZipFile(self.path) as file, file.open(name) as held:
                    yield from iter(lambda: held.read(PIECE), b"")
            else:
                with self._place(self.originals, name).open("rb") as held:
                    yield from iter(lambda: held.read(PIECE), b"")
        except (OSError, KeyError, BadZipFile, EOFError, NotImplementedError) as error:
            raise BackupError(f"{name} of the backup is missing or cannot be read.") from error

    def manifest(self) -> BackupManifest:
        """Return what the backup says it holds; raises BackupError or FormVersionError."""
        told = b"".join(self.pieces(MANIFEST))
        try:
            manifest = BackupManifest.model_validate_json(told)
        except ValidationError as error:
            raise BackupError("The manifest of the backup cannot be read.") from error
        if manifest.version != BACKUP_VERSION:
            raise FormVersionError(f"The backup has version {manifest.version}.")
        return manifest

    def _place(self, originals: Path, name: str) -> Path:
        if name.startswith(ORIGINALS):
            sha256 = name.removeprefix(ORIGINALS)
            return originals / sha256[:2] / sha256
        return self.path / name


def opened(path: Path) -> Backup:
    """Return a backup: a zip, the folder of one, or the newest in a folder; raises BackupError."""
    if path.is_file():
        return Backup(path, None)
    if not (path / MANIFEST).is_file():
        whole = [one for one in backups_in(path) if (one / MANIFEST).is_file()]
        if not whole:
            raise BackupError(
                f"There is no whole backup in {path}.", "Name another folder or file."
            )
        path = whole[-1]
    return Backup(path, path.resolve().parent / ORIGINALS)


def backups_in(folder: Path) -> list[Path]:
    """Return the folders of the backups in a folder, oldest first."""
    inside = folder.iterdir() if folder.is_dir() else iter(())
    return sorted(one for one in inside if _NAMED.fullmatch(one.name))


def problems(backup: Backup) -> tuple[str, ...]:
    """Read a whole backup and return, a sentence each, what is missing or altered."""
    found = (_problem(backup, held) for held in backup.manifest().files)
    return tuple(problem for problem in found if problem)


def _problem(backup: Backup, held: Held) -> str:
    if not _NAME.fullmatch(held.name):
        return f"The backup names a strange file, {held.name!r}."
    digest, size = hashlib.sha256(), 0
    try:
        for piece in backup.pieces(held.name):
            digest.update(piece)
            size += len(piece)
    except BackupError as error:
        return error.what
    if (size, digest.hexdigest()) != (held.size, held.sha256):
        return f"{held.name} of the backup was altered or is cut short."
    return ""

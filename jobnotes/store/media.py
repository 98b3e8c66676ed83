"""The untouched originals, each kept once under the SHA-256 of its content."""

import hashlib
import os
import stat
from collections.abc import Iterable, Iterator
from pathlib import Path
from uuid import uuid4

from jobnotes.errors import InputError, MissingFileError, StoreError

_PIECE = 1 << 20
_TEMP = ".part"
_READ_ONLY = stat.S_IRUSR | stat.S_IRGRP | stat.S_IROTH


class Media:
    """A folder of originals: `ab/abcd...` holds the file whose SHA-256 is abcd..."""

    def __init__(self, folder: Path) -> None:
        """Name the folder; it is made when the first original is kept."""
        self.folder = folder

    def keep(self, source: Path) -> str:
        """Copy a file in and return its SHA-256 in hexadecimal; the source is only read.

        The copy has its final name only once all of it is on disk, so a kill or a power cut leaves
        at most a stray temporary file. Content that is there already and intact is kept as it is.
        Raises MissingFileError or InputError where the source cannot be read, StoreError where the
        copy cannot be written.
        """
        return self.keep_pieces(_pieces(source), source.name)

    def keep_pieces(self, pieces: Iterable[bytes], name: str) -> str:
        """Keep content that comes in pieces, as `keep` does a file; `name` is for the message."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            return self._keep(pieces)
        except OSError as error:
            raise StoreError(
                f"{name} could not be kept in {self.folder}: {error.strerror}.",
                "Make room or access there, then send the file again; no half copy was kept.",
            ) from error

    def pieces(self, sha256: str) -> Iterator[bytes]:
        """Yield an original bit by bit; raises StoreError if it is not there."""
        return _pieces(self.path(sha256))

    def is_intact(self, sha256: str) -> bool:
        """Read an original and tell whether it is there and unaltered."""
        return _is_intact(self._place(sha256))

    def drop(self, sha256: str) -> None:
        """Delete an original that no job needs; raises StoreError where that cannot be."""
        try:
            self._place(sha256).unlink(missing_ok=True)
        except OSError as error:
            raise StoreError(
                f"The original {sha256} could not be deleted: {error.strerror}.",
                "Give this user access to it; the next command of this kind deletes it.",
            ) from error

    def path(self, sha256: str) -> Path:
        """Return where an original lies; raises StoreError if it is not there."""
        if not self.holds(sha256):
            raise StoreError(f"The original {sha256} is missing from {self.folder}.")
        return self._place(sha256)

    def holds(self, sha256: str) -> bool:
        """Tell whether an original is there, without reading it."""
        return self._place(sha256).is_file()

    def verify(self) -> list[str]:
        """Read every original again and return, a sentence each, what is altered or stray."""
        files = sorted(path for path in self.folder.rglob("*") if path.is_file())
        return [problem for path in files if (problem := self._problem(path))]

    def _keep(self, pieces: Iterable[bytes]) -> str:
        temp = self.folder / f"{uuid4().hex}{_TEMP}"
        try:
            sha256 = _write(temp, pieces)
            place = self._place(sha256)
            if not _is_intact(place):
                _move(temp, place)
            return sha256
        finally:
            temp.unlink(missing_ok=True)

    def _place(self, sha256: str) -> Path:
        return self.folder / sha256[:2] / sha256

    def _problem(self, path: Path) -> str:
        if path.suffix == _TEMP:
            return f"{path.name} is left over from a copy that was cut short; it may be deleted."
        if path != self._place(path.name):
            return f"{path.name} does not belong among the originals."
        if not _is_intact(path):
            return f"The original {path.name} was altered; restore it from the last backup."
        return ""


def _pieces(source: Path) -> Iterator[bytes]:
    try:
        with source.open("rb") as file:
            while piece := file.read(_PIECE):
                yield piece
    except FileNotFoundError as error:
        raise MissingFileError(f"There is no file {source}.") from error
    except OSError as error:
        raise InputError(f"{source.name} cannot be read: {error.strerror}.") from error


def _write(temp: Path, pieces: Iterable[bytes]) -> str:
    digest = hashlib.sha256()
    with temp.open("xb") as file:
        for piece in pieces:
            digest.update(piece)
            file.write(piece)
        file.flush()
        os.fsync(file.fileno())
    return digest.hexdigest()


def _move(temp: Path, place: Path) -> None:
    place.parent.mkdir(exist_ok=True)
    temp.chmod(_READ_ONLY)
    temp.replace(place)
    sync_folder(place.parent)
    sync_folder(place.parent.parent)


def sync_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk; a no-op where the system has no such thing."""
    if os.name == "nt":  # Windows has no handle on a folder to sync
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _is_intact(place: Path) -> bool:
    if not place.is_file():
        return False
    with place.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest() == place.name

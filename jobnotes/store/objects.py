"""Originals in object storage (S3, or another kind that fsspec knows), with local copies to read.

An object appears whole or not at all, under the same names as in a folder. Sound and photos are
read from copies in a folder of this computer, each checked by its hash when it is fetched.
"""

import hashlib
import os
import re
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from jobnotes.errors import SettingsError, StoreError
from jobnotes.store.media import Media

_PIECE = 1 << 20
_SHA256 = re.compile(r"[0-9a-f]{64}")
_COPY_S = 86_400.0  # a copy that nobody read for a day goes, so that erased sound stays nowhere
_REMEDY = "See that the storage is reached and lets this user in, then do it again."


def media_at(place: str, copies: Path) -> Media:
    """Return the originals at a place: a folder, or a URL such as s3://shop/originals.

    `copies` is a folder of this computer for what is read from a URL. Raises SettingsError for a
    URL of a kind that is not installed.
    """
    return Objects(place, copies) if "://" in place else Media(Path(place))


class Objects(Media):
    """Originals in object storage; `folder` holds the copies."""

    def __init__(self, url: str, copies: Path) -> None:
        """Name the storage, which must exist; copies that nobody reads any more are deleted."""
        super().__init__(copies)
        self._copies = Media(copies)
        self._files, self._root = _storage(url)
        for copy in copies.rglob("*"):
            if copy.is_file() and time.time() - copy.stat().st_mtime > _COPY_S:
                copy.unlink(missing_ok=True)

    def keep_pieces(self, pieces: Iterable[bytes], name: str) -> str:
        """Keep content that comes in pieces; it is in the storage when this returns."""
        sha256 = self._copies.keep_pieces(pieces, name)
        copy = self._copies.path(sha256)
        with _reached(f"{name} could not be kept"):
            if not self._is_there(sha256, copy.stat().st_size):
                self._files.put_file(str(copy), self._key(sha256))
            if not self._is_there(sha256, copy.stat().st_size):
                raise StoreError(f"{name} did not arrive whole in the storage.", _REMEDY)
        return sha256

    def drop(self, sha256: str) -> None:
        """Delete an original from the storage and its copy here."""
        self._copies.drop(sha256)
        with _reached(f"The original {sha256} could not be deleted"):
            if self._files.exists(self._key(sha256)):
                self._files.rm_file(self._key(sha256))

    def path(self, sha256: str) -> Path:
        """Return where a copy of an original lies; raises StoreError if it is gone or altered."""
        if not self.holds(sha256):
            self._copies.drop(sha256)
            raise StoreError(f"The original {sha256} is missing from {self._root}.")
        if not self._copies.holds(sha256):
            kept = self._copies.keep_pieces(self.pieces(sha256), sha256)
            if kept != sha256:
                self._copies.drop(kept)
                raise StoreError(f"The original {sha256} was altered.")
        copy = self._copies.path(sha256)
        os.utime(copy)
        return copy

    def pieces(self, sha256: str) -> Iterator[bytes]:
        """Yield an original bit by bit from the storage; raises StoreError if it is not there."""
        reached = _reached(f"The original {sha256} cannot be read")
        with reached, self._files.open(self._key(sha256), "rb") as file:
            yield from iter(lambda: file.read(_PIECE), b"")

    def is_intact(self, sha256: str) -> bool:
        """Read an original from the storage and tell whether it is there and unaltered."""
        return self.holds(sha256) and _hash(self.pieces(sha256)) == sha256

    def holds(self, sha256: str) -> bool:
        """Tell whether an original is there, without reading it."""
        with _reached(f"The original {sha256} cannot be looked for"):
            return bool(self._files.exists(self._key(sha256)))

    def verify(self) -> list[str]:
        """Read every original again and return, a sentence each, what is altered or stray."""
        with _reached("The originals cannot be listed"):
            found = sorted(self._files.find(self._root))
        return [problem for key in found if (problem := self._problem_of(key))]

    def _problem_of(self, key: str) -> str:
        name = key.rpartition("/")[2]
        if not _SHA256.fullmatch(name) or key != self._key(name):
            return f"{name} does not belong among the originals."
        if not self.is_intact(name):
            return f"The original {name} was altered; restore it from the last backup."
        return ""

    def _is_there(self, sha256: str, size: int) -> bool:
        key = self._key(sha256)
        return bool(self._files.exists(key)) and self._files.info(key)["size"] == size

    def _key(self, sha256: str) -> str:
        return f"{self._root}/{sha256[:2]}/{sha256}"


def _storage(url: str) -> tuple[Any, str]:
    from fsspec.core import url_to_fs  # type: ignore[import-untyped]

    try:
        files, root = url_to_fs(url, use_listings_cache=False, skip_instance_cache=True)
    except (ImportError, ValueError) as error:
        raise SettingsError(
            f"'{url}' names no storage that can be used: {error}.",
            "Correct `media` in the settings; for S3 install jobnotes[s3].",
        ) from error
    return files, str(root).rstrip("/")


@contextmanager
def _reached(what: str) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise StoreError(f"{what}: {error}.", _REMEDY) from error


def _hash(pieces: Iterator[bytes]) -> str:
    digest = hashlib.sha256()
    for piece in pieces:
        digest.update(piece)
    return digest.hexdigest()

"""What was heard of a recording before its hearing was stopped: a small file a block."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from pydantic import TypeAdapter

from jobnotes.errors import StoreError
from jobnotes.speech.engine import Heard

_HEARD = TypeAdapter(Heard)


class Unfinished:
    """The blocks of one recording that were heard; nothing is kept where there is no folder."""

    def __init__(self, folder: Path | None, sha256: str) -> None:
        """Take the folder, which belongs to one model, and the recording's hash."""
        self._folder = folder if sha256 else None
        self._sha256 = sha256

    def block(self, number: int) -> Heard | None:
        """Return what was heard in a block (counted from 0), if it was heard before."""
        path = self._path(number)
        return _HEARD.validate_json(path.read_bytes()) if path and path.exists() else None

    def keep(self, number: int, heard: Heard) -> None:
        """Keep what was heard in a block; a stop while writing leaves no half file in its place.

        Raises StoreError, as `forget` does.
        """
        if path := self._path(number):
            with _told(path.parent):
                path.parent.mkdir(parents=True, exist_ok=True)
                fresh = path.with_suffix(".part")
                fresh.write_bytes(_HEARD.dump_json(heard))
                fresh.replace(path)

    def forget(self) -> None:
        """Remove what was kept, as the recording was heard to its end."""
        number = 0
        while (path := self._path(number)) and path.exists():
            with _told(path.parent):
                path.unlink()
            number += 1

    def _path(self, number: int) -> Path | None:
        return self._folder / f"{self._sha256}.{number}.json" if self._folder else None


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise StoreError(
            f"What was heard cannot be kept in {folder}: {error.strerror}.",
            "Make room or access there, then run the job again; it goes on where it stopped.",
        ) from error

"""Which files of a watched folder have come whole."""

from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from jobnotes.errors import DamagedFileError, MissingFileError
from jobnotes.intake.audio import RATE, blocks, cut_short
from jobnotes.intake.sniff import photo_format
from jobnotes.photos.apart import look

_SEND_AGAIN = "It is left where it is: let the phone send it again."


class State(NamedTuple):
    """A file as it was seen: its size in bytes and when it was last changed, in nanoseconds."""

    size: int
    changed_ns: int


def seen_in(folder: Path) -> dict[Path, State]:
    """Return the files of a folder and those below it; hidden ones are the system's own.

    Raises MissingFileError where the folder is not there (any more).
    """
    if not folder.is_dir():
        raise MissingFileError(f"There is no folder {folder}.")
    shown = (path for path in sorted(folder.rglob("*")) if not _is_hidden(path, folder))
    return {path: state for path in shown if (state := _state(path))}


def settled(before: Mapping[Path, State], now: Mapping[Path, State]) -> tuple[Path, ...]:
    """Return the files that are just as they were before."""
    return tuple(path for path, state in now.items() if before.get(path) == state)


def check_whole(path: Path) -> None:
    """Decode a photo or recording to its end; raises InputError for what is not whole, or neither.

    The file is only read.
    """
    if photo_format(path):
        look(path, path.name)
    elif cut_short(path, sum(block.size for block in blocks(path, 60.0)) / RATE):
        raise DamagedFileError(f"{path.name} ends early.", _SEND_AGAIN)


def _state(path: Path) -> State | None:
    """Look at a file; nothing for a folder, or what is gone meanwhile."""
    try:
        stat = path.stat()
    except FileNotFoundError:
        return None
    return State(stat.st_size, stat.st_mtime_ns) if path.is_file() else None


def _is_hidden(path: Path, folder: Path) -> bool:
    return any(part.startswith(".") for part in path.relative_to(folder).parts)

"""The folder where a dictation lies until it is taken in; one dictation at a time."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from filelock import FileLock, Timeout

from jobnotes.errors import DictationError
from jobnotes.intake.audio import RATE
from jobnotes.spool.wav import BYTES, read_head

LOCK_NAME = "lock"
_FILES = "*.wav"
_ACCESS = "Give this user access to it, or name another data folder with JOBNOTES_HOME."


class Left(NamedTuple):
    """A file that waits: its job, seconds of sound, and whether it was ended properly."""

    path: Path
    job: str
    length_s: float
    ended: bool


@contextmanager
def held(folder: Path) -> Iterator[bool]:
    """Hold the folder against other programs; yield whether that went. A kill lets go of it."""
    lock = FileLock(folder / LOCK_NAME)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        lock.acquire(timeout=0)
    except Timeout:
        yield False
        return
    except OSError as error:
        raise DictationError(f"{folder} cannot be used: {error.strerror}.", _ACCESS) from error
    try:
        yield True
    finally:
        lock.release()


def waits_in(folder: Path) -> bool:
    """Tell, quickly, whether a file waits or is being written."""
    return any(folder.glob(_FILES))


def left_in(folder: Path) -> tuple[Left, ...]:
    """Return the files that wait, in the order in which they were spoken.

    One that was cut off within its head holds no sound and no job: it has no job's name.
    """
    return tuple(_left(path) for path in sorted(folder.glob(_FILES)))


def dropped(files: Iterable[Left]) -> None:
    """Delete files whose sound is kept among the originals; raises DictationError."""
    for left in files:
        try:
            left.path.unlink()
        except OSError as error:
            raise DictationError(
                f"{left.path} cannot be deleted: {error.strerror}.", _ACCESS
            ) from error


def _left(path: Path) -> Left:
    head = read_head(path)
    if not head:
        return Left(path, "", 0.0, False)
    samples = max(0, path.stat().st_size - head.size) // BYTES
    return Left(path, head.job, samples / RATE, head.ended)

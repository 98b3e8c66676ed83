"""Sound onto the disk as it comes, a fresh file every few minutes."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

import numpy as np

from jobnotes.errors import DictationError
from jobnotes.intake.audio import RATE
from jobnotes.live.source import Block, as_floats, seconds
from jobnotes.spool.wav import Pcm, end, head
from jobnotes.store.media import sync_folder

SYNC_S = 0.5  # of sound between two syncs: what a power cut may cost
FRESH_S = 240.0  # after which the next pause begins a fresh file
_GRACE_S = 60.0  # more, after which it begins in the middle of a word, if nobody pauses
_QUIET_S = 1.0
_BY_ROOM = (
    "Make room there; what was recorded before is kept, and the next command takes it in by itself."
)
_NAME = "dictation-%Y%m%d-%H%M%S-%f.wav"


class Tape:
    """The files of one dictation in the spool folder.

    Each method raises DictationError where the disk takes no more; what is written stays readable.
    """

    def __init__(self, folder: Path, job: str, fresh_s: float = FRESH_S) -> None:
        """Begin the first file."""
        self._folder, self._job, self._fresh_s = folder, job, fresh_s
        self._begin()

    def add(self, block: Block) -> None:
        """Write a block; after a gap a fresh file is begun, and the old one stays as if cut off."""
        if block.gap:
            self.leave()
            self._begin()
        elif self._is_due():
            self.end()
            self._begin()
        with _told(self._path):
            self._write(block.samples)

    def end(self) -> None:
        """End the file properly; one without sound, too, so that it can be told from a cut one."""
        with _told(self._path), self._file:
            end(self._file, self._head_size)

    def leave(self) -> None:
        """Close the file as a kill would leave it: what reads it later sees that it broke off."""
        self._file.close()

    def _begin(self) -> None:
        started_at = datetime.now().astimezone()
        start = head(self._job, started_at)
        self._path = self._folder / started_at.strftime(_NAME)
        self._head_size, self._length_s, self._synced_s = len(start), 0.0, 0.0
        self._last = np.zeros(0, np.int16)
        with _told(self._path):
            self._file: BinaryIO = self._path.open("xb", buffering=0)
            _write_all(self._file, start)
            os.fsync(self._file.fileno())
            sync_folder(self._folder)

    def _write(self, samples: Pcm) -> None:
        _write_all(self._file, samples.tobytes())
        self._length_s += seconds(samples)
        self._last = np.concatenate([self._last, samples])[-int(_QUIET_S * RATE) :]
        if self._length_s - self._synced_s >= SYNC_S:
            os.fsync(self._file.fileno())
            self._synced_s = self._length_s

    def _is_due(self) -> bool:
        """Tell whether it is time for a fresh file, and nobody speaks just now."""
        if self._length_s < self._fresh_s:
            return False
        from jobnotes.speech.voice import voice_in

        return self._length_s >= self._fresh_s + _GRACE_S or not voice_in(as_floats(self._last))


@contextmanager
def _told(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        why = f"The dictation broke off: {path.name} cannot be written ({error.strerror})."
        raise DictationError(why, _BY_ROOM) from error


def _write_all(file: BinaryIO, data: bytes) -> None:
    """Write every byte: a disk that is nearly full takes a part, and says so only after that."""
    left = memoryview(data)
    while left:
        left = left[file.write(left) :]

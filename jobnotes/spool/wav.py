"""A WAV file that grows: readable at every moment, and telling whether it was ended properly."""

import os
import struct
from datetime import datetime
from pathlib import Path
from typing import BinaryIO, NamedTuple

import numpy as np
from numpy.typing import NDArray

from jobnotes.intake.audio import RATE

Pcm = NDArray[np.int16]

BYTES = 2  # of a sample
_UNKNOWN = 0xFFFFFFFF  # the length of a WAV file whose writer does not know it yet
_RIFF_LENGTH_AT = 4
_FIRST_BYTES = 4096  # hold every head that `head` makes


class Head(NamedTuple):
    """What a file says of itself: its job, its own size in bytes, and whether it was ended."""

    job: str
    size: int
    ended: bool


def head(job: str, started_at: datetime) -> bytes:
    """Return the head of a file whose length is not known yet: mono, 16 bits, 16,000 a second.

    The start (with its zone) and the job stand in an INFO list (Multimedia Programming Interface
    and Data Specifications 1.0, chapter 2), so that the sound never lies about without them.
    """
    form = struct.pack("<HHIIHH", 1, 1, RATE, RATE * BYTES, BYTES, 8 * BYTES)
    start, subject = f"{started_at.isoformat()}\0".encode(), f"{job}\0".encode()
    told = b"INFO" + _chunk(b"ICRD", start) + _chunk(b"ISBJ", subject)
    body = b"WAVE" + _chunk(b"fmt ", form) + _chunk(b"LIST", told)
    length = struct.pack("<I", _UNKNOWN)
    return b"RIFF" + length + body + b"data" + length


def read_head(path: Path) -> Head | None:
    """Read the head of a file that `head` began; nothing where it is cut short."""
    with path.open("rb") as stream:
        start = stream.read(_FIRST_BYTES)
    job, at = "", 12
    while at + 8 <= len(start):
        name, (length,) = start[at : at + 4], struct.unpack_from("<I", start, at + 4)
        if name == b"data":
            return Head(job, at + 8, length != _UNKNOWN)
        job = _subject(start[at + 8 : at + 8 + length]) if name == b"LIST" else job
        at += 8 + length + length % 2
    return None


def end(stream: BinaryIO, head_size: int) -> None:
    """Write the lengths into the head; last that of the sound, which says that it was ended."""
    size = stream.seek(0, os.SEEK_END)
    os.fsync(stream.fileno())
    for at, length in ((_RIFF_LENGTH_AT, size - 8), (head_size - 4, size - head_size)):
        stream.seek(at)
        stream.write(struct.pack("<I", length))
    os.fsync(stream.fileno())


def _chunk(name: bytes, body: bytes) -> bytes:
    return name + struct.pack("<I", len(body)) + body + b"\0" * (len(body) % 2)


def _subject(told: bytes) -> str:
    _, _, after = told.partition(b"ISBJ")
    return after[4:].partition(b"\0")[0].decode(errors="replace")

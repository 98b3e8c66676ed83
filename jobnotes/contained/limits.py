"""What a decoding process may use, and how its answers are framed."""

import struct
from typing import BinaryIO

CPU_S = 60
"""Processor seconds for one answer; the largest picture that is taken in needs about a fifth."""

WAIT_S = 300
"""Seconds by the clock, on a machine that is busy."""

MEMORY = 6 << 30
"""Bytes of addresses: a picture of the most pixels is held three times on its way."""

DATA, ERROR, END = b"D", b"E", b"Z"
_HEAD = struct.Struct("<cQ")


def send(stream: BinaryIO, kind: bytes, content: bytes = b"") -> None:
    """Write a frame: its kind, its length, its content."""
    stream.write(_HEAD.pack(kind, len(content)) + content)
    stream.flush()


def receive(stream: BinaryIO) -> tuple[bytes, bytes] | None:
    """Read a frame; nothing where the other side has ended."""
    head = stream.read(_HEAD.size)
    if len(head) < _HEAD.size:
        return None
    kind, length = _HEAD.unpack(head)
    content = stream.read(length)
    return (kind, content) if len(content) == length else None

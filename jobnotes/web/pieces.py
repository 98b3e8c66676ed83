"""Pieces of a recording as a phone sends them: kept on disk one by one, joined when it ends.

`incoming/JOB/TAKE/` holds a file for each piece, named by its part, number, offset and hash. A take
is one press of the record button; its parts are the runs of the phone's recorder, each a sound file
of its own.
"""

import hashlib
import os
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from pydantic import BaseModel, ConfigDict, Field

from jobnotes.errors import DamagedFileError, ReviewError, StoreError
from jobnotes.intake.audio import kind_of

FOLDER = "incoming"
_TAKE = re.compile(r"[0-9a-f]{32}")
_JOB = re.compile(r"[\w-]{1,40}", re.ASCII)
_SHA256 = re.compile(r"[0-9a-f]{64}")
_END = "end.json"
_DONE = "taken-in"
_REFUSED = "refused.json"
MOST_PIECES = 100_000  # more than a day of one-second pieces
AGAIN = "It is sent again from the phone."


class Piece(NamedTuple):
    """One piece: its part and number in it, both from 0, and the bytes that come before it."""

    part: int
    number: int
    offset: int
    sha256: str


class PartEnd(BaseModel):
    """What the phone says of a part that ended: pieces, bytes, start in ms of the Unix epoch."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    pieces: int = Field(ge=0, le=MOST_PIECES)
    bytes: int = Field(ge=0)
    started_ms: int = Field(ge=0, le=4_000_000_000_000)


class TakeEnd(BaseModel):
    """What the phone says of a take that ended."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    parts: tuple[PartEnd, ...] = Field(min_length=1, max_length=1000)


def take_folder(data: Path, job: str, take: str) -> Path:
    """Return where a take's pieces lie; raises ReviewError for names that are no job or take."""
    if not _JOB.fullmatch(job) or not _TAKE.fullmatch(take):
        raise ReviewError("That is no recording of this program.", AGAIN)
    return data / FOLDER / job / take


def keep(folder: Path, piece: Piece, content: bytes) -> None:
    """Keep a piece, on disk before this returns; one that is there already is left as it is.

    Raises DamagedFileError where the content is not what its hash says, or another piece has its
    place, and StoreError where it cannot be written.
    """
    if not _SHA256.fullmatch(piece.sha256) or hashlib.sha256(content).hexdigest() != piece.sha256:
        raise DamagedFileError("The piece arrived damaged.", AGAIN)
    held = held_pieces(folder).get((piece.part, piece.number))
    if held and held != piece:
        raise DamagedFileError("Another piece has this place.", "Both are kept where they are.")
    if not held:
        write_whole(folder / _name(piece), content)


def held_pieces(folder: Path) -> dict[tuple[int, int], Piece]:
    """Return the pieces of a take that are on disk, by part and number."""
    files = [path.name for path in folder.glob("*.piece")]
    pieces = [_piece(name) for name in files]
    return {(piece.part, piece.number): piece for piece in pieces}


def content_of(folder: Path, part: int, number: int) -> bytes:
    """Return the bytes of a piece that is on disk; none where it has not come."""
    found = next(folder.glob(f"{part:04}-{number:06}-*.piece"), None)
    try:
        return found.read_bytes() if found else b""
    except FileNotFoundError:  # the take was taken in meanwhile
        return b""


def missing(folder: Path, end: TakeEnd) -> list[tuple[int, int]]:
    """Return part and number of each piece that the phone has told of and that is not here."""
    held = held_pieces(folder)
    told = [(n, k) for n, part in enumerate(end.parts) for k in range(part.pieces)]
    return [place for place in told if place not in held]


def close(folder: Path, end: TakeEnd) -> None:
    """Note that a take is whole, so that it is taken in even if the program stops before that."""
    write_whole(folder / _END, end.model_dump_json().encode())


def closed(data: Path) -> list[Path]:
    """Return the folders of takes that are whole and not taken in yet."""
    return sorted(path.parent for path in (data / FOLDER).glob(f"*/*/{_END}"))


def joined(folder: Path) -> list[Path]:
    """Join each part of a closed take into a file beside its pieces, and return the files.

    Raises DamagedFileError where the bytes do not add up to what the phone told.
    """
    end = TakeEnd.model_validate_json((folder / _END).read_bytes())
    held = held_pieces(folder)
    whole = [[held[n, k] for k in range(part.pieces)] for n, part in enumerate(end.parts)]
    parts = [(n, part) for n, part in enumerate(end.parts) if part.pieces]
    return [_join(folder, n, part, whole[n]) for n, part in parts]


def clear(folder: Path) -> None:
    """Remove a take's pieces, once the joined sound is kept among the originals; note that it was.

    A phone that missed the answer asks again, and is told so by the note. The end goes last, so
    that a take whose clearing was cut short is found again at the next start.
    """
    with _told(folder):
        (folder / _DONE).touch()
        for file in sorted(folder.iterdir(), key=lambda file: file.name == _END):
            if file.name != _DONE:
                file.unlink()


def is_taken_in(folder: Path) -> bool:
    """Tell whether a take was taken in before."""
    return (folder / _DONE).exists()


def is_settled(folder: Path) -> bool:
    """Tell whether the worker is done with a take, be it taken in or set aside."""
    return is_taken_in(folder) or (folder / _REFUSED).exists()


def set_aside(folder: Path) -> None:
    """Leave the pieces of a take that is no usable sound where they are, and not try again."""
    with _told(folder):
        (folder / _END).rename(folder / _REFUSED)


def _join(folder: Path, number: int, part: PartEnd, pieces: Sequence[Piece]) -> Path:
    content = b""
    for piece in pieces:
        if piece.offset != len(content):
            raise DamagedFileError(f"Piece {piece.number} of part {number} is not in its place.")
        content += (folder / _name(piece)).read_bytes()
    if len(content) != part.bytes:
        raise DamagedFileError(f"Part {number} is not as long as the phone told.")
    started = datetime.fromtimestamp(part.started_ms / 1000).strftime("%Y%m%d_%H%M%S")
    file = folder / f"{started}-bench-{number + 1}.{kind_of(content[:16]) or 'sound'}"
    write_whole(file, content)
    return file


def _name(piece: Piece) -> str:
    return f"{piece.part:04}-{piece.number:06}-{piece.offset}-{piece.sha256}.piece"


def _piece(name: str) -> Piece:
    part, number, offset, sha256 = name.removesuffix(".piece").split("-")
    return Piece(int(part), int(number), int(offset), sha256)


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that it has its name only once all of it is on disk; raises StoreError."""
    temp = path.with_suffix(".writing")
    with _told(path.parent):
        path.parent.mkdir(parents=True, exist_ok=True)
        with temp.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temp.replace(path)


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise StoreError(
            f"What arrives cannot be kept in {folder}: {error.strerror}.",
            "Make room or access there; what has arrived is kept, and the rest is sent again.",
        ) from error

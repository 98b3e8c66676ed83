"""Telling what a file is by its first bytes, never by its name."""

from pathlib import Path

from jobnotes.errors import EmptyFileError, InputError, MissingFileError

_HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}


def photo_format(path: Path) -> str:
    """Return "jpeg", "png", "webp" or "heic", or "" for a file that is no photo of these kinds.

    A JPEG may hold more pictures (MPO, CIPA DC-007); the first is the photo.
    Raises MissingFileError, EmptyFileError, or InputError where it cannot be read.
    """
    return kind_of_photo(_head(path))


def kind_of_photo(head: bytes) -> str:
    """Return what `photo_format` does, by the first 16 bytes of a file."""
    if head.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if head.startswith(b"RIFF") and head[8:12] == b"WEBP":  # RFC 9649, 2.3
        return "webp"
    if head[4:8] == b"ftyp" and head[8:12] in _HEIC_BRANDS:  # ISO/IEC 23008-12, annex B
        return "heic"
    return ""


def _head(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            head = file.read(16)
    except FileNotFoundError as error:
        raise MissingFileError(f"There is no file {path}.") from error
    except OSError as error:
        raise InputError(f"{path.name} cannot be read: {error.strerror}.") from error
    if not head:
        raise EmptyFileError(f"{path.name} holds no bytes.")
    return head

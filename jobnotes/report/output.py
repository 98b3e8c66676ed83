"""Files that the program writes for people: whole under their name, or not there at all."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO
from uuid import uuid4

from jobnotes.errors import OutputError


def write(out: Path, content: bytes) -> None:
    """Write a file whole; raises OutputError, which names it, where that cannot be."""
    with writing(out) as file:
        file.write(content)


@contextmanager
def writing(out: Path) -> Iterator[IO[bytes]]:
    """Open a file that takes its name only when all of it is on disk; raises as `write` does.

    What is there already under that name stays until then. A device or pipe is written to as such.
    """
    special = out.exists() and not out.is_file()
    temp = out if special else out.with_name(f".{uuid4().hex}.part")
    try:
        with temp.open("wb") as file:
            yield file
            file.flush()
            if not special:
                os.fsync(file.fileno())
        if not special:
            temp.replace(out)
    except OSError as error:
        raise OutputError(f"{out} cannot be written: {error.strerror}.") from error
    finally:
        if not special:
            temp.unlink(missing_ok=True)

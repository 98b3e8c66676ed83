"""Pictures decoded in a process of their own, which a hostile file can only end, not take over."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from pydantic import TypeAdapter

from jobnotes.contained.parent import answer
from jobnotes.photos import look as looking
from jobnotes.photos import picture
from jobnotes.photos.look import Look
from jobnotes.record import Mark

LOOK = TypeAdapter(Look)
MARKS = TypeAdapter(tuple[Mark, ...])


def look(path: Path, name: str) -> Look:
    """Do as `look.look` does, apart; raises also what `contained.parent.answers` does."""
    return LOOK.validate_json(answer("look", name, str(path), name))


def for_print(path: Path, max_px: int, marks: Sequence[Mark] = ()) -> bytes:
    """Do as `picture.for_print` does, apart; raises also what `contained.parent.answers` does."""
    drawn = MARKS.dump_python(tuple(marks), mode="json")
    return answer("print", path.name, str(path), max_px, drawn)


def looked(path: str, name: str) -> Iterator[bytes]:
    """Answer `look`, in the process that decodes."""
    yield LOOK.dump_json(looking.look(Path(path), name))


def printed(path: str, max_px: int, marks: Sequence[object]) -> Iterator[bytes]:
    """Answer `for_print`, in the process that decodes."""
    yield picture.for_print(Path(path), max_px, MARKS.validate_python(marks))

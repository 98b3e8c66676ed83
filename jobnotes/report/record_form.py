"""The job record as data: chapters of rows, each row with its source, review and doubts; no ink."""

from dataclasses import dataclass

from jobnotes.report.english import rules
from jobnotes.report.machine import Series
from jobnotes.report.story import Picture, Shop


@dataclass(frozen=True)
class Row:
    """One line: what is told, where it was said, who looked at it, why it is in doubt."""

    cells: tuple[str, ...]
    said: str = ""
    reviewed: str = ""
    doubts: tuple[str, ...] = ()
    private: bool = False
    facts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Chapter:
    """A headed table, or the photos; `traced` chapters have the columns of source and review."""

    key: str
    title: str
    lead: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    pictures: tuple[Picture, ...] = ()
    plots: tuple[Series, ...] = ()
    traced: bool = True


@dataclass(frozen=True)
class Record:
    """The whole record in printed order; `about` are labels with what they stand for."""

    shop: Shop
    job: str
    title: str
    about: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    chapters: tuple[Chapter, ...]

    def name(self) -> str:
        """Return what the record is called, in a list of files or the head of a window."""
        return f"{self.title}: job record {self.job}"


def marks(row: Row) -> tuple[str, ...]:
    """Return what a reader must know of a line before using it: doubts, and that it is private."""
    words = rules("record")["words"]
    private = (f"{words['private']}.",) if row.private else ()
    return (*(f"{words['doubt']}: {doubt}" for doubt in row.doubts), *private)

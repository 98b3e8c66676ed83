"""Finding jobs by the words they are known by: one condition, in the way of each database."""

from sqlalchemy import ColumnElement, Dialect, Integer, column, select, table, text

from jobnotes.store.rows import folded
from jobnotes.store.tables import JOBS

INDEX = "job_search"
"""SQLite's full-text index of `jobs.sought`, kept by triggers; migration 0003 makes it."""

_SHORTEST = 3  # letters of the pieces that SQLite's trigram index knows (its manual, FTS5 4.3.4)


def holding(search: str, dialect: Dialect) -> list[ColumnElement[bool]]:
    """Return conditions that hold for jobs in which every word of a search is found.

    In SQLite words of three letters and more are looked up in the index. Shorter ones, and every
    word in PostgreSQL, are looked for in the text itself, which takes longer.
    """
    words = folded(search).split()
    indexed = [word for word in words if dialect.name == "sqlite" and len(word) >= _SHORTEST]
    plain = [JOBS.c.sought.contains(word) for word in words if word not in indexed]
    return [*plain, *([_in_index(indexed)] if indexed else [])]


def _in_index(words: list[str]) -> ColumnElement[bool]:
    """Folded words hold only letters and figures, so that quotes are all they need."""
    asked = " AND ".join(f'"{word}"' for word in words)
    found = select(column("rowid", Integer)).select_from(table(INDEX))
    matching = text(f"{INDEX} MATCH :asked").bindparams(asked=asked)
    return JOBS.c.key.in_(found.where(matching))

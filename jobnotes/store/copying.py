"""Copying a whole store, as it was at one moment, into an empty one of either kind."""

from contextlib import closing
from pathlib import Path
from typing import NamedTuple

from sqlalchemy import Connection, Table, func, insert, select

from jobnotes.errors import BackupError, StoreError
from jobnotes.store import postgres, sqlite
from jobnotes.store.store import Store
from jobnotes.store.tables import JOBS, METADATA, SESSIONS, TASKS

_ROWS = 2000  # at a time: bounds the memory for shops of any size


class Snapshot(NamedTuple):
    """What a copy holds: the hashes of its originals and what they are, and its rows by table."""

    originals: dict[str, str]
    counts: dict[str, int]


def snapshot(store: Store, file: Path) -> Snapshot:
    """Copy a store as it is now into a new SQLite file, while others go on writing.

    A SQLite store is copied by SQLite's own backup interface; any other is read in one transaction,
    which sees one moment (REPEATABLE READ), and written to the file row by row. Sign-ins are not
    part of it. The file is checked and synced when this returns; raises StoreError.
    """
    with store.transaction() as source:
        if source.dialect.name == "sqlite":
            sqlite.copy_to(source, file)
        else:
            copying = closing(Store(f"sqlite:///{file}"))
            with copying as copy, copy.transaction(writing=True) as target:
                _copy(source, target)
    with closing(Store(f"sqlite:///{file}")) as copy:
        if damage := copy.damage():
            raise StoreError(f"The database is damaged ({damage[0]}), so it was not backed up.")
        held = Snapshot(copy.originals(), _counts(copy))
    sqlite.as_one_file(file)
    return held


def fill(store: Store, copy: Store) -> None:
    """Fill a store that has no jobs from another one, all of it or nothing.

    Raises BackupError if the store has jobs. Nobody is signed in to it afterwards, and work that
    somebody was at waits again.
    """
    with copy.transaction() as source, store.transaction(writing=True) as target:
        if has_jobs(target):
            raise BackupError("There are jobs in this shop already.", "Restore into an empty one.")
        for table in reversed(METADATA.sorted_tables):
            target.execute(table.delete())
        _copy(source, target)
        waiting = TASKS.update().where(TASKS.c.state == "taken").values(state="waiting")
        target.execute(waiting)


def has_jobs(connection: Connection) -> bool:
    """Tell whether any job is kept."""
    return connection.execute(select(JOBS.c.key).limit(1)).first() is not None


def copied_tables() -> list[Table]:
    """Return the tables of a copy, each after those that it refers to."""
    return [table for table in METADATA.sorted_tables if table is not SESSIONS]


def _counts(store: Store) -> dict[str, int]:
    with store.transaction() as connection:
        return {
            table.name: connection.execute(select(func.count()).select_from(table)).scalar_one()
            for table in copied_tables()
        }


def _copy(source: Connection, target: Connection) -> None:
    for table in copied_tables():
        order = list(table.primary_key.columns)
        found = source.execution_options(yield_per=_ROWS).execute(select(table).order_by(*order))
        for rows in found.mappings().partitions(_ROWS):
            target.execute(insert(table), [dict(row) for row in rows])
        if target.dialect.name == "postgresql" and table.autoincrement_column is not None:
            postgres.count_on(target, table.name, table.autoincrement_column.name)

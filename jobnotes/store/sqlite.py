"""All that is special to SQLite: how a file is opened, locked and checked.

The SQLite that comes with Python is often older than 3.51.3, the first without a fault that can
damage a database in WAL mode (its release notes of 13 March 2026); pysqlite3 brings its own.
"""

import os
from contextlib import closing
from pathlib import Path
from typing import Any

from pysqlite3 import dbapi2  # type: ignore[import-untyped]
from sqlalchemy import URL, Connection, Engine, create_engine, event

from jobnotes.errors import StoreError

BUSY_MS = 60_000  # SQLite has no queue: of many that wait, one may be passed over for long
_ON_CONNECT = (
    f"PRAGMA busy_timeout = {BUSY_MS}",
    "PRAGMA journal_mode = WAL",
    "PRAGMA synchronous = FULL",
    "PRAGMA foreign_keys = ON",
)


def open_file(url: URL) -> Engine:
    """Return an engine for a SQLite file, whose folder is made if it is not there yet.

    Connections with the execution option `writing` take the write lock when they begin, so that
    two writers queue up instead of failing half way; data definition is part of a transaction.
    """
    if url.database:
        _make_folder(Path(url.database).parent)
    engine = create_engine(url, module=dbapi2)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def damage(connection: Connection) -> list[str]:
    """Return what SQLite's own checks say is wrong with the file; nothing for a sound one."""
    said = connection.exec_driver_sql("PRAGMA integrity_check").scalars().all()
    orphans = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    return [f"database: {line}" for line in said if line != "ok"] + [
        f"database: row {row[1]} of {row[0]} belongs to no job" for row in orphans
    ]


def scrub(engine: Engine) -> None:
    """Write the file anew without what was deleted, its search index and its log too.

    sqlite.org/lang_vacuum.html, sqlite.org/fts5.html (4.2.2, optimize).
    """
    with closing(engine.raw_connection()) as held:
        cursor = held.cursor()
        cursor.execute("INSERT INTO job_search(job_search) VALUES ('optimize')")
        held.commit()
        cursor.execute("VACUUM")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def copy_to(source: Connection, file: Path) -> None:
    """Copy the whole database into a new file, by SQLite's own interface for backups.

    In one step, so that the copy is of one moment (sqlite.org/backup.html). Sign-ins are left out.
    """
    held = source.connection.driver_connection
    copy = dbapi2.connect(file)
    try:
        assert held is not None
        held.backup(copy, pages=-1)
        copy.execute("DELETE FROM sessions")
        copy.commit()
    except dbapi2.Error as error:
        raise StoreError(f"The database cannot be copied to {file}: {error}.") from error
    finally:
        copy.close()


def as_one_file(file: Path) -> None:
    """Bring all that was written beside a database file into it, and the file to the disk.

    Raises StoreError.
    """
    copy = dbapi2.connect(file)
    try:
        copy.execute("PRAGMA journal_mode = DELETE")
    except dbapi2.Error as error:
        raise StoreError(f"The copy {file} cannot be finished: {error}.") from error
    finally:
        copy.close()
    with file.open("rb+") as written:
        os.fsync(written.fileno())


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StoreError(
            f"The folder {folder} cannot be made: {error.strerror}.",
            "Set JOBNOTES_HOME to a folder that may be written to.",
        ) from error


def _prepare(connection: Any, _record: object) -> None:
    for pragma in _ON_CONNECT:
        connection.execute(pragma)


def _begin(connection: Connection) -> None:
    writing = connection.get_execution_options().get("writing", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")

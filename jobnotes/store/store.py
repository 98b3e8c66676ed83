"""Where jobs are kept: SQLite in a file, or the same tables in PostgreSQL by its URL."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import NamedTuple

from sqlalchemy import (
    Connection,
    Engine,
    RowMapping,
    insert,
    make_url,
    select,
    update,
)
from sqlalchemy.exc import ArgumentError, DBAPIError, IntegrityError, NoSuchModuleError

from jobnotes.errors import SettingsError, StaleJobError, StoreError, UnknownJobError
from jobnotes.record import Job
from jobnotes.store import postgres, rows, sqlite
from jobnotes.store.parts import read_parts, write_parts
from jobnotes.store.search import holding
from jobnotes.store.tables import JOBS, NUMBERS, PARTS
from jobnotes.store.upgrade import is_current, upgrade

_REMEDY = (
    "See that there is room on the disk and that no other program holds the store;"
    " if that is so, run `jobnotes verify`."
)

_PASSWORD = re.compile(r"(://[^:@/]*:)[^@/]*(@)")


Guard = Callable[[Connection], None]


class Kept(NamedTuple):
    """A job as the store holds it; `revision` counts its saves, and a later save names it."""

    job: Job
    revision: int


class Summary(NamedTuple):
    """One line of a list of jobs."""

    id: str
    created_at: datetime
    customer: str
    technician: str
    machine: str
    revision: int


class Store:
    """The store of all jobs; safe to share between threads, and between programs on one file."""

    def __init__(self, url: str) -> None:
        """Open the store and bring its tables up to date.

        Raises SettingsError for a URL that names no database, StoreError where it does not open
        or was written by a newer version of the program.
        """
        self._engine = _engine(url)
        with self.transaction() as connection:
            current = is_current(connection)
        if not current:
            with self.transaction(writing=True) as connection:
                if connection.dialect.name == "postgresql":
                    postgres.hold_alone(connection)
                upgrade(connection)

    def create(self, job: Job) -> Kept:
        """Keep a new job; one whose id is empty is given the next number of its year ("2026-0001").

        Raises StoreError if another job has the id already.
        """
        with self.transaction(writing=True) as connection:
            named = job if job.id else job.having(id=_next_id(connection, job.created_at.year))
            if _key(connection, named.id) is not None:
                raise StoreError(f"Job {named.id} is there already.", "Open it, or use another id.")
            row = {**rows.job_row(named), "revision": 1}
            key = connection.execute(insert(JOBS).values(row).returning(JOBS.c.key)).scalar_one()
            write_parts(connection, key, named)
        return Kept(named, 1)

    def load(self, job_id: str) -> Kept:
        """Return a job and its revision; raises UnknownJobError, or StoreError if unreadable."""
        with self.transaction() as connection:
            row = connection.execute(select(JOBS).where(JOBS.c.id == job_id)).mappings().first()
            if row is None:
                raise _unknown(job_id)
            parts = read_parts(connection, row["key"])
        try:
            return Kept(rows.job_of(dict(row), parts), row["revision"])
        except ValueError as error:
            raise StoreError(f"Job {job_id} cannot be read: {error}.") from error

    def revision(self, job_id: str) -> int:
        """Return the revision of a job without reading it; raises UnknownJobError."""
        query = select(JOBS.c.revision).where(JOBS.c.id == job_id)
        with self.transaction() as connection:
            row = connection.execute(query).first()
        if row is None:
            raise _unknown(job_id)
        return int(row.revision)

    def save(self, job: Job, expected_revision: int, guard: Guard | None = None) -> Kept:
        """Keep a changed job, writing only the rows that changed.

        Raises StaleJobError if the job was saved since that revision, UnknownJobError, and what
        `guard` raises, which is asked first in the same transaction.
        """
        with self.transaction(writing=True) as connection:
            if guard:
                guard(connection)
            write_job(connection, job, expected_revision)
        return Kept(job, expected_revision + 1)

    def list(self, search: str = "", limit: int = 50, skip: int = 0) -> tuple[Summary, ...]:
        """Return jobs, newest first, in whose id, customer, machine or part numbers all words are.

        Neither case nor the marks inside a number count: "rx-12/b" finds RX12B.
        """
        query = select(JOBS).order_by(JOBS.c.key.desc()).limit(limit).offset(skip)
        query = query.where(*holding(search, self._engine.dialect))
        with self.transaction() as connection:
            return tuple(_summary(row) for row in connection.execute(query).mappings())

    def originals(self) -> dict[str, str]:
        """Return the hash of every original and issued report of every job, and what it is.

        Those that were erased are not among them.
        """
        found: dict[str, str] = {}
        with self.transaction() as connection:
            for table in (PARTS["recordings"], PARTS["photos"]):
                query = select(table.c.sha256, table.c.name, JOBS.c.id).join(JOBS)
                kept = (table.c.sha256 != "") & ~table.c.body.contains(rows.ERASED)
                for sha256, name, job in connection.execute(query.where(kept)):
                    found[sha256] = f"{name} of job {job}"
            for row in connection.execute(select(JOBS.c.id, JOBS.c.body)):
                found |= rows.reports_in(row.id, row.body)
        return found

    def scrub(self) -> None:
        """Overwrite what was deleted: SQLite writes its file anew, PostgreSQL frees the space."""
        part = sqlite if self._engine.dialect.name == "sqlite" else postgres
        try:
            part.scrub(self._engine)
        except self._engine.dialect.loaded_dbapi.Error as error:
            raise StoreError(
                f"What was erased is not overwritten yet: {error}.", _REMEDY
            ) from error

    def damage(self) -> tuple[str, ...]:
        """Return what the database's own checks find wrong; PostgreSQL's are left to its keeper."""
        if self._engine.dialect.name != "sqlite":
            return ()
        with self.transaction() as connection:
            return tuple(sqlite.damage(connection))

    def close(self) -> None:
        """Give up the open connections."""
        self._engine.dispose()

    @contextmanager
    def transaction(self, *, writing: bool = False) -> Iterator[Connection]:
        """Give a connection for one transaction; raises StoreError where the store fails."""
        try:
            with self._engine.connect() as connection:
                connection.execution_options(writing=writing)
                with connection.begin():
                    yield connection
        except DBAPIError as error:
            raise StoreError(f"The store cannot be used: {error.orig}.", _REMEDY) from error


def write_job(connection: Connection, job: Job, expected_revision: int) -> int:
    """Write a changed job within a transaction and return its key; raises as `Store.save` does."""
    change = {**rows.job_row(job), "revision": expected_revision + 1}
    key = _key(connection, job.id)
    if key is None:
        raise _unknown(job.id)
    as_expected = (JOBS.c.key == key) & (JOBS.c.revision == expected_revision)
    if not connection.execute(update(JOBS).where(as_expected).values(change)).rowcount:
        raise StaleJobError(f"Somebody else changed job {job.id} since it was opened.")
    write_parts(connection, key, job)
    return key


def _engine(url: str) -> Engine:
    try:
        parsed = make_url(url)
        if parsed.get_backend_name() == "sqlite":
            return sqlite.open_file(parsed)
        if parsed.get_backend_name() == "postgresql":
            return postgres.connect(parsed)
    except (ArgumentError, NoSuchModuleError, ModuleNotFoundError) as error:
        raise _unknown_database(url, f": {error}") from error
    raise _unknown_database(url, ", since it is neither SQLite nor PostgreSQL")


def _unknown_database(url: str, why: str) -> SettingsError:
    told = _PASSWORD.sub(r"\1***\2", f"'{url}' names no database that can be opened{why}.")
    remedy = "Correct `database` in the settings, or install the driver that it names."
    return SettingsError(told, remedy)


def _key(connection: Connection, job_id: str) -> int | None:
    return connection.execute(select(JOBS.c.key).where(JOBS.c.id == job_id)).scalar()


def _next_id(connection: Connection, year: int) -> str:
    """Count up the jobs of a year; ids that came with a job from elsewhere are passed over."""
    this_year = NUMBERS.c.year == year
    _count_up(connection, year)
    last = connection.execute(select(NUMBERS.c.last).where(this_year)).scalar_one()
    job_id = f"{year:04}-{last:04}"
    return job_id if _key(connection, job_id) is None else _next_id(connection, year)


def _count_up(connection: Connection, year: int) -> None:
    more = update(NUMBERS).where(NUMBERS.c.year == year).values(last=NUMBERS.c.last + 1)
    if connection.execute(more).rowcount:
        return
    try:
        with connection.begin_nested():
            connection.execute(insert(NUMBERS).values(year=year, last=1))
    except IntegrityError:  # another program began the year at the same moment
        connection.execute(more)


def _unknown(job_id: str) -> UnknownJobError:
    return UnknownJobError(f"There is no job '{job_id}'.")


def _summary(row: RowMapping) -> Summary:
    return Summary(
        id=row["id"],
        created_at=datetime.fromisoformat(row["created_at"]),
        customer=row["customer"],
        technician=row["technician"],
        machine=row["machine_name"],
        revision=row["revision"],
    )

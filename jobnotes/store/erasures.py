"""Erasing for good: first the database, then the files, and a note of both that names nobody."""

from collections.abc import Sequence
from typing import NamedTuple

from sqlalchemy import Connection, delete, insert, select, update

from jobnotes.erasing import Erasing
from jobnotes.record import Job
from jobnotes.store.media import Media
from jobnotes.store.store import Kept, Store
from jobnotes.store.tables import BACKUPS, ERASURES, ISSUED, JOBS, LINKS, PARTS, TASKS


class Taken(NamedTuple):
    """A backup that was taken: when (ISO 8601) and where to."""

    at: str
    place: str


def erase(
    store: Store, kept: Kept, left: Job, files: Sequence[str], erasing: Erasing, *, whole: bool
) -> None:
    """Put what is left of a job in its place and note which files must go; `whole` if all of it.

    The note is part of the same transaction, so that a kill before the files are gone leaves the
    note, by which `finish` deletes them. Raises StaleJobError if the job was changed meanwhile.
    """

    def note(connection: Connection) -> None:
        rows = [{"sha256": sha256, "gone": False} for sha256 in files] or [_NO_FILE]
        told = {"job": left.id, "at": erasing.at.isoformat(), "who": erasing.who}
        connection.execute(insert(ERASURES), [{**told, "why": erasing.why, **row} for row in rows])
        if whole:
            key = select(JOBS.c.key).where(JOBS.c.id == left.id).scalar_subquery()
            for table in (ISSUED, LINKS, TASKS):
                connection.execute(delete(table).where(table.c.job == key))

    store.save(left, kept.revision, note)


def finish(store: Store, media: Media) -> None:
    """Delete the files of all erasures that no job names any more, and overwrite their rows."""
    pending = select(ERASURES.c.sha256).where(ERASURES.c.gone.is_(False)).distinct()
    with store.transaction() as connection:
        files = connection.execute(pending).scalars().all()
    if not files:
        return
    named = store.originals()
    for sha256 in files:
        if sha256 not in named:
            media.drop(sha256)
    with store.transaction(writing=True) as connection:
        these = ERASURES.c.sha256.in_(files)
        connection.execute(update(ERASURES).where(these).values(gone=True))
    store.scrub()


def erased_files(store: Store) -> frozenset[str]:
    """Return the hashes of all files that were erased."""
    with store.transaction() as connection:
        return frozenset(connection.execute(select(ERASURES.c.sha256)).scalars())


def with_private_remarks(store: Store, before: str) -> tuple[str, ...]:
    """Return the jobs started before a time (ISO 8601) that hold a private remark."""
    facts = PARTS["facts"]
    query = select(JOBS.c.id).join(facts).where(facts.c.kind == "private").distinct()
    with store.transaction() as connection:
        return tuple(connection.execute(query.where(JOBS.c.created_at < before)).scalars())


def note_backup(store: Store, taken: Taken) -> None:
    """Note that a backup was taken."""
    with store.transaction(writing=True) as connection:
        connection.execute(insert(BACKUPS).values(taken._asdict()))


def backups(store: Store) -> tuple[Taken, ...]:
    """Return the backups that were taken, oldest first."""
    query = select(BACKUPS.c.at, BACKUPS.c.place).order_by(BACKUPS.c.id)
    with store.transaction() as connection:
        return tuple(Taken(*row) for row in connection.execute(query))


_NO_FILE = {"sha256": "", "gone": True}

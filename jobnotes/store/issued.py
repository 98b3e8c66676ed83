"""Reports that were issued: each version of a job's report, frozen by the hash of its file."""

from datetime import datetime
from typing import NamedTuple

from sqlalchemy import RowMapping, insert, select

from jobnotes.record import Issued, Job
from jobnotes.store.store import Store, write_job
from jobnotes.store.tables import ISSUED, JOBS


class Version(NamedTuple):
    """One issued version: `revision` is that of the job with the report noted in it."""

    version: int
    at: datetime
    who: str
    revision: int
    sha256: str


def note_issued(store: Store, job: Job, revision: int, issued: Issued, who: str) -> Version:
    """Note a report that was printed from a job at a revision as its next version, all at once.

    What was noted already, as by a program that was killed before it could say so, is not noted
    twice. Raises StaleJobError if the job moved on.
    """
    before = issued_of(store, job.id)
    if before and (before[-1].revision, before[-1].sha256) == (revision, issued.sha256):
        return before[-1]
    version = before[-1].version + 1 if before else 1
    row = {"version": version, "at": issued.at.isoformat(), "who": who}
    row |= {"revision": revision + 1, "sha256": issued.sha256}
    noted = job.having(reports=(*job.reports, issued))
    with store.transaction(writing=True) as connection:
        key = write_job(connection, noted, revision)
        connection.execute(insert(ISSUED).values(job=key, **row))
    return Version(version, issued.at, who, revision + 1, issued.sha256)


def issued_of(store: Store, job_id: str) -> tuple[Version, ...]:
    """Return the issued versions of a job, oldest first."""
    query = select(ISSUED).join(JOBS).where(JOBS.c.id == job_id).order_by(ISSUED.c.version)
    with store.transaction() as connection:
        return tuple(_issued(row) for row in connection.execute(query).mappings())


def _issued(row: RowMapping) -> Version:
    at = datetime.fromisoformat(row["at"])
    return Version(row["version"], at, row["who"], row["revision"], row["sha256"])

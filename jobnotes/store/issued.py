"""Reports that were issued: each version of a job's report, frozen by the hash of its file."""

from datetime import datetime
from typing import NamedTuple

from sqlalchemy import RowMapping, func, insert, select

from jobnotes.errors import StaleJobError
from jobnotes.store.store import Store
from jobnotes.store.tables import ISSUED, JOBS


class Issued(NamedTuple):
    """One issued version: `revision` is that of the job it was printed from."""

    version: int
    at: datetime
    who: str
    revision: int
    sha256: str


def note_issued(
    store: Store, job_id: str, revision: int, sha256: str, who: str, at: datetime
) -> Issued:
    """Note the next version of a job's report; raises StaleJobError if the job moved on."""
    with store.transaction(writing=True) as connection:
        key = select(JOBS.c.key).where(JOBS.c.id == job_id, JOBS.c.revision == revision)
        job = connection.execute(key).scalar()
        if job is None:
            raise StaleJobError(f"Somebody else changed job {job_id} since it was opened.")
        last = select(func.max(ISSUED.c.version)).where(ISSUED.c.job == job)
        version = (connection.execute(last).scalar() or 0) + 1
        row = {"version": version, "at": at.isoformat(), "who": who}
        row |= {"revision": revision, "sha256": sha256}
        connection.execute(insert(ISSUED).values(job=job, **row))
    return Issued(version, at, who, revision, sha256)


def issued_of(store: Store, job_id: str) -> tuple[Issued, ...]:
    """Return the issued versions of a job, oldest first."""
    query = select(ISSUED).join(JOBS).where(JOBS.c.id == job_id).order_by(ISSUED.c.version)
    with store.transaction() as connection:
        return tuple(_issued(row) for row in connection.execute(query).mappings())


def issued_originals(store: Store) -> dict[str, str]:
    """Return the hash of every issued report, and what it is in words."""
    query = select(ISSUED.c.sha256, ISSUED.c.version, JOBS.c.id).join(JOBS)
    with store.transaction() as connection:
        rows = connection.execute(query).all()
    return {sha256: f"report {version} of job {job}" for sha256, version, job in rows}


def _issued(row: RowMapping) -> Issued:
    at = datetime.fromisoformat(row["at"])
    return Issued(row["version"], at, row["who"], row["revision"], row["sha256"])

"""Reports that were issued: each version of a job's report, frozen by the hash of its file."""

from datetime import datetime
from typing import NamedTuple

from sqlalchemy import RowMapping, func, insert, select

from jobnotes.errors import StaleJobError
from jobnotes.store.store import Store
from jobnotes.store.tables import ISSUED, JOBS


class Version(NamedTuple):
    """One issued version: `revision` is that of the job it was printed from."""

    version: int
    at: datetime
    who: str
    revision: int
    sha256: str


def note_issued(
    store: Store, job_id: str, revision: int, sha256: str, who: str, at: datetime
) -> Version:
    """Note the next version of a job's report; raises StaleJobError if the job moved on."""
    with store.transaction(writing=True) as connection:
        key = select(JOBS.c.key).where(JOBS.c.id == job_id, JOBS.c.revision == revision)
        job = connection.execute(key.with_for_update()).scalar()
        if job is None:
            raise StaleJobError(f"Somebody else changed job {job_id} since it was opened.")
        last = select(func.max(ISSUED.c.version)).where(ISSUED.c.job == job)
        version = (connection.execute(last).scalar() or 0) + 1
        row = {"version": version, "at": at.isoformat(), "who": who}
        row |= {"revision": revision, "sha256": sha256}
        connection.execute(insert(ISSUED).values(job=job, **row))
    return Version(version, at, who, revision, sha256)


def issued_of(store: Store, job_id: str) -> tuple[Version, ...]:
    """Return the issued versions of a job, oldest first."""
    query = select(ISSUED).join(JOBS).where(JOBS.c.id == job_id).order_by(ISSUED.c.version)
    with store.transaction() as connection:
        return tuple(_issued(row) for row in connection.execute(query).mappings())


def _issued(row: RowMapping) -> Version:
    at = datetime.fromisoformat(row["at"])
    return Version(row["version"], at, row["who"], row["revision"], row["sha256"])

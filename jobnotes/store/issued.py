"""Reports that were issued: each version of a job's report, frozen by the hash of its file."""

import json
from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from sqlalchemy import RowMapping, insert, select, update

from jobnotes.record import Issued, Job
from jobnotes.store.store import Store, write_job
from jobnotes.store.tables import ISSUED, JOBS


class Advice(NamedTuple):
    """A recommendation as the customer reads it, and the fact that it rests on."""

    fact: str
    text: str


class Version(NamedTuple):
    """One issued version: `revision` is that of the job with the report noted in it.

    `sha256` is of its first file, `advice` what it tells the customer to do.
    """

    version: int
    at: datetime
    who: str
    revision: int
    sha256: str
    advice: tuple[Advice, ...] = ()


def note_issued(
    store: Store,
    job: Job,
    revision: int,
    issued: Sequence[Issued],
    who: str,
    advice: tuple[Advice, ...] = (),
) -> Version:
    """Note the files of a report that was printed from a job as its next version, all at once.

    What was noted already, as by a program that was killed before it could say so, is not noted
    twice. Raises StaleJobError if the job moved on since that revision.
    """
    before, first = issued_of(store, job.id), issued[0]
    if before and (before[-1].revision, before[-1].sha256) == (revision, first.sha256):
        return before[-1]
    number = before[-1].version + 1 if before else 1
    version = Version(number, first.at, who, revision + 1, first.sha256, advice)
    noted = job.having(reports=(*job.reports, *issued))
    with store.transaction(writing=True) as connection:
        key = write_job(connection, noted, revision)
        connection.execute(insert(ISSUED).values(job=key, **_row(version)))
    return version


def note_answers(store: Store, job: Job, revision: int) -> None:
    """Keep a job in which a customer's answers were noted since a revision.

    A version that told the job as it was still tells it: an answer changes nothing in it. Raises
    StaleJobError if the job moved on.
    """
    with store.transaction(writing=True) as connection:
        key = write_job(connection, job, revision)
        these = (ISSUED.c.job == key) & (ISSUED.c.revision == revision)
        connection.execute(update(ISSUED).where(these).values(revision=revision + 1))


def issued_of(store: Store, job_id: str) -> tuple[Version, ...]:
    """Return the issued versions of a job, oldest first."""
    query = select(ISSUED).join(JOBS).where(JOBS.c.id == job_id).order_by(ISSUED.c.version)
    with store.transaction() as connection:
        return tuple(_issued(row) for row in connection.execute(query).mappings())


def _row(version: Version) -> dict[str, object]:
    told = version._asdict() | {"at": version.at.isoformat()}
    return told | {"advice": _packed(version.advice)}


def _packed(advice: Sequence[Advice]) -> str:
    return json.dumps([list(one) for one in advice], ensure_ascii=False)


def _issued(row: RowMapping) -> Version:
    at = datetime.fromisoformat(row["at"])
    advice = tuple(Advice(*one) for one in json.loads(row["advice"]))
    return Version(row["version"], at, row["who"], row["revision"], row["sha256"], advice)

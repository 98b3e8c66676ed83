"""What waits on each job, counted in the database without reading whole jobs."""

from collections.abc import Iterable
from typing import NamedTuple

from sqlalchemy import ColumnElement, Connection, Table, func, select

from jobnotes.record import Audience, State
from jobnotes.store.store import Store
from jobnotes.store.tables import ISSUED, JOBS, PARTS

_OPEN = '"open":true'  # as rows.py packs a flag; a quote within a text is escaped, so never this
_ANSWER = '"answer":"'  # in what an event of a customer's yes or no noted


class Attention(NamedTuple):
    """How much of a job is flagged, unread or unfinished; what was issued and answered of it."""

    flagged: int = 0
    unread: int = 0
    steps_done: int = 0
    recordings: int = 0
    version: int = 0
    issued_revision: int = 0
    answers: int = 0


def attention(store: Store, job_ids: Iterable[str]) -> dict[str, Attention]:
    """Return what waits on each of the named jobs."""
    wanted = tuple(job_ids)
    facts, stages, recordings = (PARTS[name] for name in ("facts", "stages", "recordings"))
    told = (facts.c.audience == Audience.CUSTOMER) & (facts.c.state != State.REJECTED)
    with store.transaction() as connection:
        flagged = _count(connection, facts, wanted, told & facts.c.body.contains(_OPEN))
        doubted = _count(connection, recordings, wanted, recordings.c.body.contains(_OPEN))
        unread = _count(connection, facts, wanted, told & (facts.c.state == State.PROPOSED))
        done = _count(connection, stages, wanted, stages.c.done.is_(True))
        sounds = _count(connection, recordings, wanted, recordings.c.id != "")
        events = PARTS["events"]
        answers = _count(connection, events, wanted, events.c.body.contains(_ANSWER))
        issued = _issued(connection, wanted)
    return {
        job: Attention(
            flagged.get(job, 0) + doubted.get(job, 0),
            unread.get(job, 0),
            done.get(job, 0),
            sounds.get(job, 0),
            *issued.get(job, (0, 0)),
            answers.get(job, 0),
        )
        for job in wanted
    }


def _count(
    connection: Connection, table: Table, jobs: tuple[str, ...], which: ColumnElement[bool]
) -> dict[str, int]:
    query = select(JOBS.c.id, func.count()).join_from(table, JOBS)
    query = query.where(JOBS.c.id.in_(jobs), which).group_by(JOBS.c.id)
    return {row[0]: row[1] for row in connection.execute(query)}


def _issued(connection: Connection, jobs: tuple[str, ...]) -> dict[str, tuple[int, int]]:
    last = func.max(ISSUED.c.version), func.max(ISSUED.c.revision)
    query = select(JOBS.c.id, *last).join_from(ISSUED, JOBS)
    query = query.where(JOBS.c.id.in_(jobs)).group_by(JOBS.c.id)
    return {job: (version, revision) for job, version, revision in connection.execute(query)}

"""Long work as rows: asked for once, taken by one worker at a time, and tried a few times at most.

A lease has a length and no end. Its owner counts `beats` up while it lives; whoever waits takes
the lease as lapsed when it has itself seen no beat for LEASE_S by its own monotonic clock
(lease.py). So no time of day is compared, neither between computers nor on one: a clock that is set
back or forward cannot give one task to two. `beat_at` is for people to read.
"""

from datetime import UTC, datetime
from typing import Literal, NamedTuple

from sqlalchemy import ColumnElement, Connection, case, false, insert, select, true, update
from sqlalchemy.exc import IntegrityError

from jobnotes.errors import LostTaskError, UnknownJobError
from jobnotes.store.store import Store
from jobnotes.store.tables import JOBS, TASKS

State = Literal["waiting", "taken", "done", "failed"]

STAGES = "stages"
"""The one kind of work so far: running every stage of a job."""

MOST_ATTEMPTS = 5  # a job that ends its worker (memory, a decoder's crash) must not end them all


class Task(NamedTuple):
    """A piece of work that somebody took: which attempt it is, counted from 1."""

    id: int
    job: str
    attempt: int
    owner: str

    @property
    def is_hopeless(self) -> bool:
        """Tell whether it was tried so often that it is to be given up."""
        return self.attempt > MOST_ATTEMPTS


class Beat(NamedTuple):
    """Who holds a task, in which attempt, and how often it has said that it lives."""

    owner: str
    attempt: int
    beats: int


def ask(store: Store, job_id: str) -> None:
    """Ask for the stages of a job; raises UnknownJobError.

    What waits already is left, and what somebody is at is done once more after that.
    """
    with store.transaction(writing=True) as connection:
        key = connection.execute(select(JOBS.c.key).where(JOBS.c.id == job_id)).scalar()
        if key is None:
            raise UnknownJobError(f"There is no job '{job_id}'.")
        if not _ask_again(connection, key):
            _ask_first(connection, key)


def claim(store: Store, owner: str, job_id: str = "") -> Task | None:
    """Take the oldest waiting task, or that of one job; none where there is none.

    Two that claim at once never get the same: SQLite lets one write at a time, and PostgreSQL skips
    rows that another is taking (SELECT ... FOR UPDATE SKIP LOCKED).
    """
    oldest = select(TASKS.c.id).where(TASKS.c.state == "waiting")
    if job_id:
        oldest = oldest.join(JOBS).where(JOBS.c.id == job_id)
    oldest = oldest.order_by(TASKS.c.id).limit(1).with_for_update(skip_locked=True, of=TASKS)
    taking = update(TASKS).where(TASKS.c.id == oldest.scalar_subquery())
    taking = taking.values(state="taken", owner=owner, attempts=TASKS.c.attempts + 1)
    taking = taking.values(beats=0, beat_at=_now(), again=False)
    with store.transaction(writing=True) as connection:
        row = connection.execute(
            taking.returning(TASKS.c.id, TASKS.c.job, TASKS.c.attempts)
        ).first()
        if row is None:
            return None
        job = connection.execute(select(JOBS.c.id).where(JOBS.c.key == row.job)).scalar_one()
    return Task(row.id, job, row.attempts, owner)


def beat(store: Store, task: Task) -> bool:
    """Say that the owner of a task lives; false if the task is no longer its own."""
    living = update(TASKS).where(_is_held(task)).values(beats=TASKS.c.beats + 1, beat_at=_now())
    with store.transaction(writing=True) as connection:
        return bool(connection.execute(living).rowcount)


def check_held(connection: Connection, task: Task) -> None:
    """Raise LostTaskError unless a task is still its owner's, until the end of the transaction.

    Whoever saves what came of a task calls this in the same transaction, so that of two workers who
    both think that a task is theirs only one can save.
    """
    held = select(TASKS.c.id).where(_is_held(task)).with_for_update()
    if connection.execute(held).first() is None:
        raise LostTaskError(f"Another worker has taken up job {task.job}.")


def finish(store: Store, task: Task, error: str = "") -> None:
    """Note that a task is done, or given up because of an error; a lost one is left alone."""
    state = case((TASKS.c.again, "waiting"), else_="failed" if error else "done")
    _let_go(store, task, {"state": state, "attempts": 0, "again": False, "error": error})


def give_back(store: Store, task: Task, *, counts: bool) -> None:
    """Let somebody else take up a task; `counts` tells whether this attempt is one of the few."""
    attempts = task.attempt if counts else task.attempt - 1
    _let_go(store, task, {"state": "waiting", "attempts": attempts})


def held(store: Store) -> dict[int, Beat]:
    """Return who is at which task, by its number."""
    query = select(TASKS.c.id, TASKS.c.owner, TASKS.c.attempts, TASKS.c.beats)
    with store.transaction() as connection:
        rows = connection.execute(query.where(TASKS.c.state == "taken")).all()
    return {row.id: Beat(row.owner, row.attempts, row.beats) for row in rows}


def lapse(store: Store, task_id: int, seen: Beat) -> bool:
    """Take a task from an owner that gave no beat since `seen`; false if it has."""
    row = (TASKS.c.id == task_id) & (TASKS.c.state == "taken") & (TASKS.c.owner == seen.owner)
    row &= (TASKS.c.attempts == seen.attempt) & (TASKS.c.beats == seen.beats)
    with store.transaction(writing=True) as connection:
        return bool(connection.execute(update(TASKS).where(row).values(state="waiting")).rowcount)


def state_of(store: Store, job_id: str) -> State | None:
    """Return how the stages of a job stand; none if they were never asked for."""
    with store.transaction() as connection:
        query = select(TASKS.c.state).join(JOBS).where(JOBS.c.id == job_id)
        state: State | None = connection.execute(query).scalar()
    return state


def unfinished(store: Store) -> tuple[str, ...]:
    """Return the jobs whose stages wait or are being run."""
    query = select(JOBS.c.id).join(TASKS).where(TASKS.c.state.in_(("waiting", "taken")))
    with store.transaction() as connection:
        return tuple(connection.execute(query.order_by(TASKS.c.id)).scalars())


def _ask_again(connection: Connection, key: int) -> bool:
    at_it = TASKS.c.state == "taken"
    is_over = TASKS.c.state.in_(("done", "failed"))
    change = {
        "state": case((is_over, "waiting"), else_=TASKS.c.state),
        "again": case((at_it, true()), else_=false()),
        "attempts": case((is_over, 0), else_=TASKS.c.attempts),
        "error": case((is_over, ""), else_=TASKS.c.error),
    }
    row = (TASKS.c.job == key) & (TASKS.c.kind == STAGES)
    return bool(connection.execute(update(TASKS).where(row).values(change)).rowcount)


def _ask_first(connection: Connection, key: int) -> None:
    fresh = {"job": key, "kind": STAGES, "state": "waiting", "again": False, "attempts": 0}
    fresh |= {"owner": "", "beats": 0, "beat_at": "", "error": ""}
    try:
        with connection.begin_nested():
            connection.execute(insert(TASKS).values(fresh))
    except IntegrityError:  # another program asked at the same moment
        _ask_again(connection, key)


def _let_go(store: Store, task: Task, change: dict[str, object]) -> None:
    with store.transaction(writing=True) as connection:
        connection.execute(update(TASKS).where(_is_held(task)).values(change))


def _is_held(task: Task) -> ColumnElement[bool]:
    mine = (TASKS.c.owner == task.owner) & (TASKS.c.attempts == task.attempt)
    return (TASKS.c.id == task.id) & (TASKS.c.state == "taken") & mine


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")

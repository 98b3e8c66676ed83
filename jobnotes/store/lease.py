"""Holding a task while working on it, and taking it from those who are not heard of any more."""

import os
import socket
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Thread
from uuid import uuid4

from jobnotes.errors import StoreError
from jobnotes.store.store import Store
from jobnotes.store.tasks import Beat, Task, ask, beat, claim, give_back, held, lapse, state_of

LOOK_S = 0.5
BEAT_S = 2.0
LEASE_S = 12.0
"""A lease lapses after six missed beats: a busy computer may well miss two; no source."""


class Watch:
    """Sees, by a monotonic clock of its own, which workers have stopped giving beats."""

    def __init__(self, store: Store, clock: Callable[[], float] = time.monotonic) -> None:
        """Begin to watch; nobody can be missed before LEASE_S from now."""
        self._store, self._clock = store, clock
        self._seen: dict[int, tuple[Beat, float]] = {}

    def look(self) -> int:
        """Let others take up the tasks of workers without a beat since LEASE_S; return how many."""
        now, tasks = self._clock(), held(self._store)
        before = self._seen
        self._seen = {
            number: before[number] if number in before and before[number][0] == one else (one, now)
            for number, one in tasks.items()
        }
        late = [(number, one) for number, (one, at) in self._seen.items() if now - at >= LEASE_S]
        return sum(lapse(self._store, number, one) for number, one in late)


@contextmanager
def holding(store: Store, task: Task) -> Iterator[None]:
    """Give beats in a second thread while the caller works on a task it has claimed.

    If the caller fails, the task is given back at once; that counts as an attempt unless somebody
    stopped the program.
    """
    ended = Event()
    thread = Thread(target=_beats, args=(store, task, ended), name="beats", daemon=True)
    thread.start()
    stopped, whole = False, False
    try:
        yield
        whole = True
    except (KeyboardInterrupt, SystemExit):
        stopped = True
        raise
    finally:
        ended.set()
        thread.join()
        if not whole:
            give_back(store, task, counts=not stopped)


def wait_for(store: Store, job_id: str, *, insist: bool = False) -> Task | None:
    """Ask for the stages of a job and take them, after whoever is at them now.

    Returns none if another worker has done it meanwhile, unless the caller insists on doing it.
    """
    ask(store, job_id)
    watch, owner = Watch(store), new_owner()
    while (task := claim(store, owner, job_id)) is None:
        if state_of(store, job_id) in ("waiting", "taken"):
            watch.look()
            time.sleep(LOOK_S)
        elif insist:
            ask(store, job_id)
        else:
            return None
    return task


def new_owner() -> str:
    """Return a name for this worker that no other has, on any computer."""
    return f"{socket.gethostname()}:{os.getpid()}:{uuid4().hex[:8]}"


def _beats(store: Store, task: Task, ended: Event) -> None:
    watch = Watch(store)
    while not ended.wait(BEAT_S):
        try:
            beat(store, task)
            watch.look()
        except StoreError:  # the store may be back before the lease lapses; the work itself tells
            continue

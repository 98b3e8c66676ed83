import time
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import pytest

from jobnotes.errors import LostTaskError, UnknownJobError
from jobnotes.record import Job
from jobnotes.store.lease import LEASE_S, Watch, holding
from jobnotes.store.store import Store
from jobnotes.store.tasks import (
    MOST_ATTEMPTS,
    Task,
    ask,
    beat,
    check_held,
    claim,
    finish,
    give_back,
    held,
    state_of,
    unfinished,
)


@pytest.fixture
def jobs(store: Store) -> list[str]:
    made = [store.create(Job(id="", created_at=datetime(2026, 9, 17, tzinfo=UTC))) for _ in "abc"]
    return [kept.job.id for kept in made]


def taken(store: Store, owner: str = "one") -> Task:
    task = claim(store, owner)
    assert task
    return task


class Clock:
    """A monotonic clock that a test moves."""

    now = 100.0

    def __call__(self) -> float:
        return self.now


def test_what_was_asked_first_is_done_first(store: Store, jobs: list[str]) -> None:
    for job in reversed(jobs):
        ask(store, job)
    assert [taken(store).job for _ in jobs] == jobs[::-1]
    assert claim(store, "one") is None


def test_asking_twice_for_what_waits_is_asking_once(store: Store, jobs: list[str]) -> None:
    ask(store, jobs[0])
    ask(store, jobs[0])
    finish(store, taken(store))
    assert claim(store, "one") is None
    assert state_of(store, jobs[0]) == "done"


def test_what_is_asked_for_while_somebody_is_at_it_is_done_once_more(
    store: Store, jobs: list[str]
) -> None:
    ask(store, jobs[0])
    task = taken(store)
    ask(store, jobs[0])
    assert claim(store, "two") is None
    finish(store, task)
    finish(store, taken(store))
    assert (claim(store, "one"), unfinished(store)) == (None, ())


def test_an_unknown_job_cannot_be_asked_for(store: Store) -> None:
    with pytest.raises(UnknownJobError):
        ask(store, "2026-0404")


def test_of_many_that_claim_at_once_no_two_get_the_same(store: Store, jobs: list[str]) -> None:
    for job in jobs:
        ask(store, job)
    with ThreadPoolExecutor(8) as pool:
        got = [task.job for task in pool.map(lambda n: claim(store, f"w{n}"), range(8)) if task]
    assert sorted(got) == jobs


def test_one_job_can_be_claimed_by_its_number(store: Store, jobs: list[str]) -> None:
    for job in jobs:
        ask(store, job)
    task = claim(store, "one", jobs[1])
    assert task
    assert task.job == jobs[1]
    assert claim(store, "two", jobs[1]) is None


def test_a_worker_without_a_beat_for_the_lease_loses_its_task(
    store: Store, jobs: list[str]
) -> None:
    ask(store, jobs[0])
    dead, clock = taken(store, "dead"), Clock()
    watch = Watch(store, clock)
    watch.look()
    clock.now += LEASE_S - 0.1
    assert watch.look() == 0
    clock.now += 0.2
    assert watch.look() == 1
    assert taken(store, "living")._replace(owner="", attempt=0) == dead._replace(
        owner="", attempt=0
    )


def test_a_worker_that_gives_beats_keeps_its_task(store: Store, jobs: list[str]) -> None:
    ask(store, jobs[0])
    task, clock = taken(store), Clock()
    watch = Watch(store, clock)
    for _ in range(5):
        assert watch.look() == 0
        assert beat(store, task)
        clock.now += LEASE_S - 1
    assert held(store)[task.id].beats == 5


def test_the_time_of_day_has_no_part_in_it(
    store: Store, jobs: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    ask(store, jobs[0])
    taken(store)
    clock = Clock()
    watch = Watch(store, clock)
    watch.look()
    for year in (1999, 2099):  # set back, and set forward
        monkeypatch.setattr("jobnotes.store.tasks._now", lambda year=year: f"{year}-01-01")
        clock.now += 1
        assert watch.look() == 0
        assert claim(store, "two") is None


def test_only_one_of_many_watchers_takes_a_lapsed_task(store: Store, jobs: list[str]) -> None:
    ask(store, jobs[0])
    taken(store)
    clock = Clock()
    watches = [Watch(store, clock) for _ in range(6)]
    for watch in watches:
        watch.look()
    clock.now += LEASE_S
    with ThreadPoolExecutor(6) as pool:
        assert sum(pool.map(Watch.look, watches)) == 1


def test_a_task_that_was_lost_can_neither_be_saved_nor_ended(store: Store, jobs: list[str]) -> None:
    ask(store, jobs[0])
    lost, clock = taken(store, "slow"), Clock()
    watch = Watch(store, clock)
    watch.look()
    clock.now += LEASE_S
    watch.look()
    again = taken(store, "quick")
    finish(store, lost)
    assert not beat(store, lost)
    with (
        pytest.raises(LostTaskError, match=jobs[0]),
        store.transaction(writing=True) as connection,
    ):
        check_held(connection, lost)
    with store.transaction(writing=True) as connection:
        check_held(connection, again)


def test_a_task_is_hopeless_when_it_broke_off_too_often(store: Store, jobs: list[str]) -> None:
    ask(store, jobs[0])
    for _ in range(MOST_ATTEMPTS):
        task = taken(store)
        assert not task.is_hopeless
        give_back(store, task, counts=True)
    last = taken(store)
    assert last.is_hopeless
    finish(store, last, "broke off")
    assert (claim(store, "one"), state_of(store, jobs[0])) == (None, "failed")
    ask(store, jobs[0])
    assert taken(store).attempt == 1


def test_work_that_somebody_stopped_does_not_count_as_an_attempt(
    store: Store, jobs: list[str]
) -> None:
    ask(store, jobs[0])
    for _ in range(MOST_ATTEMPTS + 2):
        task = taken(store)
        with pytest.raises(KeyboardInterrupt), holding(store, task):
            raise KeyboardInterrupt
    assert taken(store).attempt == 1


def test_work_that_fails_is_given_back_at_once_and_counts(store: Store, jobs: list[str]) -> None:
    ask(store, jobs[0])
    with pytest.raises(MemoryError), holding(store, taken(store)):
        raise MemoryError
    assert taken(store).attempt == 2


def test_who_works_gives_beats(
    store: Store, jobs: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("jobnotes.store.lease.BEAT_S", 0.01)
    ask(store, jobs[0])
    task = taken(store)
    with holding(store, task):
        while held(store)[task.id].beats < 3:
            time.sleep(0.01)
    assert task.id in held(store)

from collections.abc import Iterator
from datetime import datetime
from uuid import uuid4

import pytest
from any_record import jobs, same
from hypothesis import given, settings
from hypothesis import strategies as st

from jobnotes.record import Job
from jobnotes.store.store import Store


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def store(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Store]:
    url = f"sqlite:///{tmp_path_factory.mktemp('store') / 'jobs.db'}"
    if request.param == "postgresql":
        url = request.getfixturevalue("postgres").new_database()
    store = Store(url)
    yield store
    store.close()


quickly = settings(max_examples=60, deadline=None)


@quickly
@given(job=jobs)
def test_a_job_comes_back_as_it_was_kept(store: Store, job: Job) -> None:
    kept = store.create(job.having(id="")).job
    assert same(store.load(kept.id).job, job.having(id=kept.id))


@quickly
@given(before=jobs, after=jobs)
def test_a_changed_job_comes_back_as_it_was_saved(store: Store, before: Job, after: Job) -> None:
    kept = store.create(before.having(id=""))
    changed = after.having(id=kept.job.id)
    store.save(changed, kept.revision)
    assert same(store.load(kept.job.id).job, changed)


@quickly
@given(job_id=st.text(min_size=1))
def test_any_id_that_a_job_came_with_is_kept(store: Store, job_id: str) -> None:
    job = Job(id=f"{uuid4()} {job_id}", created_at=datetime(2026, 9, 17))
    store.create(job)
    assert store.load(job.id).job == job

import types
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from decimal import Decimal
from typing import Annotated, Any, Literal, Union, get_args, get_origin
from uuid import uuid4

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from jobnotes.record import Audience, Job, State
from jobnotes.store.store import Store

zones = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
texts = st.text(max_size=8)
reals = st.floats(allow_nan=False, allow_infinity=False).map(lambda real: real + 0.0)  # no -0.0
flat = st.none() | st.booleans() | st.integers() | reals | texts
json_values = st.recursive(
    flat, lambda inner: st.lists(inner, max_size=2) | st.dictionaries(texts, inner, max_size=2)
)
PLAIN: dict[object, st.SearchStrategy[Any]] = {
    str: texts,
    int: st.integers(0, 2**31 - 1),
    float: reals,
    bool: st.booleans(),
    type(None): st.none(),
    Decimal: st.decimals(allow_nan=False, allow_infinity=False),
    datetime: st.datetimes(datetime(1900, 1, 1), timezones=st.none() | zones),
    State: st.sampled_from(State),
    Audience: st.sampled_from(Audience),
    dict[str, Any]: st.dictionaries(texts, json_values, max_size=2),
}


def any_of(kind: Any) -> st.SearchStrategy[Any]:
    """A strategy for whatever a field of the record may hold, read from its type."""
    if kind in PLAIN:
        return PLAIN[kind]
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return st.builds(kind, **{n: any_of(f.annotation) for n, f in kind.model_fields.items()})
    origin, inside = get_origin(kind), get_args(kind)
    if origin is Literal:
        return st.sampled_from(inside)
    if origin in (Union, types.UnionType):
        return st.one_of([any_of(one) for one in inside])
    if origin is Annotated:
        return any_of(inside[0])
    assert origin is tuple, kind
    return st.lists(any_of(inside[0]), max_size=3).map(tuple)


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    store = Store(f"sqlite:///{tmp_path_factory.mktemp('store') / 'jobs.db'}")
    yield store
    store.close()


def same(one: Job, other: Job) -> bool:
    """Equal, and written the same: 3.0 is not 3.00, and a time keeps its zone."""
    return one == other and one.model_dump_json() == other.model_dump_json()


jobs = any_of(Job)
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

"""Strategies for whatever a record may hold, read from its types."""

import types
from datetime import datetime, timedelta, timezone
from decimal import Decimal
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from hypothesis import strategies as st
from pydantic import BaseModel

from jobnotes.record import Audience, Job, State

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


def same(one: Job, other: Job) -> bool:
    """Equal, and written the same: 3.0 is not 3.00, and a time keeps its zone."""
    return one == other and one.model_dump_json() == other.model_dump_json()


jobs = any_of(Job)

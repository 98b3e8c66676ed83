"""A fact with some of its fields put right, checked as if it were read anew."""

from collections.abc import Mapping
from typing import Any, get_args

from pydantic import ValidationError

from jobnotes.errors import ReviewError
from jobnotes.record import AnyFact, Fact, Labour, Reading, Spec

FIXED = frozenset(Fact.model_fields) | {"kind"}
"""What no correction touches: where a fact came from, and what has been said of it."""

FIGURES = frozenset({"value", "low", "high", "minutes", "unit", "number"})
"""Fields whose doubts a correction of any of them settles."""


def corrected(fact: AnyFact, changes: Mapping[str, Any]) -> AnyFact:
    """Return the fact with changed fields; raises ReviewError, naming a field that is wrong."""
    unknown = sorted(changes.keys() - (type(fact).model_fields.keys() - FIXED))
    if unknown or not changes:
        known = ", ".join(sorted(type(fact).model_fields.keys() - FIXED))
        raise ReviewError(f"A {fact.kind} has no {unknown or 'change'}; it has {known}.")
    given = {name: _given(fact, name, value) for name, value in changes.items()}
    try:
        new = type(fact).model_validate({**fact.model_dump(), **given})
    except ValidationError as error:
        first = error.errors()[0]
        raise ReviewError(f"'{first['loc'][0]}': {first['msg']}.") from error
    if isinstance(new, Spec):
        _check_limits(new)
    return _printed_anew(new) if FIGURES & changes.keys() and "as_said" not in changes else new


def settles(fact: AnyFact, changes: Mapping[str, Any]) -> bool:
    """Tell whether a correction answers the doubts about a fact: it names a figure, or has none."""
    figures = FIGURES & type(fact).model_fields.keys()
    return not figures or bool(figures & changes.keys())


def _check_limits(spec: Spec) -> None:
    if spec.low is not None and spec.high is not None and spec.low > spec.high:
        raise ReviewError(f"The low limit {spec.low} is above the high limit {spec.high}.")


def _given(fact: AnyFact, name: str, value: Any) -> Any:
    """Return none for empty text where a field may be none."""
    may_be_none = type(None) in get_args(type(fact).model_fields[name].annotation)
    return None if value == "" and may_be_none else value


def _printed_anew(fact: AnyFact) -> AnyFact:
    if isinstance(fact, Reading):
        return fact.having(as_said=f"{fact.value:,f}")
    if isinstance(fact, Labour):
        return fact.having(as_said=f"{fact.minutes:f} minutes")
    if isinstance(fact, Spec):
        return fact.having(as_said=_limits(fact))
    return fact


def _limits(spec: Spec) -> str:
    if spec.low is None:
        return "" if spec.high is None else f"no more than {spec.high:,f}"
    if spec.high is None:
        return f"at least {spec.low:,f}"
    return f"{spec.low:,f}" if spec.low == spec.high else f"{spec.low:,f} to {spec.high:,f}"

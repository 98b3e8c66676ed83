"""A fact with some of its fields put right, checked as if it were read anew."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, get_args

from pydantic import ValidationError

from jobnotes.errors import ReviewError
from jobnotes.record import AnyFact, Fact, Labour, Part, Reading, Spec

FIXED = frozenset(Fact.model_fields) | {"kind"}
"""What no correction touches: where a fact came from, and what has been said of it."""

KINDS: dict[str, type[Fact]] = {
    one.model_fields["kind"].default: one for one in get_args(get_args(AnyFact)[0])
}
"""Every kind of fact by its name."""

BLANK = {"as_said": "", "low": None, "high": None, "number": "", "name": ""}
"""What may be left out of a fact that is entered, though the record always has it."""

DIGITS = 12
"""More places before or behind the point than this are a slip of the keyboard."""

FIGURES = frozenset({"value", "low", "high", "minutes", "unit", "number"})
"""Fields whose doubts a correction of any of them settles."""


def corrected(fact: AnyFact, changes: Mapping[str, Any]) -> AnyFact:
    """Return the fact with changed fields; raises ReviewError, naming a field that is wrong."""
    given = _given(type(fact), fact.kind, changes)
    new = _made(type(fact), {**fact.model_dump(), **given})
    return _printed_anew(new) if FIGURES & changes.keys() and "as_said" not in changes else new


def entered(kind: str, fields: Mapping[str, Any], carried: Mapping[str, Any]) -> AnyFact:
    """Return a new fact of a kind; `carried` are the fields that no person gives.

    Raises ReviewError for a kind or field that there is not, one that is missing or wrong.
    """
    if kind not in KINDS:
        raise ReviewError(f"There is no kind '{kind}'.", f"There are {', '.join(KINDS)}.")
    model = KINDS[kind]
    given = _given(model, kind, fields)
    blank = {name: empty for name, empty in BLANK.items() if name in model.model_fields}
    new = _made(model, {**blank, **given, **carried})
    return new if "as_said" in given else _printed_anew(new)


def settles(fact: AnyFact, changes: Mapping[str, Any]) -> bool:
    """Tell whether a correction answers the doubts about a fact: it names a figure, or has none."""
    figures = FIGURES & type(fact).model_fields.keys()
    return not figures or bool(figures & changes.keys())


def _check_limits(spec: Spec) -> None:
    if spec.low is None and spec.high is None:
        raise ReviewError("A spec needs a low limit, a high limit, or both.")
    if spec.low is not None and spec.high is not None and spec.low > spec.high:
        raise ReviewError(f"The low limit {spec.low} is above the high limit {spec.high}.")


def _given(model: type[Fact], kind: str, fields: Mapping[str, Any]) -> dict[str, Any]:
    """Return the fields as the record holds them; raises ReviewError for one that there is not."""
    known = model.model_fields.keys() - FIXED
    unknown = sorted(fields.keys() - known)
    if unknown or not fields:
        raise ReviewError(
            f"A {kind} has no {unknown or 'change'}; it has {', '.join(sorted(known))}."
        )
    return {name: _value(model, name, value) for name, value in fields.items()}


def _value(model: type[Fact], name: str, value: Any) -> Any:
    """Return none for empty text where a field may be none, and a list for "this; that"."""
    inside = get_args(model.model_fields[name].annotation)
    if value == "" and type(None) in inside:
        return None
    if isinstance(value, str) and inside == (str, ...):
        return tuple(part.strip() for part in value.split(";") if part.strip())
    return value


def _made(model: type[Fact], fields: Mapping[str, Any]) -> AnyFact:
    """Return a fact; raises ReviewError, naming a field that is missing or wrong."""
    try:
        new: AnyFact = model.model_validate(fields)  # type: ignore[assignment]
    except ValidationError as error:
        first = error.errors()[0]
        raise ReviewError(f"'{first['loc'][0]}': {first['msg']}.") from error
    _check_figures(new)
    if isinstance(new, Spec):
        _check_limits(new)
    if isinstance(new, Part) and not (new.number or new.name):
        raise ReviewError("A part needs a number, a name, or both.")
    return new


def _check_figures(fact: AnyFact) -> None:
    """Refuse figures that no gauge shows and no bill has, before anything prints them."""
    for name in sorted(FIGURES & type(fact).model_fields.keys()):
        value = getattr(fact, name)
        if isinstance(value, Decimal) and value and abs(value.adjusted()) > DIGITS:
            raise ReviewError(f"'{name}': {value} has too many digits.")
    counted = (
        fact.minutes if isinstance(fact, Labour) else None,
        fact.quantity if isinstance(fact, Part) else None,
    )
    if any(count is not None and count < 0 for count in counted):
        raise ReviewError("Neither labour nor a quantity is below nought.")


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

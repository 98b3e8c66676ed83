"""Readings and specs outside what is physically likely in this trade."""

import tomllib
from decimal import Decimal
from functools import cache
from importlib.resources import files

from pydantic import BaseModel

from jobnotes.checks.names import key_words
from jobnotes.record import AnyFact, Flag, Reading, Spec


class PlausibleRange(BaseModel):
    """Limits for one unit; with `words`, only for readings whose name holds one of them."""

    unit: str
    words: tuple[str, ...] = ()
    low: Decimal
    high: Decimal


@cache
def _ranges() -> tuple[PlausibleRange, ...]:
    text = files("jobnotes.checks").joinpath("rules/plausible.toml").read_text("utf-8")
    return tuple(PlausibleRange(**entry) for entry in tomllib.loads(text)["range"])


def implausible(facts: tuple[AnyFact, ...]) -> dict[str, Flag]:
    """Return a flag by fact id for each reading or spec outside its plausible range."""
    return {
        fact.id: flag
        for fact in facts
        if isinstance(fact, Reading | Spec) and (flag := _flag(fact)) is not None
    }


def _flag(fact: Reading | Spec) -> Flag | None:
    limits = _range_for(fact.what, fact.unit)
    if limits is None or all(limits.low <= value <= limits.high for value in _values(fact)):
        return None
    why = (
        f"{fact.as_said} {fact.unit} is outside {limits.low} to {limits.high} {limits.unit},"
        f" which is likely for {fact.what or 'such a reading'}."
    )
    return Flag(by="checks", code="out-of-physical-range", why=why, options=(fact.as_said,))


def _range_for(what: str, unit: str) -> PlausibleRange | None:
    words = key_words(what)
    fitting = [limits for limits in _ranges() if limits.unit == unit]
    for limits in fitting:
        if words & key_words(" ".join(limits.words)):
            return limits
    return next((limits for limits in fitting if not limits.words), None)


def _values(fact: Reading | Spec) -> tuple[Decimal, ...]:
    if isinstance(fact, Reading):
        return (fact.value,)
    return tuple(limit for limit in (fact.low, fact.high) if limit is not None)

"""Units joined of others: "square metres", "m²", "litres per minute", "W/m²"."""

from collections.abc import Sequence
from functools import cache

from jobnotes.numbers.lexicon import table
from jobnotes.numbers.phrases import Phrases
from jobnotes.numbers.unit_names import GENERAL, below_names
from jobnotes.numbers.units import POWERS, UnitName, measures, name_at

MARKS = {power: mark for mark, power in POWERS.items()}
FIGURES = POWERS | {"2": 2, "3": 3}  # how a power is written in one token with its unit
DEEPEST = 3  # units joined in one: "joules per square metre per year"


def unit_at(tokens: Sequence[str], at: int, after_figures: bool = False) -> UnitName | None:
    """Return the longest unit that begins at token `at`, joined ones included.

    `after_figures` tells that the number before was written in figures, as `name_at` wants.
    """
    unit = _raised(tokens, at, after_figures)
    for _ in range(DEEPEST - 1):
        joined = _divided(tokens, unit) if unit is not None else None
        if joined is None:
            break
        unit = joined
    return unit


# --- powers of a length or a time ---


def _raised(tokens: Sequence[str], at: int, after_figures: bool) -> UnitName | None:
    power = _powers("powers").get(tokens[at], 0) if at < len(tokens) else 0
    if power:
        length = name_at(tokens, at + 1, after_figures)
        return _to_power(length, power, length.stop) if length is not None else None
    unit = name_at(tokens, at, after_figures)
    if unit is None:
        return _with_figure(tokens, at) if after_figures else None
    stop, power = _power_after(tokens, unit.stop)
    return (_to_power(unit, power, stop) if power else None) or unit


def _to_power(unit: UnitName, power: int, stop: int) -> UnitName | None:
    found = tuple(code + MARKS[power] for code in unit.codes if _takes_power(code))
    return UnitName(stop, found, unit.singular) if found else None


def _takes_power(code: str) -> bool:
    return measures(code) in ("length", "time") and "/" not in code


@cache
def _powers(name: str) -> dict[str, int]:
    return dict(table(GENERAL)[name])


@cache
def _power_phrases() -> Phrases:
    return Phrases(_powers("powers_after"))


def _power_after(tokens: Sequence[str], at: int) -> tuple[int, int]:
    """Return where "squared", "²" or "^2" stops, and the power it names (0 for none)."""
    stop = _power_phrases().end(tokens, at)
    return stop, _powers("powers_after").get(" ".join(tokens[at:stop]), 0)


def _with_figure(tokens: Sequence[str], at: int) -> UnitName | None:
    """Read "m2" and "cm³", in which the power is part of the token."""
    if at >= len(tokens) or len(tokens[at]) < 2 or tokens[at][-1] not in FIGURES:
        return None
    unit = name_at((tokens[at][:-1],), 0, after_figures=True)
    return _to_power(unit, FIGURES[tokens[at][-1]], at + 1) if unit is not None else None


# --- one unit per another ---


def _divided(tokens: Sequence[str], unit: UnitName) -> UnitName | None:
    at = _below_at(tokens, unit)
    below = _below(tokens, at) if at else None
    if below is None:
        return None
    alone = table(GENERAL)["joined_as"].get(tokens[unit.stop - 1])
    joined = [f"{code}/{below.codes[0]}" for code in ((alone,) if alone else unit.codes)]
    named = tuple(_names_of_their_own().get(code, code) for code in joined)
    return UnitName(below.stop, named, unit.singular)


def _below_at(tokens: Sequence[str], unit: UnitName) -> int:
    if unit.stop + 1 >= len(tokens):
        return 0
    word = tokens[unit.stop]
    quotient = table(GENERAL)["quotient"]
    if word in quotient["per"]:
        return unit.stop + 1
    each = word in quotient["each"] and measures(unit.codes[0]) in quotient["each_of"]
    return unit.stop + 1 if each else 0


def _below(tokens: Sequence[str], at: int) -> UnitName | None:
    """Read the unit behind "per": one that is said once only, so in the singular if spoken."""
    article = tokens[at - 1] in table(GENERAL)["quotient"]["each"]
    if tokens[at] in below_names():
        return UnitName(at + 1, (below_names()[tokens[at]],), True)
    unit = _raised(tokens, at, after_figures=tokens[at - 1] == "/")
    if unit is None or (article and measures(unit.codes[0]) != "time"):
        return None
    kind = measures(unit.codes[0]).rstrip("²³")
    return unit if kind in table(GENERAL)["quotient"]["below"] else None


@cache
def _names_of_their_own() -> dict[str, str]:
    return dict(table(GENERAL)["same"])

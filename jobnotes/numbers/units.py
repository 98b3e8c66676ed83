"""Units: what they measure and convert by, and the longest name at some tokens."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from jobnotes.numbers.lexicon import table
from jobnotes.numbers.unit_names import GENERAL, Name, names, units

POWERS = {"²": 2, "³": 3}
MARKS = ("'", '"')
QUOTED = 12  # tokens that a quotation may hold for its end to be told from a mark of inches
OFFSET = {"degF": "delta_degF", "degC": "delta_degC"}  # what pint calls their differences


@dataclass(frozen=True, slots=True)
class UnitName:
    """A unit's name at some tokens: the codes it can stand for, and whether it is a singular."""

    stop: int
    codes: tuple[str, ...]
    singular: bool


def name_at(tokens: Sequence[str], at: int, after_figures: bool = False) -> UnitName | None:
    """Return the longest name of one unit that begins at token `at`, before "per" or a power.

    Abbreviations such as "V" or "in" count only when `after_figures` says that the number before
    was written in figures, since "a" and "in" are words as well.
    """
    if at >= len(tokens) or (tokens[at] in MARKS and not _is_inch_mark(tokens, at, after_figures)):
        return None
    for name in names().get(tokens[at], ()):
        stop = at + len(name.tokens)
        if tuple(tokens[at:stop]) != name.tokens:
            continue
        spoken = name.tokens in (("k",), ("c",), ("f",))
        if name.after_figures and not (
            (after_figures or spoken) and _stands_alone(tokens, stop, name)
        ):
            continue
        return UnitName(stop, name.codes, name.singular)
    return None


def _is_inch_mark(tokens: Sequence[str], at: int, after_figures: bool) -> bool:
    """Tell the mark of inches or feet from one that closes a quotation."""
    marks = [n for n in range(max(0, at - QUOTED), at) if tokens[n] == tokens[at]]
    opened = any(not n or not tokens[n - 1][-1].isdigit() for n in marks)
    return after_figures and not opened


def _stands_alone(tokens: Sequence[str], stop: int, name: Name) -> bool:
    """Tell "12 a." and "3 in" from "12 a minute", "3 in the box" and "number 3 in 1979"."""
    if len(name.tokens) > 1 or name.tokens[0] not in _words("units"):
        return True
    if stop >= len(tokens) or tokens[stop] in _words("followed_by"):
        return True
    figure = tokens[stop][0].isdigit() and name.tokens == ("in",)
    return not (tokens[stop].isalpha() or figure)


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(table("units.toml")["word_alike"][name])


def codes() -> tuple[str, ...]:
    """Return the code of every unit that is not joined of others."""
    return tuple(units())


def measures(code: str) -> str:
    """Return what a unit measures: "voltage", "length", "torque", "velocity" and so on.

    `code` may be joined of known ones: "m²", "W/m²". Raises KeyError for a code of no unit.
    """
    if code in units():
        return units()[code].measures
    return _joined_kind(code)


@cache
def _joined_kind(code: str) -> str:
    kinds = [_raised_kind(*part) for part in _parts(code)]
    found: str = table(GENERAL)["joined"].get(" per ".join(kinds), " per ".join(kinds))
    return found


def _raised_kind(code: str, power: int) -> str:
    kind = units()[code].measures
    if kind == "length":
        return ("length", "area", "volume")[power - 1]
    return kind + ("", "²", "³")[power - 1]


def _parts(code: str) -> list[tuple[str, int]]:
    """Return the units of a joined code with their powers; the first is the one above."""
    return [(part.rstrip("²³"), POWERS.get(part[-1], 1)) for part in code.split("/")]


def above(code: str) -> str:
    """Return the unit above of a joined code, without its power: "L" of "L/h"."""
    return code if code in units() else _parts(code)[0][0]


def same_dimension(unit: str, other: str) -> bool:
    """Tell whether two unit codes measure the same kind of thing, so that one converts."""
    return _family(unit) == _family(other)


def _family(code: str) -> str:
    kind = measures(code)
    return "pressure" if kind in ("vacuum", "suction") else kind


def spoken_name(code: str) -> str:
    """Return what people call a unit ("kilohms"), or its code where the tables do not know it."""
    unit = units().get(code)
    names = (*unit.plural, *unit.singular) if unit else ()
    return names[0] if names else code


def pint_name(code: str) -> str:
    """Return the name under which pint knows a unit; a joined one is an expression."""
    if code in units():
        return units()[code].pint
    named = [f"({_difference(part)})**{power}" for part, power in _parts(code)]
    return " / ".join(named)


def _difference(code: str) -> str:
    return OFFSET.get(code, units()[code].pint)

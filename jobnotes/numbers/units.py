"""Units: the names people say and the codes they stand for."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from jobnotes.numbers.lexicon import table
from jobnotes.numbers.tokens import split


@dataclass(frozen=True, slots=True)
class UnitName:
    """A unit's name at some tokens: the codes it can stand for, and whether it is a singular."""

    stop: int
    codes: tuple[str, ...]
    singular: bool


@dataclass(frozen=True, slots=True)
class _Name:
    tokens: tuple[str, ...]
    codes: tuple[str, ...]
    singular: bool
    after_figures: bool


def unit_at(tokens: Sequence[str], at: int, after_figures: bool = False) -> UnitName | None:
    """Return the longest unit name that begins at token `at`.

    Abbreviations such as "V" or "in" count only when `after_figures` says that the number before
    was written in figures, since "a" and "in" are words as well.
    """
    if at >= len(tokens):
        return None
    for name in _names().get(tokens[at], ()):
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


def measures(code: str) -> str:
    """Return what a unit measures: "voltage", "length", "torque" and so on."""
    return _codes()[code][0]


def codes() -> tuple[str, ...]:
    """Return every unit code of the table."""
    return tuple(_codes())


def same_dimension(unit: str, other: str) -> bool:
    """Tell whether two unit codes measure the same kind of thing, so that one converts."""
    return _family(unit) == _family(other)


def _family(code: str) -> str:
    kind = measures(code)
    return "pressure" if kind in ("vacuum", "suction") else kind


def pint_name(code: str) -> str:
    """Return the name under which pint knows a unit."""
    return _codes()[code][1]


@cache
def _codes() -> dict[str, tuple[str, str]]:
    return {unit["code"]: (unit["measures"], unit["pint"]) for unit in table("units.toml")["unit"]}


@cache
def _names() -> dict[str, tuple[_Name, ...]]:
    found: dict[str, dict[tuple[str, ...], _Name]] = {}
    for unit in table("units.toml")["unit"]:
        for form in ("one", "many", "short"):
            for name in unit[form]:
                _put(found, _Name(_tokens(name), (unit["code"],), form == "one", form == "short"))
    for name, options in table("units.toml")["ambiguous"].items():
        tokens = _tokens(name)
        _put(found, _Name(tokens, tuple(options), name in ("pound", "ounce", "degree"), False))
    return {first: _longest_first(names) for first, names in found.items()}


def _tokens(name: str) -> tuple[str, ...]:
    return tuple(token for word in name.split() for token in split(word))


def _put(found: dict[str, dict[tuple[str, ...], _Name]], name: _Name) -> None:
    found.setdefault(name.tokens[0], {})[name.tokens] = name


def _longest_first(names: dict[tuple[str, ...], _Name]) -> tuple[_Name, ...]:
    return tuple(sorted(names.values(), key=lambda name: -len(name.tokens)))


def _stands_alone(tokens: Sequence[str], stop: int, name: _Name) -> bool:
    """Tell "12 a." and "3 in" from "12 a minute" and "3 in the box"."""
    if name.tokens not in (("a",), ("in",), ("h",), ("s",), ("m",), ("k",), ("c",), ("f",)):
        return True
    return (
        stop >= len(tokens)
        or not tokens[stop].isalpha()
        or tokens[stop] in table("units.toml")["goes_on"]["words"]
    )

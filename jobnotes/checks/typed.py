"""What a person types of a fact: any name of a unit is understood."""

from collections.abc import Mapping
from typing import Any

from jobnotes.errors import ReviewError
from jobnotes.numbers.tokens import split
from jobnotes.numbers.unit_joins import unit_at
from jobnotes.numbers.units import codes


def understood(fields: Mapping[str, Any]) -> dict[str, Any]:
    """Return the fields with a unit as its code ("volts" as "V"); raises ReviewError for others."""
    given = dict(fields)
    if given.get("unit"):
        given["unit"] = unit_code(str(given["unit"]))
    return given


def unit_code(name: str) -> str:
    """Return the code of a unit by its code or any name; raises ReviewError for one not known."""
    if name in codes():
        return name
    tokens = split(name)
    found = unit_at(tokens, 0, after_figures=True)
    meant = found.codes if found and found.stop == len(tokens) else ()
    if len(meant) == 1 and meant[0] in codes():
        return meant[0]
    known = [code for code in meant if code in codes()] or codes()
    raise ReviewError(f"The unit '{name}' is not clear.", f"Give one of {', '.join(known)}.")

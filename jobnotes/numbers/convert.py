"""Exact conversion between units; free text never reaches pint, only names from our own table."""

from decimal import Decimal
from functools import cache

import pint

from jobnotes.numbers.units import pint_name, same_dimension


def convert(value: Decimal, unit: str, to: str) -> Decimal:
    """Convert a value between two unit codes, by pint's definitions.

    The inch of water is the conventional one, 249.0889 Pa (NIST SP 811, appendix B.8), which
    pint lacks. Raises pint.DimensionalityError when the units measure different things.
    """
    if not same_dimension(unit, to):
        raise pint.DimensionalityError(pint_name(unit), pint_name(to))
    registry = _registry()
    moved = registry.Quantity(value, pint_name(unit)).to(pint_name(to))
    return Decimal(moved.magnitude)


@cache
def _registry() -> "pint.UnitRegistry[Decimal]":
    registry: pint.UnitRegistry[Decimal] = pint.UnitRegistry(
        non_int_type=Decimal, autoconvert_offset_to_baseunit=True
    )
    registry.define("hundred_kilometers = 100 * kilometer")
    registry.define("conventional_inch_of_water = 249.0889 * pascal")
    return registry

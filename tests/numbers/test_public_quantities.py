"""The test sentences of quantulum3, a general quantity parser, read by our grammar.

Out of scope, by a rule or by class:
- money: it is marked as a price and never measured;
- years, months, weeks, days and decades: they are ages and dates here, never measures;
- units that pint does not know, and those without a name of their own there (dozens, counts);
- inverse units ("s-1", "fb-1"), products without a mark ("cds"), formulas ("8x2^10", "0.5k");
- abbreviations that mean something else in the shop (K, b, t, tpd, ', ", and pm, am of the clock);
- a figure whose unit is only said with the next one: the extraction lends it, not the grammar.
"""

import re

import pint
import pytest
from outside import figures, quantulum_json

from jobnotes.numbers.units import pint_name

FILES = ("quantities.json", "quantities.ambiguity.json")
MONEY = ("sterling", "dollar", "euro", "yen", "cent", "penny", "dime")
CALENDAR = ("year", "month", "week", "day", "gigayear", "megayear")
COUNTS = ("dozen", "gross", "count")
OTHER_MEANING = ("kelvin", "barn", "kibibyte", "tonne", "ton", "picometre", "attometre", "arc")
NO_GRAMMAR = ("inverse", "candela")
FORMULA = re.compile(r"\dx\d+\^|\dk\b")
DECADE = re.compile(r"(?:1[89]|20)\d0$")
IN_PINT = {
    "percentage": "percent",
    "pound-mass": "pound",
    "degree Celsius": "degC",
    "degree fahrenheit": "degF",
    "degree Fahrenheit": "degF",
    "british thermal unit": "Btu",
    "dimensionless": "",
}


@pytest.fixture(scope="module")
def registry():
    made = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    made.define("conventional_inch_of_water = 249.0889 * pascal")
    made.define("hundred_kilometers = 100 * kilometer")
    return made


def cases():
    for file in FILES:
        for case in quantulum_json("_lang", "en_US", "tests", file):
            wanted = [one for one in case["res"] if not is_out(one["unit"], one["surface"])]
            if wanted:
                yield pytest.param(case["req"], wanted, id=case["req"][:60])


def is_out(name, surface):
    words = set(name.replace(" per ", " ").split())
    lent = name != "dimensionless" and not re.search(r"[^\W\d]|[%\"'°]", surface)
    named = words & {*MONEY, *OTHER_MEANING, *NO_GRAMMAR, *COUNTS}
    aged = name.split()[0] in CALENDAR
    written = FORMULA.search(surface) or DECADE.match(surface)
    return aged or bool(named) or lent or bool(written)


def unit_of(registry, name):
    """Build the unit of a name such as "joule per square metre"."""
    if name in IN_PINT:
        return registry.Unit(IN_PINT[name])
    above, *below = name.split(" per ")
    found = factor(registry, above)
    for one in below:
        found = found / factor(registry, one)
    return found


def factor(registry, name):
    found, power = registry.Unit(""), 1
    for word in name.split():
        if word in ("square", "cubic"):
            power = {"square": 2, "cubic": 3}[word]
        else:
            found, power = found * registry.Unit(IN_PINT.get(word, word)) ** power, 1
    return found


def is_same(registry, figure, wanted):
    unit = unit_of(registry, wanted["unit"])
    sized = registry.Quantity(float(wanted["value"]), unit).to_base_units()
    units = [registry.Unit(pint_name(code)) for code in figure.units] or [registry.Unit("")]
    return any(
        found.dimensionality == sized.dimensionality
        and found.magnitude == pytest.approx(sized.magnitude, rel=1e-4, abs=1e-12)
        for value in values_of(figure)
        for found in (registry.Quantity(float(value), one).to_base_units() for one in units)
    )


def values_of(figure):
    """Give the middle of a range, as quantulum3 does, or every option of a number."""
    if figure.is_range:
        return [(figure.low.value + figure.high.value) / 2]
    return [option.value for option in figure.low.options]


@pytest.mark.parametrize(("line", "wanted"), list(cases()))
def test_every_quantity_of_a_sentence_is_read_with_its_unit(registry, line, wanted):
    left = list(figures(line))
    for one in wanted:
        found = next((figure for figure in left if is_same(registry, figure, one)), None)
        assert found is not None, one["surface"]
        left.remove(found)

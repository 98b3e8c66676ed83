"""Spoken forms that can be understood in two ways: for which quantities each is sure.

What is likely of a quantity is common practice, no source. A form that stays open must be flagged,
and the flag must hold the other reading.
"""

from decimal import Decimal

import pytest
from heard import heard

from jobnotes.record import Reading

SAID = {
    "V": "battery voltage was {} volts",
    "psi": "oil pressure was {} psi",
    "rpm": "idle speed was {} rpm",
    "thou": "the gap is {} thou",
    "in": "the gap is {} inches",
    "mm": "the shaft is {} millimetres",
    "ohm": "resistance is {} ohms",
    "N.m": "torqued to {} newton metres",
}

SURE = [
    ("thirteen nine", "V", "13.9"),
    ("thirteen nine", "psi", "13.9"),
    ("twelve fifty", "V", "12.50"),
    ("twelve fifty", "psi", "1250"),
    ("twelve fifty", "rpm", "1250"),
    ("one twelve", "psi", "112"),
    ("one twelve", "thou", "112"),
    ("one twelve", "N.m", "112"),
    ("two oh five", "psi", "205"),
    ("two oh five", "thou", "205"),
    ("fifteen hundred", "rpm", "1500"),
    ("fifteen hundred", "ohm", "1500"),
    ("one and three sixteenths", "in", "1.1875"),
    ("twenty five thirty", "V", "25.30"),
    ("twenty five thirty", "rpm", "2530"),
    ("twenty five thirty", "mm", "25.30"),
    ("twelve and a half", "V", "12.5"),
    ("one hundred and twenty five", "psi", "125"),
    ("a hundred and one", "psi", "101"),
    ("two and a half", "thou", "2.5"),
]

OPEN = [
    ("one twelve", "V", {"112", "1.12"}),
    ("two oh five", "V", {"205", "2.05"}),
    ("one twelve", "ohm", {"112", "1.12"}),
    ("one twelve", "mm", {"112", "1.12"}),
    ("one twelve", "in", {"1.12", "0.112"}),
    ("twelve fifty", "ohm", {"1,250", "12.50"}),
    ("twelve fifty", "mm", {"1,250", "12.50"}),
    ("twelve fifty", "thou", {"1.25", "1,250"}),
    ("twelve fifty", "N.m", {"1,250", "12.50"}),
    ("two oh five", "in", {"2.05", "0.205"}),
    ("two oh five", "ohm", {"205", "2.05"}),
    ("twenty five thirty", "ohm", {"2,530", "25.30"}),
    ("fifteen hundred", "thou", {"1.5", "1,500"}),
    ("two thousand six fifty", "rpm", {"2,650", "2,006"}),
    ("12 500", "rpm", {"12,500", "500"}),
    ("12,5", "V", {"12.5", "12, 5"}),
    ("1.234,5", "mm", {"1,234.5", "1,234, 5"}),
]

UNLIKELY = [
    ("thirteen nine", "rpm"),
    ("thirteen nine", "in"),
    ("fifteen hundred", "V"),
    ("fifteen hundred", "N.m"),
    ("one and three sixteenths", "rpm"),
]


def read(form, unit):
    (reading,) = heard(Reading, SAID[unit].format(form))
    assert reading.unit == unit
    return reading


@pytest.mark.parametrize(("form", "unit", "value"), SURE)
def test_a_form_that_is_sure_for_its_quantity_is_read_without_a_flag(form, unit, value):
    reading = read(form, unit)
    assert (reading.value, reading.flags) == (Decimal(value), ())


@pytest.mark.parametrize(("form", "unit", "printed"), OPEN)
def test_a_form_that_stays_open_is_flagged_with_both_readings(form, unit, printed):
    offered = {option for flag in read(form, unit).flags for option in flag.options}
    assert printed <= offered


@pytest.mark.parametrize(("form", "unit"), UNLIKELY)
def test_a_form_that_is_unlikely_of_its_quantity_is_flagged(form, unit):
    assert [flag.code for flag in read(form, unit).flags] == ["unlikely"]


def test_ten_thousandths_of_a_gap_are_ten_thou():
    (reading,) = heard(Reading, "the gap is ten thousandths")
    assert (reading.value, reading.unit, reading.flags) == (10, "thou", ())


def test_a_ten_thousandth_is_never_taken_for_hundreds_of_thou():
    (reading,) = heard(Reading, "runout is five ten-thousandths of an inch")
    assert (reading.value, reading.unit) == (Decimal("0.5"), "thou")

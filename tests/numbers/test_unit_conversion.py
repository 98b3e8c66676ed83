"""Conversion, checked against the factors of NIST SP 811 (2008), appendix B.8."""

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobnotes.numbers.convert import convert
from jobnotes.numbers.unit_joins import unit_at
from jobnotes.numbers.units import codes, measures, same_dimension

NIST = [
    ("in.lbf", "N.m", "0.1129848"),
    ("ft.lbf", "N.m", "1.355818"),
    ("psi", "kPa", "6.894757"),
    ("bar", "kPa", "100"),
    ("in", "mm", "25.4"),
    ("ft", "m", "0.3048"),
    ("thou", "mm", "0.0254"),
    ("inHg", "kPa", "3.386389"),
    ("inH2O", "kPa", "0.2490889"),
    ("gal", "L", "3.785412"),
    ("qt", "mL", "946.3529"),
    ("pt", "mL", "473.1765"),
    ("floz", "mL", "29.57353"),
    ("lb", "kg", "0.4535924"),
    ("oz", "g", "28.34952"),
    ("hp", "W", "745.6999"),
    ("mph", "km/h", "1.609344"),
]


@pytest.mark.parametrize(("unit", "to", "factor"), NIST)
def test_a_factor_agrees_with_nist(unit, to, factor):
    assert float(convert(Decimal(1), unit, to)) == pytest.approx(float(factor), rel=1e-6)


@pytest.mark.parametrize(("fahrenheit", "celsius"), [("212", "100"), ("32", "0"), ("-40", "-40")])
def test_temperatures_convert_with_their_offset(fahrenheit, celsius):
    assert float(convert(Decimal(fahrenheit), "degF", "degC")) == pytest.approx(float(celsius))


@given(st.sampled_from(NIST), st.decimals("0.001", "100000", places=3))
def test_converting_there_and_back_changes_nothing(pair, value):
    unit, to, _ = pair
    back = convert(convert(value, unit, to), to, unit)
    assert float(back) == pytest.approx(float(value), rel=1e-9)


def test_pint_knows_every_unit_of_the_table():
    assert all(convert(Decimal(1), code, code) == 1 for code in codes())


def test_a_torque_is_never_taken_for_an_energy_or_a_pressure():
    with pytest.raises(pint.DimensionalityError):
        convert(Decimal(1), "ft.lbf", "psi")


def test_a_vacuum_in_inches_is_a_pressure_and_no_length():
    assert same_dimension("inHg", "kPa")
    assert not same_dimension("inHg", "in")


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("foot pounds", "ft.lbf"),
        ("inch pounds", "in.lbf"),
        ("newton metres", "N.m"),
        ("thousandths of an inch", "thou"),
        ("inches of mercury", "inHg"),
        ("inches of water column", "inH2O"),
        ("degrees celsius", "degC"),
        ("degrees before top dead centre", "degree"),
        ("meg ohms", "Mohm"),
        ("p s i", "psi"),
        ("per cent", "percent"),
        ("fluid ounces", "floz"),
    ],
)
def test_the_longest_unit_name_wins(said, code):
    found = unit_at(said.split(), 0)
    assert found.codes == (code,)
    assert found.stop == len(said.split())


@pytest.mark.parametrize(
    ("said", "kinds"),
    [("pounds", {"weight", "pressure"}), ("degrees", {"temperature", "angle"})],
)
def test_a_name_of_several_units_keeps_them_all(said, kinds):
    assert {measures(code) for code in unit_at([said], 0).codes} == kinds


def test_a_one_letter_unit_needs_figures_before_it():
    assert unit_at(["a"], 0) is None
    assert unit_at(["a"], 0, after_figures=True).codes == ("A",)


def test_a_one_letter_unit_is_not_read_out_of_a_sentence():
    assert unit_at(["a", "minute"], 0, after_figures=True) is None

"""Figures in print, held against NIST SP 811 (2008), appendices B.7 and B.8."""

from decimal import Decimal

import pytest

from jobnotes.record import Labour, Spec
from jobnotes.report.figures import figure, labour_time, number, spec_figure

# NIST SP 811, appendix B.8: unit, unit it is converted to, factor.
FACTORS = [
    ("psi", "kPa", "6.894757"),
    ("in.lbf", "N·m", "0.1129848"),
    ("ft.lbf", "N·m", "1.355818"),
    ("thou", "mm", "0.0254"),
    ("in", "mm", "25.4"),
    ("inHg", "kPa", "3.386389"),
    ("lb", "kg", "0.45359237"),
]


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(("unit", "to", "factor"), FACTORS)
@pytest.mark.parametrize("value", ["7", "12.5", "45", "120", "3150"])
def test_conversion_agrees_with_the_published_factor(unit, to, factor, value):
    shown = plain(figure(Decimal(value), unit)).partition("(")[2].rstrip(")")
    size, symbol = shown.replace(",", "").split(" ")
    exact = Decimal(value) * Decimal(factor)
    assert symbol == to
    assert abs(Decimal(size) - exact) / exact < Decimal("0.05")


@pytest.mark.parametrize(
    ("value", "unit", "printed"),
    [
        ("75", "ft.lbf", "75 ft·lbf (102 N·m)"),
        ("30", "thou", "30 thou (0.76 mm)"),
        ("45", "in.lbf", "45 in·lbf (5.1 N·m)"),
        ("8", "thou", "8 thou (0.20 mm)"),
        ("32", "psi", "32 psi (221 kPa)"),
    ],
)
def test_converted_values_keep_the_precision_said(value, unit, printed):
    assert plain(figure(Decimal(value), unit)) == printed


def test_temperature_is_rounded_to_the_places_said():
    assert plain(figure(Decimal("212"), "degF")) == "212 °F (100 °C)"
    assert plain(figure(Decimal("98.6"), "degF")) == "98.6 °F (37.0 °C)"


def test_number_and_symbol_are_parted_by_a_space_that_does_not_break():
    assert figure(Decimal("12.40"), "V") == "12.40\N{NO-BREAK SPACE}V"


def test_an_angle_has_no_space_before_its_symbol():
    assert figure(Decimal("20"), "degree") == "20°"


def test_gallons_are_not_converted_since_two_sizes_go_by_that_name():
    assert plain(figure(Decimal("3"), "gal")) == "3 gal"


def test_a_fraction_is_printed_as_said():
    assert plain(figure(Decimal("0.375"), "in", "3/8")) == "3/8 in (9.52 mm)"
    assert plain(figure(Decimal("1.5"), "in", "1 1/2")).startswith("1 1/2 in")


def test_a_spoken_form_that_is_not_the_value_is_not_printed():
    assert number(Decimal("12.9"), "11.9") == "12.9"
    assert number(Decimal("12.9"), "twelve nine") == "12.9"
    assert number(Decimal("0.5"), "1/0") == "0.5"


def test_a_negative_value_has_a_minus_sign():
    assert number(Decimal("-5"), "-5") == "\N{MINUS SIGN}5"
    assert number(Decimal("-5")) == "\N{MINUS SIGN}5"


def test_a_unit_unknown_to_the_table_is_printed_as_it_is():
    assert plain(figure(Decimal("4"), "clicks")) == "4 clicks"


@pytest.mark.parametrize(
    ("low", "high", "printed"),
    [
        ("8", "12", "8 thou to 12 thou (0.20 mm to 0.30 mm)"),
        ("8", None, "at least 8 thou (0.20 mm)"),
        (None, "12", "at most 12 thou (0.30 mm)"),
        ("10", "10", "10 thou (0.25 mm)"),
    ],
)
def test_limits_name_the_side_they_bound(low, high, printed):
    ends = {"low": low and Decimal(low), "high": high and Decimal(high)}
    assert plain(spec_figure(Spec(what="gap", unit="thou", as_said="", **ends))) == printed


@pytest.mark.parametrize(
    ("minutes", "printed"),
    [("78", "1 h 18 min"), ("120", "2 h"), ("40", "40 min"), ("7.5", "7.5 min")],
)
def test_labour_is_printed_in_hours_and_minutes(minutes, printed):
    assert plain(labour_time(Labour(minutes=Decimal(minutes), as_said=""))) == printed

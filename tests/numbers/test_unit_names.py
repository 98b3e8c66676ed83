"""Units beyond the workshop's table, held against pint's definitions and against NIST SP 811."""

from decimal import Decimal

import pint
import pytest
from outside import figures, tokens

from jobnotes.numbers.convert import convert
from jobnotes.numbers.unit_joins import unit_at
from jobnotes.numbers.unit_names import own_codes, units
from jobnotes.numbers.units import codes, measures, pint_name, same_dimension

# NIST SP 811 (2008), appendix B.8 (Btu: the international table one).
NIST = [
    ("mi", "m", "1609.344"),
    ("yd", "m", "0.9144"),
    ("nmi", "m", "1852"),
    ("kn", "m/s", "0.5144444"),
    ("Wh", "J", "3600"),
    ("kWh", "MJ", "3.6"),
    ("atm", "kPa", "101.325"),
    ("Torr", "Pa", "133.3224"),
    ("mmHg", "Pa", "133.3224"),
    ("ksi", "MPa", "6.894757"),
    ("lbf", "N", "4.448222"),
    ("kgf", "N", "9.80665"),
    ("kgf·m", "N.m", "9.80665"),
    ("kgf·cm", "N.m", "0.0980665"),
    ("ozf·in", "N.m", "0.007061552"),
    ("t", "kg", "1000"),
    ("ton", "kg", "907.1847"),
    ("long ton", "kg", "1016.047"),
    ("cup", "mL", "236.5882"),
    ("tbsp", "mL", "14.78676"),
    ("tsp", "mL", "4.928922"),
    ("Btu", "J", "1055.056"),
    ("kcal", "J", "4184"),
    ("ha", "m²", "10000"),
    ("ft²", "m²", "0.09290304"),
    ("in²", "mm²", "645.16"),
    ("ft³", "m³", "0.02831685"),
    ("gpm", "m³/s", "0.0000630902"),
    ("cfm", "m³/s", "0.0004719474"),
    ("mi/gal", "km/L", "0.4251437"),
    ("lb/ft³", "kg/m³", "16.01846"),
    ("N/mm²", "MPa", "1"),
    ("cP", "Pa·s", "0.001"),
    ("cSt", "St", "0.01"),
]


@pytest.mark.parametrize(("unit", "to", "factor"), NIST)
def test_a_factor_of_a_general_unit_agrees_with_nist(unit, to, factor):
    assert float(convert(Decimal(1), unit, to)) == pytest.approx(float(factor), rel=1e-6)


def spoken_words():
    """Give every general name of one word with its unit."""
    for unit in units().values():
        if unit.code not in own_codes():
            for name in (*unit.singular, *unit.plural):
                if name.isalpha():
                    yield name, unit.code


# Two names of ours that pint takes for something else: its ton is the short one only.
OTHERWISE = ("ton", "tons")


def test_a_name_means_the_unit_that_pint_knows_by_it():
    registry, wrong, known = pint.UnitRegistry(), [], 0
    for name, code in spoken_words():
        if name not in registry or name in OTHERWISE:
            continue
        known += 1
        ours = 1 * registry.Unit(pint_name(code))
        theirs = 1 * registry.Unit(name)
        if ours.dimensionality != theirs.dimensionality or ours.to(theirs).m != pytest.approx(1):
            wrong.append(name)
    assert (wrong, known > 200) == ([], True)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("3.4 m/s", "m/s"),
        ("60 km/h", "km/h"),
        ("twelve litres an hour", "L/h"),
        ("12 l/min", "L/min"),
        ("four gallons per minute", "gpm"),
        ("five psi per minute", "psi/min"),
        ("two degrees celsius per minute", "degC/min"),
        ("2.5 mm²", "mm²"),
        ("2.5 mm2", "mm²"),
        ("2.5 square millimetres", "mm²"),
        ("9.8 m/s²", "m/s²"),
        ("five metres per second squared", "m/s²"),
        ("thirty newtons per millimetre", "N/mm"),
        ("20 J/m^2 per year", "J/m²/a"),
        ("1500 mAh", "mAh"),
        ("3 kilowatt hours", "kWh"),
        ("470 µF", "uF"),
        ("10 kilohertz", "kHz"),
        ("5 millihenries", "mH"),
        ("250 lux", "lx"),
        ("forty pounds per square inch", "psi"),
        ("thirty ft/lbs", "ft.lbf"),
        ("5 MΩ", "Mohm"),
        ("5 mΩ", "mohm"),
        ("2 MW", "MW"),
    ],
)
def test_a_unit_as_it_is_said_or_written(said, code):
    (found,) = figures(said)
    assert found.units == (code,)


def test_an_area_is_never_taken_for_a_length():
    assert measures(figures("2.5 mm²")[0].units[0]) == "area"


def test_an_abbreviation_of_two_units_keeps_both():
    assert set(figures("two kb per second")[0].units) == {"kB/s", "kbit/s"}


def test_a_time_that_something_happened_ago_is_no_rate():
    assert figures("ten amps a minute ago")[0].units == ("A",)


def test_a_mile_off_is_no_figure():
    assert figures("it was a mile off") == ()


def test_an_afternoon_hour_is_no_length():
    assert [figure.role for figure in figures("back at 2 pm")] == ["clock"]


def test_a_closing_quotation_mark_is_no_inch():
    assert figures('the plate says "thirty five" on it')[0].units == ()


def test_feet_and_inches_by_their_marks_are_one_length():
    (found,) = figures("it is 5'10\" wide")
    assert (found.low.value, found.units) == (70, ("in",))


def test_rates_of_flow_convert_whatever_they_are_joined_of():
    assert same_dimension("gpm", "L/h")


def test_a_code_of_no_unit_is_refused():
    with pytest.raises(KeyError):
        measures("furlong")


def test_a_workshop_name_wins_over_a_general_one():
    assert unit_at(tokens("nm"), 0, after_figures=True).codes == ("N.m",)


def test_no_code_stands_twice():
    assert len(set(codes())) == len(codes())

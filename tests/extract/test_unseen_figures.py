"""Figures said in ways that leave out unit or quantity, or that measure nothing at all."""

from decimal import Decimal

import pytest
from heard import heard

from jobnotes.record import Reading, Spec


def told(*lines) -> list[tuple[str, str]]:
    return [(str(one.value), one.unit) for one in heard(Reading, *lines)]


def limits(*lines) -> list[tuple]:
    return [(one.low, one.high, one.unit) for one in heard(Spec, *lines)]


@pytest.mark.parametrize(
    "line",
    [
        "compression is one thirty psi, started this at twenty past eight",
        "compression is one thirty psi, it's now ten to four",
        "compression is one thirty psi, they rang back at half past two",
        "compression is one thirty psi, they came back at one fifteen",
    ],
)
def test_a_time_of_day_is_no_reading(line) -> None:
    assert told(line) == [("130", "psi")]


def test_a_year_is_no_reading() -> None:
    assert told("battery rests at twelve point four volts, bought in twenty twenty-one") == [
        ("12.4", "V")
    ]


def test_cold_cranking_amps_are_no_reading() -> None:
    assert told(
        "new battery, four eighty cold cranking amps, sits at twelve point eight volts"
    ) == [("12.8", "V")]


def test_a_grit_is_no_reading() -> None:
    assert told("dressed the seat with two twenty grit and then six hundred") == []


def test_money_in_pounds_is_no_reading() -> None:
    assert told("pressure is forty psi", "told her ninety-five pounds fifty") == [("40", "psi")]


def test_mil_is_millimetres_where_thou_is_said_as_well() -> None:
    assert told("runout is nine thou", "free play is three mil") == [("9", "thou"), ("3", "mm")]


def test_mil_of_oil_is_millilitres() -> None:
    assert told("drained ninety mil of oil from the gearbox") == [("90", "mL")]


def test_mil_is_flagged_where_nothing_tells() -> None:
    (one,) = heard(Reading, "end play is twelve mil")
    assert [flag.code for flag in one.flags] == ["unit-unclear"]


def test_a_spoken_decimal_comma_is_a_decimal_point() -> None:
    assert told("oil pressure is two comma four bar") == [("2.4", "bar")]


def test_a_bare_figure_too_big_for_its_neighbour_takes_no_unit_from_it() -> None:
    found = told(
        "output is one twenty volts line to line", "fifty-nine hertz, two forty line to line"
    )
    assert ("240", "Hz") not in found


def test_speeds_may_be_said_in_thousands() -> None:
    assert told("flat out is nine thousand two hundred rpm", "flat out eight nine now")[-1] == (
        "8900",
        "rpm",
    )


def test_a_unit_that_sounds_wrong_is_flagged() -> None:
    (one,) = heard(Reading, "winding resistance is four point two kilohems")
    assert (one.unit, [flag.code for flag in one.flags]) == ("kohm", ["unit-misheard"])


@pytest.mark.parametrize(
    ("line", "low", "high"),
    [
        ("idle is meant to be two thousand rpm, give or take fifty", "1950", "2050"),
        ("spec is two thousand rpm, fifty either way", "1950", "2050"),
        ("idle should be two thousand rpm, plus nothing minus one hundred", "1900", "2000"),
        ("idle is not supposed to go over two thousand rpm", None, "2000"),
        ("idle must never drop below eighteen hundred rpm", "1800", None),
        ("idle should be eighteen hundred rpm, two thousand at the outside", "1800", "2000"),
        ("idle, anything eighteen hundred to two thousand rpm's acceptable", "1800", "2000"),
        ("idle is nineteen hundred rpm, two thousand's all you're allowed", None, "2000"),
    ],
)
def test_limits_are_said_in_many_ways(line, low, high) -> None:
    expected = tuple(None if end is None else Decimal(end) for end in (low, high))
    assert [one[:2] for one in limits(line)] == [expected]


def test_the_limit_of_a_bore_is_the_most_allowed() -> None:
    assert limits("cylinder bore is sixty point one millimetres, limit sixty point two") == [
        (None, Decimal("60.2"), "mm")
    ]


def test_every_so_many_hours_is_no_spec() -> None:
    assert limits("they want to grease it every forty hours") == []


def test_a_range_that_was_seen_is_no_spec() -> None:
    assert limits("idle is hunting between fifteen and nineteen hundred rpm") == []


def test_a_denial_turns_the_side_of_a_limit_round() -> None:
    assert limits("voltage drop, nothing over point two volts is okay") == [
        (None, Decimal("0.2"), "V")
    ]

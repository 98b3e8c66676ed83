"""Numbers spelled by num2words (an outside library) and in the mixtures that recognisers write."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from num2words import num2words as spell
from outside import figures, tokens

from jobnotes.numbers.spoken import number_at

CARDINALS = st.integers(0, 10**12)


def spelled(value, **how):
    """Spell a number as it is spoken, without the commas of writing."""
    return spell(value, **how).replace(",", "")


def options(said):
    """Return every value of a number that takes up all that is said."""
    heard = tokens(said)
    number = number_at(heard, 0)
    assert number is not None
    assert number.stop == len(heard)
    return [option.value for option in number.options]


@given(CARDINALS)
def test_cardinals_up_to_a_trillion_are_read_back(value):
    assert options(spelled(value))[0] == value


@given(CARDINALS)
def test_commas_of_writing_between_the_groups_leave_the_number_whole(value):
    assert options(f"{value:,}")[0] == value


@given(st.integers(1, 10**12))
def test_negatives_are_read_back(value):
    assert options(spelled(-value))[0] == -value


@given(st.decimals("0", "999999", places=4))
def test_decimals_are_read_back(value):
    assert options(spelled(value))[0] == value


@given(st.integers(1100, 2099))
def test_years_are_read_back(value):
    assert value in options(spelled(value, to="year"))


@given(st.integers(1, 19), st.integers(3, 20))
def test_fractions_named_by_ordinals_are_read_back(top, bottom):
    assume(top % bottom)
    name = spelled(bottom, to="ordinal") + ("s" if top > 1 else "")
    (figure, *rest) = figures(f"{spelled(top)} {name} of it")
    assert not rest
    assert float(figure.low.value) == pytest.approx(float(Fraction(top, bottom)), abs=1e-6)


@given(st.integers(21, 99))
def test_ordinals_above_twenty_count_one_thing(value):
    said = spelled(value, to="ordinal").replace("-", " ")
    assume(value % 10 not in (0, 2))  # "thirtieth" is no number; "thirty second" may be a time
    assert [figure.role for figure in figures(f"the {said} bolt")] == ["name"]


@given(st.integers(1, 99), st.sampled_from(["hundred", "thousand", "million", "billion"]))
def test_figures_before_a_spoken_scale_are_multiplied(value, scale):
    times = {"hundred": 10**2, "thousand": 10**3, "million": 10**6, "billion": 10**9}
    assert options(f"{value} {scale}")[0] == value * times[scale]


@given(st.integers(1, 99), st.integers(1, 9), st.sampled_from(["thousand", "million"]))
def test_decimals_before_a_spoken_scale_are_multiplied(whole, part, scale):
    times = {"thousand": 10**3, "million": 10**6}[scale]
    assert options(f"{whole}.{part} {scale}")[0] == Decimal(f"{whole}.{part}") * times


@given(st.integers(0, 99), st.integers(0, 9))
def test_a_spoken_point_between_figures_is_a_decimal(whole, part):
    assert options(f"{whole} point {part}")[0] == Decimal(f"{whole}.{part}")


@given(st.integers(2, 9), st.integers(1, 9))
def test_a_tens_word_takes_the_figure_after_it(tens, unit):
    assert options(f"{spelled(tens * 10)} {unit}")[0] == tens * 10 + unit


@given(st.integers(1, 20), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_a_whole_number_joined_to_a_fraction_by_a_hyphen_is_one_number(whole, top, bottom):
    assume(top < bottom)
    (found,) = figures(f"{whole}-{top}/{bottom} in")
    assert found.low.value == pytest.approx(whole + Decimal(top) / Decimal(bottom), abs=1e-6)


@given(st.integers(1, 999))
def test_thousandths_in_figures_are_thou(value):
    for written in (f"{value},000ths of an inch", f"{value} thousandths"):
        (found,) = figures(written)
        assert (found.low.value, found.units) == (value, ("thou",))


@given(st.integers(1, 99), st.sampled_from([("V", "V"), ("psi", "psi"), ("kPa", "kPa")]))
def test_a_unit_written_onto_its_figures_is_read(value, unit):
    (found,) = figures(f"{value}{unit[0]}")
    assert (found.low.value, found.units) == (value, (unit[1],))


@given(st.decimals("0.001", "0.999", places=3))
def test_a_decimal_that_begins_with_its_point_is_read(value):
    assert options(f"{value}"[1:])[0] == value


@given(st.integers(1, 9), st.integers(1, 9), st.integers(1, 12))
def test_powers_of_ten_are_read_as_written(whole, part, power):
    for sign, scaled in (("-", -power), ("+", power)):
        value = Decimal(f"{whole}.{part}e{scaled}")
        assert options(f"{whole}.{part}e{sign}{power}")[0] == value


@given(st.integers(1, 9), st.integers(1, 9))
def test_powers_of_ten_are_read_as_spoken(value, power):
    said = f"{spelled(value)} times ten to the minus {spelled(power)}"
    assert options(said)[0] == Decimal(value).scaleb(-power)


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("5/16ths", "0.3125"),
        ("013", "13"),
        ("10 000", "10000"),
        ("two dozen", "24"),
        ("half a dozen", "6"),
        ("two and a half million", "2500000"),
        ("a thousand million", "1000000000"),
        ("twelve dot five", "12.5"),
        ("three halves", "1.5"),
        ("two thousand and six hundred and one", "2601"),
    ],
)
def test_mixtures_that_are_sure(said, value):
    assert options(said) == [Decimal(value)]


@pytest.mark.parametrize(
    ("said", "values"),
    [
        ("a million and a half", ["1500000", "1000000.5"]),
        ("two thousand thousand", ["2000", "2000000"]),
        ("two thousand six fifty", ["2650", "2006"]),
        ("12 500", ["12500", "500"]),
        ("five ten thousandths", ["0.5", "510"]),
    ],
)
def test_mixtures_that_keep_both_readings(said, values):
    assert options(said) == [Decimal(value) for value in values]


@pytest.mark.parametrize("said", ["a few hundred psi", "several thousand", "nil", "the 1960s"])
def test_words_that_tell_no_number(said):
    assert figures(said) == ()


def test_nil_before_a_unit_is_nought():
    assert figures("nil volts")[0].low.value == 0


def test_a_couple_is_no_measurement():
    assert figures("a couple of volts")[0].role == "vague"


def test_tenths_of_a_thou_are_a_part_of_one():
    (found,) = figures("three tenths of a thou")
    assert (found.low.value, found.units) == (Decimal("0.3"), ("thou",))


def test_scales_out_of_order_are_two_numbers():
    assert [figure.low.value for figure in figures("two thousand two million")] == [2000, 2000000]

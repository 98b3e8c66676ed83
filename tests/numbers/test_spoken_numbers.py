"""Spoken numbers, checked against num2words (an outside library) over wide ranges."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words as spell

from jobnotes.numbers.spoken import number_at
from jobnotes.numbers.tokens import split


def num2words(value):
    """Spell a number as it is spoken, without the commas of writing."""
    return spell(value).replace(",", "")


def tokens(said):
    return [token for word in said.split() for token in split(word)]


def options(said):
    """Return every value of a number that takes up all that is said."""
    number = number_at(tokens(said), 0)
    assert number is not None
    assert number.stop == len(tokens(said))
    return [option.value for option in number.options]


def as_said(said):
    return number_at(tokens(said), 0).options[0].as_said


@given(st.integers(0, 999_999_999))
def test_every_cardinal_of_num2words_is_read_back(value):
    assert options(num2words(value))[0] == value


@given(st.integers(0, 999_999_999))
def test_and_may_be_left_out_of_a_cardinal(value):
    assert options(num2words(value).replace(" and ", " "))[0] == value


@given(st.integers(0, 9999), st.integers(0, 9999), st.integers(1, 4))
def test_decimals_spoken_digit_by_digit_are_read_back(whole, part, width):
    digits = str(part).zfill(4)[:width]
    spoken = " ".join(num2words(int(digit)) for digit in digits)
    value = options(f"{num2words(whole)} point {spoken}")[0]
    assert value == Decimal(f"{whole}.{digits}")


@given(st.integers(0, 999_999), st.integers(0, 9999))
def test_figures_with_thousands_and_decimals_are_read_as_written(whole, part):
    assert options(f"{whole:,}.{part:04}")[0] == Decimal(f"{whole}.{part:04}")


@given(st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_written_fractions_keep_their_exact_value(top, bottom):
    assert Fraction(options(f"{top}/{bottom}")[0]) == Fraction(top, bottom)


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("nought point three", "0.3"),
        ("point oh one two", "0.012"),
        ("oh point five", "0.5"),
        ("twelve point twenty-five", "12.25"),
        ("point oh twenty-five", "0.025"),
        ("one oh five", "105"),
        ("thirty-two hundred", "3200"),
        ("a hundred and ten", "110"),
        ("hundred and ten", "110"),
        ("three hundred and eighty-one point five", "381.5"),
        ("one twelve", "112"),
        ("twenty-four fifty", "2450"),
        ("thirteen nine", "13.9"),
        ("twelve six two", "12.62"),
        ("three four five oh", "3450"),
        ("thirteen and a half thousand", "13500"),
        ("two and a half", "2.5"),
        ("three and five eighths", "3.625"),
        ("an eighth", "0.125"),
        ("nineteen thirty-seconds", "0.59375"),
        ("nine sixty-fourths", "0.140625"),
        ("five tenths", "0.5"),
        ("minus eleven", "-11"),
        ("12 hundred", "1200"),
        ("1 1/2", "1.5"),
        ("7 16ths", "0.4375"),
        ("10,000ths", "10"),
    ],
)
def test_workshop_ways_of_saying_a_number(said, value):
    assert options(said)[0] == Decimal(value)


# ICAO Annex 10 volume II, 5.2.1.4.3: spoken figures "tree", "fower", "fife", "niner".
def test_radiotelephony_figures_are_read_as_digits():
    assert options("tree fower fife niner")[0] == 3459


def test_shorthand_keeps_the_other_reading():
    assert options("twelve oh five") == [Decimal("1205"), Decimal("12.05")]


def test_a_comma_after_thousand_leaves_two_options():
    assert options("three thousand, two hundred") == [3200, 200]


def test_a_figure_before_a_decimal_may_only_name_the_piece():
    assert options("five six point three") == [Decimal("56.3"), Decimal("6.3")]


def test_and_joins_two_numbers_where_the_second_is_one_of_its_own():
    said = tokens("a hundred and one fifty")
    assert number_at(said, 0).value == 100


def test_a_said_nought_at_the_end_is_kept():
    assert str(options("three point oh")[0]) == "3.0"


@pytest.mark.parametrize(
    ("said", "printed"),
    [("three eighths", "3/8"), ("two thousand five hundred", "2,500"), ("two and a half", "2 1/2")],
)
def test_a_number_is_printed_as_it_was_said(said, printed):
    assert as_said(said) == printed


@pytest.mark.parametrize("said", ["oh , five", "at", "a bolt", "."])
def test_words_that_begin_no_number(said):
    assert number_at(tokens(said), 0) is None


def test_at_that_point_is_no_decimal():
    said = tokens("at that point two of them")
    assert number_at(said, 2) is None


@given(st.text(max_size=30))
def test_no_text_breaks_the_grammar(said):
    heard = tokens(said)
    for place in range(len(heard)):
        number = number_at(heard, place)
        assert number is None or place < number.stop <= len(heard)


@given(
    st.lists(
        st.sampled_from(
            ["9", "99", "999,999", "point", "hundred", "thousand", "million", "and", "oh"]
        )
    )
)
def test_no_run_of_number_words_breaks_the_grammar(heard):
    for place in range(len(heard)):
        number = number_at(heard, place)
        assert number is None or number.stop > place


def test_eighths_are_read_as_recognisers_misspell_them():
    number = number_at(tokens("three eights of an inch"), 0)
    assert number is not None
    assert number.value == Decimal("0.375")


def test_eights_without_an_inch_are_no_fraction():
    number = number_at(tokens("three eights"), 0)
    assert number is None or number.value != Decimal("0.375")

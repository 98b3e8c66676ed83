from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from num2words import num2words as spell

from jobnotes.numbers.quantities import quantities
from jobnotes.numbers.tokens import split


def num2words(value):
    """Spell a number as it is spoken, without the commas of writing."""
    return spell(value).replace(",", "")


def found(said):
    return quantities([token for word in said.split() for token in split(word)])


def only(said):
    figures = found(said)
    assert len(figures) == 1
    return figures[0]


@given(st.integers(2, 9000), st.sampled_from([("volts", "V"), ("psi", "psi"), ("thou", "thou")]))
def test_a_number_takes_the_unit_that_follows_it(value, unit):
    figure = only(f"it reads {num2words(value)} {unit[0]} now")
    assert (figure.low.value, figure.units) == (value, (unit[1],))


@given(st.integers(2, 900), st.integers(1, 900))
def test_a_range_keeps_both_ends_and_shares_the_unit(low, more):
    assume((low + more) % 100 or low >= 10)  # "two to four hundred" begins at two hundred
    figure = only(f"{num2words(low)} to {num2words(low + more)} psi")
    assert (figure.low.value, figure.high.value) == (low, low + more)
    assert figure.units == ("psi",)


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        ("sixty-eight to seventy-two hundred", "6800", "7200"),
        ("one thirty to fifty", "130", "150"),
        ("three to five sixteenths of an inch", "0.1875", "0.3125"),
        ("between a quarter and three eighths", "0.25", "0.375"),
        ("thirty-six hundred plus or minus fifty", "3550", "3650"),
        ("three hundred plus or minus ten percent", "270", "330"),
        ("8 to 12000ths", "8", "12"),
    ],
)
def test_ranges_as_they_are_said(said, low, high):
    figure = only(said)
    assert (figure.low.value, figure.high.value) == (Decimal(low), Decimal(high))
    assert figure.bound == "range"


@pytest.mark.parametrize(
    ("said", "bound"),
    [
        ("at least forty", "least"),
        ("nine or better", "least"),
        ("no more than two hundred", "most"),
        ("four or less", "most"),
        ("under a hundred", "under"),
        ("over three", "over"),
    ],
)
def test_one_sided_bounds(said, bound):
    assert only(said).bound == bound


@pytest.mark.parametrize(
    ("said", "value", "unit"),
    [
        ("an hour and a quarter", "1.25", "h"),
        ("an hour ten", "70", "min"),
        ("three hours and ten minutes", "190", "min"),
        ("hour and three quarters", "1.75", "h"),
        ("half an hour", "0.5", "h"),
        ("a quart and a half", "1.5", "qt"),
        ("six foot two inches", "74", "in"),
        ("half a gallon", "0.5", "gal"),
        ("two tenths of a volt", "0.2", "V"),
        ("forty-five hundredths of a millimetre", "0.45", "mm"),
        ("thirty thousandths of an inch", "30", "thou"),
        ("10,000ths of an inch", "10", "thou"),
        ("a sixteenth of an inch", "0.0625", "in"),
    ],
)
def test_units_said_in_pieces(said, value, unit):
    figure = only(said)
    assert (figure.low.value, figure.units) == (Decimal(value), (unit,))


@pytest.mark.parametrize(
    ("said", "role"),
    [
        ("thirty-one dollars", "price"),
        ("$40", "price"),
        ("three years old", "age"),
        ("ten o'clock", "clock"),
        ("at 2:30", "clock"),
        ("thirty times", "times"),
        ("fifty to one with oil", "ratio"),
        ("fifty-odd of those", "vague"),
        ("cylinder two", "name"),
        ("five five five oh one four two", "phone"),
    ],
)
def test_figures_that_measure_nothing_are_marked(said, role):
    assert only(said).role == role


def test_a_name_takes_one_figure_and_leaves_the_rest():
    name, figure = found("number two one forty")
    assert (name.role, name.low.value) == ("name", 2)
    assert figure.low.value == 140


def test_a_count_of_pieces_is_no_end_of_a_range():
    values = [figure.low.value for figure in found("torqued all five to ninety inch pounds")]
    assert values == [5, 90]


def test_one_of_them_is_no_figure():
    assert found("one of them and the short one") == ()


def test_a_change_is_told_from_a_range():
    assert only("went from ten to fourteen thou").change


@given(st.lists(st.text(min_size=1, max_size=6), max_size=12))
def test_figures_never_overlap_whatever_is_said(words):
    tokens = [token for word in words for token in split(word)]
    stop = 0
    for figure in quantities(tokens):
        assert stop <= figure.low.start < figure.stop <= len(tokens)
        stop = figure.stop


NUMBER_WORDS = [
    "ten",
    "to",
    "and",
    "a",
    "half",
    "point",
    "oh",
    "volts",
    "inch",
    "hundred",
    "five",
    "or",
    "less",
    "-",
    "not",
    "under",
    "x",
    "of",
]


@given(st.lists(st.sampled_from(NUMBER_WORDS), max_size=14))
def test_no_run_of_number_words_breaks_the_reader(tokens):
    assert all(figure.low.start < figure.stop for figure in quantities(tokens))

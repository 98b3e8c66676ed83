import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from jobnotes.speech.figures import is_number, pieces, same_number


def tokens(text: str) -> list[str]:
    return [token for word in text.split() for token in pieces(word)]


@pytest.mark.parametrize(
    ("spoken", "written"),
    [
        ("eighteen hundred", "1,800"),
        ("thirty-seven fifty", "3750"),
        ("thirteen nine", "13.9"),
        ("one oh eight", "108"),
        ("point oh one two", "0.012"),
        ("nine point oh", "9.0"),
        ("two and a half", "2.5"),
        ("two and a half", "2 1/2"),
        ("three eighths", "3/8"),
        ("nine sixteenths", "9 16ths"),
        ("six thousandths", "6,000ths"),
        ("twenty-two thousandths", "2200ths"),
        ("three sixteenths", "316th"),
        ("an eighth", "1/8"),
        ("five eighths", "5, 8"),
        ("point one five", "point 1.5"),
        ("point oh five", "point 0.05"),
        ("forty thou", "40,000"),
        ("seven seven oh four one", "77041"),
        ("nine one seven dash two two", "917-22"),
        ("a hundred and ten", "a 110"),
        ("one hundred and four", "100 and 4"),
        ("twenty-two thou", "twenty-two"),
    ],
)
def test_spoken_and_written_are_the_same(spoken: str, written: str) -> None:
    assert same_number(*(_numbers(text) for text in (spoken, written)))


@pytest.mark.parametrize(
    ("spoken", "other"),
    [
        ("fifteen", "50"),
        ("thirty", "thirteen"),
        ("one oh eight", "1 8"),
        ("point three one five", "1.315"),
        ("three thousand", "3,000ths"),
        ("three hundred", "3,000"),
        ("twelve point four", "124.0"),
        ("eight", ""),
        ("five point eight", "5/8"),
        ("one point five", ".15"),
        ("three sixteenths", "313th"),
    ],
)
def test_different_numbers_are_told_apart(spoken: str, other: str) -> None:
    assert not same_number(*(_numbers(text) for text in (spoken, other)))


# num2words is the reference for how a number is spoken.
@given(st.integers(min_value=1, max_value=999_999))
def test_every_whole_number_is_the_same_in_words_and_figures(number: int) -> None:
    assert same_number(_numbers(num2words(number)), _numbers(f"{number:,}"))


@given(st.integers(min_value=0, max_value=99_999), st.integers(min_value=0, max_value=99_999))
def test_two_whole_numbers_are_the_same_only_if_they_are_equal(one: int, other: int) -> None:
    same = same_number(_numbers(num2words(one)), _numbers(str(other)))
    assert same == (one == other) or other == one * 1000


@given(st.decimals(min_value=0, max_value=99, places=2))
def test_decimals_are_the_same_in_words_and_figures(number: object) -> None:
    whole, part = str(number).split(".")
    spoken = f"{num2words(int(whole))} point {' '.join(num2words(int(d)) for d in part)}"
    assert same_number(_numbers(spoken), _numbers(str(number)))


@pytest.mark.parametrize(
    "text", ["oh that is bad", "at this point stop", "a new one's", "the 3rd and the second"]
)
def test_words_that_only_look_like_numbers_are_none(text: str) -> None:
    said = tokens(text)
    assert not [t for n, t in enumerate(said) if is_number(said, n) and t != "one"]


@given(st.text(max_size=40))
def test_any_text_can_be_taken_apart(text: str) -> None:
    said = tokens(text)
    assert same_number(said, said) or said


def _numbers(text: str) -> list[str]:
    said = tokens(text)
    return [token for n, token in enumerate(said) if is_number(said, n)]

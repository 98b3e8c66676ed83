"""Part numbers spelled aloud; the alphabet is that of ICAO Annex 10 volume II."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobnotes.numbers.part_numbers import part_number_at
from jobnotes.numbers.tokens import split

ALPHABET = [
    "alfa",
    "bravo",
    "charlie",
    "delta",
    "echo",
    "foxtrot",
    "golf",
    "hotel",
    "india",
    "juliett",
    "kilo",
    "lima",
    "mike",
    "november",
    "oscar",
    "papa",
    "quebec",
    "romeo",
    "sierra",
    "tango",
    "uniform",
    "victor",
    "whiskey",
    "x-ray",
    "yankee",
    "zulu",
]
FIGURES = ["zero", "one", "two", "tree", "fower", "fife", "six", "seven", "eight", "niner"]


def spelled(said):
    tokens = [token for word in said.split() for token in split(word)]
    return part_number_at(tokens, 0)


def test_every_letter_of_the_alphabet_is_known():
    letters = "".join(spelled(f"bravo {word} one two").text[1] for word in ALPHABET)
    assert letters == "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@given(
    st.lists(st.integers(0, 25), min_size=2, max_size=4),
    st.lists(st.integers(0, 9), min_size=3, max_size=6),
)
def test_letters_dash_figures_come_back_as_spelled(letters, figures):
    said = [*(ALPHABET[n] for n in letters), "dash", *(FIGURES[n] for n in figures)]
    text = "".join(ALPHABET[n][0].upper() for n in letters)
    assert spelled(" ".join(said)).text == f"{text}-{''.join(map(str, figures))}"


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("q x dash four four seven dash b", "QX-447-B"),
        ("q x four double seven", "QX477"),
        ("q x treble five", "QX555"),
        ("b as in boy, one two three", "B123"),
        ("w z, as in whiskey zulu, nine nine one", "WZ991"),
        ("w q dash one two dash l, that's l as in lima", "WQ-12-L"),
        ("letters w q, then three six, then double oh nine", "WQ36009"),
        ("w q seven, then a dash, one eight oh", "WQ7-180"),
        ("w q dash one twelve", "WQ-112"),
        ("h as in hotel, w, five hundred dash two", "HW500-2"),
        ("WQ-4471-C", "WQ-4471-C"),
        ("W Q -4471-C", "WQ-4471-C"),
        ("WQ4471C", "WQ4471C"),
        ("nine dash four four one six", "9-4416"),
    ],
)
def test_part_numbers_as_they_are_said_and_written(said, text):
    assert spelled(said).text == text


def test_figures_alone_need_a_cue():
    assert spelled("eight four one three").plain


def test_a_last_group_said_alone_is_marked():
    assert spelled("dash oh three").tail


def test_oh_after_a_letter_keeps_both_spellings():
    assert set(spelled("w o four four").options) == {"W044", "WO44"}


def test_oh_between_letters_is_a_letter():
    assert spelled("w o q dash one four").text == "WOQ-14"


@pytest.mark.parametrize(
    "said",
    [
        "v belt",
        "a hundred and five",
        "ten w thirty oil",
        "14 k",
        "12000ths",
        "b plus twelve",
        "golf cart",
        "x",
    ],
)
def test_words_that_spell_no_part_number(said):
    number = spelled(said)
    assert number is None or number.plain


def test_two_terminals_and_a_figure_are_no_part_number():
    assert part_number_at(["a", "to", "b", "thirty", "one"], 2) is None


@given(st.lists(st.text(min_size=1, max_size=5), max_size=10))
def test_no_text_breaks_the_speller(words):
    tokens = [token for word in words for token in split(word)]
    for place in range(len(tokens)):
        number = part_number_at(tokens, place)
        assert number is None or place < number.stop <= len(tokens)

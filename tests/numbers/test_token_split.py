import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobnotes.numbers.tokens import split


@pytest.mark.parametrize(
    ("word", "tokens"),
    [
        ("twenty-five", ["twenty", "five"]),
        ("12v", ["12", "v"]),
        ("12-volt", ["12", "volt"]),
        ("$30,000", ["$", "30,000"]),
        ("frequency's", ["frequency", "'s"]),
        ("it\u2019s", ["it", "'s"]),
        ("don't", ["don't"]),
        ("1-1/2", ["1", "1/2"]),
        ("2\u00bd", ["2", "1/2"]),
        ("2:30", ["2:30"]),
        ("3/8\u2033", ["3/8", '"']),
        ("20\u00b0C", ["20", "\u00b0", "c"]),
        ("12.4.", ["12.4", "."]),
        ("10,000ths", ["10,000ths"]),
        ("8-12", ["8", "-", "12"]),
        ("QX-447-B", ["qx", "-", "447", "-", "b"]),
        ("QX447B", ["qx447b"]),
        ("o-ring", ["o", "ring"]),
        ("+/-5", ["\u00b1", "5"]),
        ("", []),
    ],
)
def test_a_heard_word_becomes_these_tokens(word, tokens):
    assert split(word) == tokens


@given(st.text())
def test_any_text_gives_lowercase_tokens_without_blanks(word):
    for token in split(word):
        assert token
        assert token == token.lower()
        assert not token.isspace()


@given(st.text(alphabet=st.characters(codec=None), max_size=20))
def test_every_token_can_be_stored_as_utf8(word):
    joined = "".join(split(word))
    assert joined.encode("utf-8").decode("utf-8") == joined


@given(st.text(alphabet="abcxyz0123456789,.-/'", max_size=12))
def test_splitting_keeps_every_letter_and_digit(word):
    kept = "".join(c for token in split(word) for c in token if c.isalnum())
    assert kept == "".join(c for c in word if c.isalnum())

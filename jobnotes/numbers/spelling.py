"""The words of which part numbers are spelled: letters, their names, figures, marks."""

from dataclasses import dataclass
from functools import cache

from jobnotes.numbers.lexicon import table, words


@dataclass(frozen=True, slots=True)
class Piece:
    """A letter, a figure or a mark of a number, and the token at which it stops.

    `kind` is "letter", "figure" or "mark"; `spelled` tells that it cannot be a plain word;
    `doubtful` that it may be the letter O.
    """

    text: str
    kind: str
    stop: int
    spelled: bool = False
    doubtful: bool = False


@cache
def starters() -> frozenset[str]:
    """Return the words with which a number can begin."""
    found: set[str] = {"letters", "letter", "capital", "x"}
    for section in ("alphabet", "marks", "repeats"):
        found |= set(table("codes.toml")[section])
    for section in ("digits", "teens", "tens"):
        found |= set(words(section))
    return frozenset(found)


@cache
def named(section: str) -> dict[str, str]:
    """Return what the words of a section of codes.toml stand for."""
    return dict(table("codes.toml")[section])


def is_letter(token: str) -> bool:
    """Tell a single letter."""
    return len(token) == 1 and token.isascii() and token.isalpha()


def is_code_like(token: str) -> bool:
    """Tell a letter or a word for a figure."""
    return is_letter(token) or token in starters() or token in words("teens")

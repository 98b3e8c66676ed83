"""Units that a recogniser wrote as words that are none: found by their sound."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from rapidfuzz import process
from rapidfuzz.distance import JaroWinkler

from jobnotes.extract.lexicon import Tag, tag_of
from jobnotes.extract.vocabulary import rules
from jobnotes.numbers.lexicon import table
from jobnotes.numbers.quantity import Quantity
from jobnotes.numbers.unit_joins import unit_at

SHORTEST = 5  # letters; shorter words are too like too many units
ALIKE = 0.86  # likeness, the first letters counting most; common practice, no source


def by_sound(tokens: Sequence[str], quantity: Quantity) -> tuple[str, Quantity]:
    """Give a bare figure the unit that the unknown word after it sounds like.

    Returns the word, or nothing when there is none, and the quantity.
    """
    at = quantity.stop
    if quantity.units or quantity.role or at >= len(tokens) or not _is_unknown(tokens[at]):
        return "", quantity
    units = _sounds_like(tokens[at])
    if not units:
        return "", quantity
    return tokens[at], replace(quantity, units=units, stop=at + 1)


def _is_unknown(token: str) -> bool:
    if len(token) < SHORTEST or not token.isalpha() or tag_of(token) != Tag.UNKNOWN:
        return False
    return token not in rules("measures")["filler"]["words"]


@cache
def _sounds_like(word: str) -> tuple[str, ...]:
    found = process.extractOne(
        word, _unit_words(), scorer=JaroWinkler.similarity, score_cutoff=ALIKE
    )
    unit = unit_at((found[0],), 0) if found is not None else None
    return unit.codes if unit is not None else ()


@cache
def _unit_words() -> tuple[str, ...]:
    names = [name for unit in table("units.toml")["unit"] for name in unit["one"] + unit["many"]]
    return tuple(name for name in names if name.isalpha() and len(name) >= SHORTEST)

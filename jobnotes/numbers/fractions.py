"""Fractions as they are said: "a quarter", "three sixteenths", "five sixty-fourths", "3 8ths"."""

import re
from collections.abc import Sequence

from jobnotes.numbers.chunks import small
from jobnotes.numbers.lexicon import words
from jobnotes.numbers.number import Number, ratio

_NTHS = re.compile(r"([1-9][0-9]*)(?:ths?|nds?)$")
_BARE_DENOMINATORS = frozenset({"half", "quarter", "eighth", "sixteenth"})
_ARTICLE_DENOMINATORS = _BARE_DENOMINATORS | {"third", "tenth", "hundredth"}
_BY_TEN = (10, 100)
_AFTER_FRACTION = frozenset({"of", "to", "inch", "over", "under"})  # not "a thirty-second wait"


def fraction_at(tokens: Sequence[str], at: int) -> Number | None:
    """Return the fraction that begins at token `at`, or None; one above 1 needs its plural."""
    token = tokens[at]
    if token in _BARE_DENOMINATORS and _bare_fraction(tokens, at):
        return Number(at, at + 1, (ratio(1, words("fractions")[token]),))
    if token in ("a", "an") and at + 1 < len(tokens):
        return _article_fraction(tokens, at)
    top = small(tokens, at)
    if top is None or top.value == 0:
        return None
    bottom = denominator(tokens, top.stop)
    if bottom is None or not _is_said(tokens, top.value, bottom):
        return None
    return Number(at, bottom[1], (ratio(top.value, bottom[0]),))


def _is_said(tokens: Sequence[str], top: int, bottom: tuple[int, int]) -> bool:
    """Tell "three halves" and "nine eighths" from "twenty fifth" and "eight eighth"."""
    if top < bottom[0] or bottom[0] in _BY_TEN:
        return True
    return tokens[bottom[1] - 1].endswith("s") and top % bottom[0] != 0


def _bare_fraction(tokens: Sequence[str], at: int) -> bool:
    if tokens[at] in ("half", "quarter"):
        return True
    return at + 1 < len(tokens) and tokens[at + 1] in ("inch", "of")


def _article_fraction(tokens: Sequence[str], at: int) -> Number | None:
    word = tokens[at + 1]
    long = denominator(tokens, at + 1) if word in _long_fractions() else None
    if long is not None and tokens[long[1] : long[1] + 1] and tokens[long[1]] in _AFTER_FRACTION:
        return Number(at, long[1], (ratio(1, long[0]),))
    bottom = words("fractions").get(word)
    of_follows = at + 2 < len(tokens) and tokens[at + 2] == "of"
    if bottom is None or not (word in _ARTICLE_DENOMINATORS or of_follows):
        return None
    return Number(at, at + 2, (ratio(1, bottom),))


def denominator(tokens: Sequence[str], at: int) -> tuple[int, int] | None:
    """Return the denominator named at token `at` and where its words stop, or None."""
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token in words("fractions"):
        return words("fractions")[token], at + 1
    if token in words("misspelt_fractions") and _inch_follows(tokens, at + 1):
        return words("misspelt_fractions")[token], at + 1
    if found := _NTHS.match(token):
        bottom = int(found[1])
        return (bottom, at + 1) if bottom in (4, 8, 16, 32, 64) else None
    long = _long_fractions().get(token, {})
    if at + 1 < len(tokens) and tokens[at + 1] in long:
        return long[tokens[at + 1]], at + 2
    return None


def _inch_follows(tokens: Sequence[str], at: int) -> bool:
    after = tuple(tokens[at : at + 3])
    return after[:1] in (("inch",), ("inches",)) or after == ("of", "an", "inch")


def _long_fractions() -> dict[str, dict[str, int]]:
    from_table: dict[str, dict[str, int]] = words("long_fractions")  # type: ignore[assignment]
    return from_table

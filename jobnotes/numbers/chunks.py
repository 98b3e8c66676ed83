"""Runs of tokens below one hundred said in one go, and the scales that may follow them."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from jobnotes.numbers.lexicon import words


@dataclass(frozen=True, slots=True)
class Chunk:
    """A run below one hundred: "four", "oh", "twelve", "thirty one"; `width` counts its digits."""

    value: int
    width: int
    stop: int

    @property
    def text(self) -> str:
        """Return the value in figures."""
        return str(self.value)


def small(tokens: Sequence[str], at: int) -> Chunk | None:
    """Return the run below one hundred that begins at token `at`, spoken or in figures."""
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token in words("digits"):
        return Chunk(words("digits")[token], 1, at + 1)
    if token in words("teens"):
        return Chunk(words("teens")[token], 2, at + 1)
    if token in words("tens"):
        unit = _unit_after_tens(tokens, at + 1)
        return Chunk(words("tens")[token] + unit, 2, at + 1 + (unit > 0))
    if len(token) <= 2 and token in _figures():
        return Chunk(int(token), len(token), at + 1)
    return None


def _unit_after_tens(tokens: Sequence[str], at: int) -> int:
    """Return the unit of "twenty five" or, as some recognisers write it, "twenty 5"; else 0."""
    if at >= len(tokens):
        return 0
    figure = len(tokens[at]) == 1 and tokens[at] in _figures()
    return int(tokens[at]) if figure else words("digits").get(tokens[at], 0)


@cache
def _figures() -> frozenset[str]:
    return frozenset(str(value) for value in range(100))


def scale_at(tokens: Sequence[str], at: int) -> int:
    """Return the scale that token `at` names ("hundred", "thousand", "million"), or 0."""
    return words("scales").get(tokens[at], 0) if at < len(tokens) else 0

"""Spoken figures in dictated text, written as the facts that hold them are printed."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobnotes.numbers.part_numbers import part_number_at
from jobnotes.numbers.quantities import quantities
from jobnotes.numbers.quantity import Quantity
from jobnotes.numbers.tokens import split
from jobnotes.numbers.unit_joins import unit_at
from jobnotes.record import Part, Reading, Spec
from jobnotes.report.figures import number, with_unit

Figure = Reading | Spec
Known = Figure | Part


@dataclass(frozen=True)
class _Written:
    """Tokens start to stop (stop excluded) in figures, and the fact that holds them."""

    start: int
    stop: int
    text: str
    fact: str


def in_figures(text: str, known: Sequence[Known]) -> tuple[str, tuple[str, ...]]:
    """Return text in which "nought point five bar" is "0.5 bar" where a known fact holds it.

    So is a part number that was spelled. Beside it the ids of those facts. All other numbers stay
    in the words that were said: what they count is not known for sure.
    """
    words = text.split(" ")
    tokens = [(token, at) for at, word in enumerate(words) for token in split(word)]
    found = _apart([*_numbers(tokens, known), *_figures(tokens, known)] if known else [])
    used: list[str] = []
    for one in sorted(found, key=lambda one: -one.start):
        if _is_whole(one, tokens):
            first, last = tokens[one.start][1], tokens[one.stop - 1][1]
            words[first : last + 1] = [_within(words[first], one.text, words[last])]
            used.append(one.fact)
    return " ".join(words), tuple(filter(None, used))


def _apart(found: Sequence[_Written]) -> list[_Written]:
    """Leave out what shares a word with one found earlier."""
    kept: list[_Written] = []
    for one in found:
        if not any(one.start < other.stop and other.start < one.stop for other in kept):
            kept.append(one)
    return kept


def _figures(tokens: Sequence[tuple[str, int]], known: Sequence[Known]) -> Iterator[_Written]:
    """Find the spoken figures that a reading or a spec holds."""
    plain = [token for token, _ in tokens]
    held = [fact for fact in known if not isinstance(fact, Part)]
    for quantity in quantities(plain):
        fact = _held(quantity, held)
        if fact:
            told = _told(quantity, plain, fact.unit)
            yield _Written(quantity.start, quantity.stop, told, fact.id)


def _numbers(tokens: Sequence[tuple[str, int]], known: Sequence[Known]) -> Iterator[_Written]:
    """Find the part numbers that were spelled and that a part has."""
    plain = [token for token, _ in tokens]
    numbers = {fact.number: fact.id for fact in known if isinstance(fact, Part) and fact.number}
    for at in range(len(plain)) if numbers else ():
        spelled = part_number_at(plain, at)
        if spelled and spelled.text in numbers:
            yield _Written(at, spelled.stop, spelled.text, numbers[spelled.text])


def _is_whole(one: _Written, tokens: Sequence[tuple[str, int]]) -> bool:
    """Say whether a figure begins and ends with a word, so that no other word is lost."""
    first, last = tokens[one.start][1], tokens[one.stop - 1][1]
    outside = (*tokens[: one.start], *tokens[one.stop :])
    return not any(at in (first, last) and token.isalnum() for token, at in outside)


def _within(first: str, told: str, last: str) -> str:
    """Put a figure between the marks that stood around its words."""
    opened = re.match(r"[^\w.-]*", first)
    closed = re.search(r"[^\w%]*$", last)
    return f"{opened[0] if opened else ''}{told}{closed[0] if closed else ''}"


def _held(quantity: Quantity, known: Sequence[Figure]) -> Figure | None:
    """Return the fact that holds a spoken figure, nothing where it is no measured one."""
    if quantity.role or quantity.is_range:
        return None
    value, units = quantity.low.value, quantity.units
    return next((fact for fact in known if _holds(fact, value, units)), None)


def _holds(fact: Figure, value: Decimal, units: Sequence[str]) -> bool:
    held = (fact.value,) if isinstance(fact, Reading) else (fact.low, fact.high)
    return value in held and (not units or fact.unit in units)


def _told(quantity: Quantity, tokens: Sequence[str], unit: str) -> str:
    """Return a figure as printed, with its unit unless another word of the text says that."""
    written = number(quantity.low.value, quantity.low.options[0].as_said)
    bare = not quantity.units and _says_unit(tokens, unit)
    return written if bare else with_unit(written, unit)


def _says_unit(tokens: Sequence[str], unit: str) -> bool:
    named = [unit_at(tokens, at) for at in range(len(tokens))]
    return any(unit in one.codes for one in named if one)

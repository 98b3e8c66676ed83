"""Spoken figures in dictated text, written as the facts that hold them are printed."""

import re
from collections.abc import Sequence
from decimal import Decimal

from jobnotes.numbers.quantities import quantities
from jobnotes.numbers.quantity import Quantity
from jobnotes.numbers.tokens import split
from jobnotes.numbers.unit_joins import unit_at
from jobnotes.record import Reading, Spec
from jobnotes.report.figures import number, with_unit

Figure = Reading | Spec


def in_figures(text: str, known: Sequence[Figure]) -> tuple[str, tuple[str, ...]]:
    """Return text in which "nought point five bar" is "0.5 bar" where a known fact holds it.

    Beside it the ids of those facts. All other numbers stay in the words that were said: what they
    count is not known for sure.
    """
    used: list[str] = []
    words = text.split(" ")
    tokens = [(token, at) for at, word in enumerate(words) for token in split(word)]
    for quantity in reversed(quantities([token for token, _ in tokens])):
        fact = _held(quantity, known)
        if fact and _is_whole(quantity, tokens):
            told = _told(quantity, [token for token, _ in tokens], fact.unit)
            first, last = tokens[quantity.start][1], tokens[quantity.stop - 1][1]
            words[first : last + 1] = [_within(words[first], told, words[last])]
            used.append(fact.id)
    return " ".join(words), tuple(filter(None, used))


def _is_whole(quantity: Quantity, tokens: Sequence[tuple[str, int]]) -> bool:
    """Say whether a figure begins and ends with a word, so that no other word is lost."""
    first, last = tokens[quantity.start][1], tokens[quantity.stop - 1][1]
    outside = (*tokens[: quantity.start], *tokens[quantity.stop :])
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

"""A number as heard: the tokens that hold it and every value that they can stand for."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Form = Literal[
    "plain",
    "decimal",
    "fraction",
    "hundreds",
    "shorthand",
    "digits",
    "thousandths",
    "clock",
    "thousands",
    "comma",
    "grouped",
]


@dataclass(frozen=True, slots=True)
class Spoken:
    """One way to understand a number: its value, how it is printed, and how it was put."""

    value: Decimal
    as_said: str
    form: Form


@dataclass(frozen=True, slots=True)
class Number:
    """Tokens start to stop (stop excluded) hold one number; the likeliest option comes first."""

    start: int
    stop: int
    options: tuple[Spoken, ...]

    @property
    def value(self) -> Decimal:
        """Return the likeliest value."""
        return self.options[0].value

    @property
    def form(self) -> Form:
        """Return how the likeliest option was put."""
        return self.options[0].form


def plain(value: Decimal | int, form: Form = "plain") -> Spoken:
    """Return a value printed with thousands separated and the decimals that were said."""
    exact = Decimal(value)
    return Spoken(exact, f"{exact:,f}", form)


def ratio(top: int, bottom: int) -> Spoken:
    """Return a fraction to six places, printed as one; tenths and hundredths are decimals."""
    value = (Decimal(top) / Decimal(bottom)).quantize(Decimal("1e-6")).normalize()
    if bottom in (10, 100):
        return plain(value, "decimal")
    return Spoken(value, f"{top}/{bottom}", "fraction")

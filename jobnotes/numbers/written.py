"""Figures as recognisers and keyboards write them: one number in one token."""

import re
from collections.abc import Callable
from decimal import Decimal

from jobnotes.numbers.number import Spoken, plain, ratio

INTEGER = re.compile(r"(?:[0-9]{1,15}|[0-9]{1,3}(?:,[0-9]{3}){1,4})$")
_DECIMAL = re.compile(r"(?:[0-9]{0,15}|[0-9]{1,3}(?:,[0-9]{3}){1,4})\.[0-9]{1,12}$")
FRACTION = re.compile(r"([0-9]{1,4})/([1-9][0-9]{0,3})$")
_THOUSANDTHS = re.compile(r"([1-9][0-9]{0,2}),?000ths?$")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})$")
_POWER = re.compile(r"(?:[0-9]{0,9}\.[0-9]{1,9}e[-+]?|[0-9]{1,9}e[-+])[0-9]{1,2}$")
_COMMA = re.compile(r"([0-9]{1,3}(?:\.[0-9]{3})*),([0-9]{1,8})$")


def written(token: str) -> Spoken | None:
    """Return the number that one token of figures holds, or None.

    Reads "1,250", "12.60", ".010", "5/16", "10,000ths", "2:30", "1e-3" and, with a comma for
    the decimal point, "12,5" and "1.234,5".
    """
    for pattern, read in _READERS:
        if found := pattern.match(token):
            return read(found)
    return None


def _thousandths(found: re.Match[str]) -> Spoken:
    return plain(int(found[1]), "thousandths")


def _clock(found: re.Match[str]) -> Spoken:
    return plain(int(found[1] + found[2]), "clock")


def _fraction(found: re.Match[str]) -> Spoken:
    return ratio(int(found[1]), int(found[2]))


def _decimal(found: re.Match[str]) -> Spoken:
    return plain(Decimal(found[0].replace(",", "")), "decimal")


def _whole(found: re.Match[str]) -> Spoken:
    return plain(Decimal(found[0].replace(",", "")))


def _power(found: re.Match[str]) -> Spoken:
    return Spoken(Decimal(found[0]), f"{Decimal(found[0]):f}", "decimal")


def _comma(found: re.Match[str]) -> Spoken:
    return plain(Decimal(found[1].replace(".", "") + "." + found[2]), "comma")


_READERS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Spoken]], ...] = (
    (INTEGER, _whole),
    (_DECIMAL, _decimal),
    (_THOUSANDTHS, _thousandths),
    (_CLOCK, _clock),
    (FRACTION, _fraction),
    (_POWER, _power),
    (_COMMA, _comma),
)

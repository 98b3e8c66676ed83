"""Figures in print: the value as said with its unit's symbol, and the converted one behind it."""

import re
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

from jobnotes.numbers.convert import convert
from jobnotes.record import Labour, Language, Reading, Spec
from jobnotes.report.english import rules
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.numerals import unit_space, unit_word, written

MINUS = "\N{MINUS SIGN}"
FRACTION_DIGITS = 3  # of a converted fraction: 3/16 has four decimals and is no finer for that


def reading_figure(reading: Reading, language: Language = "en") -> str:
    """Return a reading as printed: "75 ft·lbf (102 N·m)"."""
    return figure(reading.value, reading.unit, reading.as_said, language)


def figure(value: Decimal, unit: str, as_said: str = "", language: Language = "en") -> str:
    """Return a value with its unit as said, then converted where the unit table asks for it."""
    text = number(value, as_said, language)
    also = _also(value, unit, language, FRACTION_DIGITS if "/" in text else None)
    return with_unit(text, unit, language) + (f" ({also})" if also else "")


def _also(value: Decimal, unit: str, language: Language, most: int | None = None) -> str:
    """Return the converted value with its unit, or nothing where the unit table names none.

    It has at most so many digits that count.
    """
    other = rules("units")["also"].get(unit)
    if other is None:
        return ""
    changed = _to_precision(value, convert(value, unit, other), other, most)
    return with_unit(number(changed, language=language), other, language)


def spec_figure(spec: Spec, language: Language = "en") -> str:
    """Return limits in print: "8 thou to 12 thou (0.20 mm to 0.30 mm)", "at least 12.4 V"."""
    if spec.low is not None and spec.high is not None and spec.low != spec.high:
        return _range(spec.low, spec.high, spec.unit, language)
    end = spec.high if spec.low is None else spec.low
    if end is None:
        return ""
    text = figure(end, spec.unit, spec.as_said, language)
    bound = "at-most" if spec.low is None else "at-least" if spec.high is None else ""
    return say(language, bound, figure=text) if bound else text


def _range(low: Decimal, high: Decimal, unit: str, language: Language) -> str:
    said = [with_unit(number(end, language=language), unit, language) for end in (low, high)]
    if unit_word(unit, said[1], language):  # a word stands once, behind both
        said[0] = number(low, language=language)
    also = [text for text in (_also(end, unit, language) for end in (low, high)) if text]
    ends = [say(language, "range", low=pair[0], high=pair[1]) for pair in (said, also) if pair]
    return ends[0] + (f" ({ends[1]})" if also else "")


def number(value: Decimal, as_said: str = "", language: Language = "en") -> str:
    """Return a value in figures: as said where that is the same value, else all its digits."""
    return written(_number(value, as_said), language)


def _number(value: Decimal, as_said: str) -> str:
    said = (
        as_said.strip().replace("-", MINUS, 1)
        if as_said.strip().startswith("-")
        else as_said.strip()
    )
    if said and _value_of(as_said) == Fraction(value):
        return said
    return f"{value:,f}".replace("-", MINUS)


def _value_of(text: str) -> Fraction | None:
    """Return the value of a printed figure ("2,500", "1 1/2", "3/8", "-5"), None if it is none."""
    plain = text.strip().replace(",", "").replace(MINUS, "-")
    match = re.fullmatch(r"(-?)(?:(\d+(?:\.\d+)?)|(?:(\d+)[ -])?(\d+)/([1-9]\d*))", plain, re.ASCII)
    if match is None:
        return None
    sign, decimal, whole, top, bottom = match.groups()
    size = Fraction(decimal) if decimal else int(whole or 0) + Fraction(int(top), int(bottom))
    return -size if sign else size


def with_unit(figures: str, unit: str, language: Language = "en") -> str:
    """Put the unit's symbol behind figures, with the space that NIST SP 811, 7.2, asks for."""
    symbol = unit_word(unit, figures, language) or _symbol(unit)
    space = "" if unit in rules("units")["tight"]["units"] else unit_space(language)
    return f"{figures}{space}{symbol}" if symbol else figures


def _symbol(unit: str) -> str:
    """Return a unit's symbol; a joined one ("degC/min", "mm²") is put together from its parts."""
    symbols: dict[str, str] = rules("units")["symbols"]
    if unit in symbols:
        return symbols[unit]
    bare = [(part.rstrip("²³"), part) for part in unit.split("/")]
    return "/".join(symbols.get(code, code) + part[len(code) :] for code, part in bare)


def _to_precision(said: Decimal, changed: Decimal, unit: str, most: int | None) -> Decimal:
    """Round a converted value to the precision said, by the rule of NIST SP 811 appendix B.7.

    As many significant digits as were said, one more where the first digit has become smaller;
    never fewer than two. Temperatures keep the decimal places said.
    """
    if unit == "degC" or not changed or not said:
        places = max(0, -_exponent(said))
    else:
        smaller = _first_digit(changed) < _first_digit(said)
        digits = max(2, max(len(said.normalize().as_tuple().digits), _said_digits(said)) + smaller)
        places = min(digits, most or digits) - 1 - changed.adjusted()
    step = Decimal(1).scaleb(-places)
    return Decimal(f"{changed.quantize(step, ROUND_HALF_EVEN):f}")


def _said_digits(value: Decimal) -> int:
    """Count the digits said: zeros behind the point count, zeros that end a whole number do not."""
    return len(value.as_tuple().digits) if _exponent(value) < 0 else 0


def _exponent(value: Decimal) -> int:
    exponent = value.as_tuple().exponent
    return exponent if isinstance(exponent, int) else 0


def _first_digit(value: Decimal) -> int:
    return value.normalize().as_tuple().digits[0]


def labour_time(labour: Labour, language: Language = "en") -> str:
    """Return labour in hours and minutes ("1 h 18 min"), each figure from the minutes alone."""
    hours, minutes = divmod(labour.minutes.normalize(), 60)
    parts = [(hours, "h")] if hours else []
    parts += [(minutes, "min")] if minutes or not hours else []
    told = (with_unit(number(value, language=language), unit, language) for value, unit in parts)
    return " ".join(told)

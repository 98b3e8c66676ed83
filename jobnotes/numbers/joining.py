"""How two numbers join: ranges, tolerances, ratios, and what the second lends the first."""

from collections.abc import Sequence
from decimal import Decimal
from functools import cache

from jobnotes.numbers.lexicon import table, words
from jobnotes.numbers.number import Number, Spoken, plain
from jobnotes.numbers.phrases import Phrases


@cache
def _joins(name: str) -> Phrases:
    return Phrases(table("quantities.toml")["joins"][name])


def plus_minus(tokens: Sequence[str], at: int) -> int:
    """Return where the number after "plus or minus" begins, or 0 when `at` holds no such words."""
    end = _joins("plus_minus").end(tokens, at)
    return end if end > at else 0


def past_comma(tokens: Sequence[str], at: int, others: tuple[str, ...] = ()) -> int:
    """Return `at`, or the place after a comma (or one of the other words) that stands there."""
    return at + (at < len(tokens) and tokens[at] in (",", *others))


def between(tokens: Sequence[str], start: int, stop: int) -> int:
    """Return where the far end of a range begins after a first number, or 0 when there is none."""
    after_between = start > 0 and tokens[start - 1] in ("between", "betwixt")
    if stop < len(tokens) and after_between and tokens[stop] == "and":
        return stop + 1
    end = _joins("to").end(tokens, stop)
    return end if end > stop else 0


def is_ratio(low: Number, high: Number, has_unit: bool) -> bool:
    """Tell "fifty to one" from a range."""
    return not has_unit and high.value == 1 and low.value > 1


def joined_low(tokens: Sequence[str], low: Number, high: Number) -> Number:
    """Lend the low end what only the high end said: "hundred", "thousand" or its fraction."""
    factor = _scale_said(tokens, low, high) or _fraction_said(tokens, low, high)
    if factor is None:
        return low
    value = low.value * factor
    if factor >= 1:
        return Number(low.start, low.stop, (plain(value),))
    said = f"{low.options[0].as_said}/{int(1 / factor)}"
    return Number(low.start, low.stop, (Spoken(value, said, "fraction"),))


def _scale_said(tokens: Sequence[str], low: Number, high: Number) -> Decimal | None:
    scale = words("scales").get(tokens[high.stop - 1])
    own = words("scales").get(tokens[low.stop - 1])
    if scale is None or own is not None or not low.value * scale < high.value:
        return None
    if scale == 100 and low.value < 10 and low.value * 1000 < high.value:
        return Decimal(1000)  # "five to fifty-five hundred" begins at five thousand
    return Decimal(scale)


def _fraction_said(tokens: Sequence[str], low: Number, high: Number) -> Decimal | None:
    if not (low.form == "plain" and low.value >= high.value and high.value < 1):
        return None
    top = words("digits").get(tokens[high.start])
    return high.value / top if top and low.value < top else None


def joined_high(low: Number, high: Number) -> Number:
    """Lend the high end the hundreds of the low end: "one thirty to fifty" is 130 to 150."""
    if not (high.value < low.value and high.value < 100 and low.value >= 100):
        return high
    if low.value % 1 or high.value % 1:
        return high
    lifted = low.value - low.value % 100 + high.value
    if lifted <= low.value:
        return high
    return Number(high.start, high.stop, (plain(lifted), *high.options))

"""What multiplies a number already read: "dozen", "times ten to the minus three"."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache

from jobnotes.numbers.chunks import small
from jobnotes.numbers.lexicon import table, words
from jobnotes.numbers.number import Number, Spoken, plain
from jobnotes.numbers.phrases import Phrases


def set_at(tokens: Sequence[str], at: int) -> Number | None:
    """Return the number of "a dozen" or "a couple of", or None."""
    if tokens[at] != "a" or at + 1 >= len(tokens) or tokens[at + 1] not in words("sets"):
        return None
    return Number(at, _past_of(tokens, at + 2), (plain(words("sets")[tokens[at + 1]]),))


def _past_of(tokens: Sequence[str], at: int) -> int:
    return at + (at < len(tokens) and tokens[at] == "of")


def multiplied(tokens: Sequence[str], number: Number) -> Number:
    """Multiply by "dozen" ("two dozen", "half a dozen") or a power of ten that stands behind."""
    return _in_sets(tokens, number) or _by_power(tokens, number) or number


def _in_sets(tokens: Sequence[str], number: Number) -> Number | None:
    article = number.form == "fraction" and tokens[number.stop : number.stop + 1] == ["a"]
    at = number.stop + article
    if at >= len(tokens) or tokens[at] != "dozen":
        return None
    return _times(number, Decimal(words("sets")["dozen"]), at + 1)


def _times(number: Number, factor: Decimal, stop: int) -> Number:
    values = (option.value * factor for option in number.options)
    exact = (value.quantize(Decimal(1)) if value % 1 == 0 else value for value in values)
    return replace(number, stop=stop, options=tuple(plain(value) for value in exact))


def _by_power(tokens: Sequence[str], number: Number) -> Number | None:
    at = number.stop
    table_of = table("words.toml")["power_of_ten"]
    if at + 3 >= len(tokens) or tokens[at] not in table_of["times"]:
        return None
    exponent = _to_the().end(tokens, at + 2)
    if tokens[at + 1] not in ("10", "ten") or exponent == at + 2:
        return None
    down = exponent < len(tokens) and tokens[exponent] in ("minus", "negative", "-")
    power = small(tokens, exponent + down)
    if power is None:
        return None
    value = number.value.scaleb(-power.value if down else power.value)
    return replace(number, stop=power.stop, options=(Spoken(value, f"{value:f}", "decimal"),))


@cache
def _to_the() -> Phrases:
    return Phrases(table("words.toml")["power_of_ten"]["to_the"])

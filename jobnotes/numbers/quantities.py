"""Figures in a stretch of tokens: a number or a range with its unit, its bounds and its role."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache

from jobnotes.numbers.joining import (
    between,
    is_ratio,
    joined_high,
    joined_low,
    past_comma,
    plus_minus,
)
from jobnotes.numbers.lexicon import table, word_set, words
from jobnotes.numbers.naming_numbers import (
    after_name,
    clock_stop,
    is_numbered,
    is_pronoun,
    is_year,
)
from jobnotes.numbers.number import Number, Spoken, plain
from jobnotes.numbers.phrases import Phrases
from jobnotes.numbers.quantity import Bound, Quantity, Role
from jobnotes.numbers.spoken import number_at
from jobnotes.numbers.unit_joins import unit_at
from jobnotes.numbers.unit_names import own_codes
from jobnotes.numbers.units import UnitName, above, measures


def quantities(tokens: Sequence[str]) -> tuple[Quantity, ...]:
    """Return the figures of one utterance from left to right; none overlap."""
    found: list[Quantity] = []
    at = 0
    while at < len(tokens):
        quantity = quantity_at(tokens, at) if _may_start(tokens[at]) else None
        if quantity is None:
            at += 1
            continue
        found.append(quantity)
        at = quantity.stop
    return tuple(found)


def quantity_at(tokens: Sequence[str], at: int) -> Quantity | None:
    """Return the figure whose number begins exactly at token `at`, or None."""
    first = _one(tokens, at)
    if first is None:
        return None
    whole = _with_second(tokens, first)
    return _with_role(tokens, _with_bound(tokens, whole))


@cache
def _starters() -> frozenset[str]:
    sections = table("words.toml")
    found = {
        "a",
        "an",
        "nil",
        "minus",
        "negative",
        "-",
        "hour",
        "inch",
        *sections["point"]["words"],
    }
    for name in ("digits", "teens", "tens", "scales", "fractions"):
        found |= set(sections[name])
    return frozenset(found)


def _may_start(token: str) -> bool:
    return token in _starters() or token[0].isdigit() or (token[0] == "." and len(token) > 1)


# --- one number and its unit ---


def _one(tokens: Sequence[str], at: int) -> Quantity | None:
    if tokens[at] in ("a", "an", "hour", "inch"):
        alone = _unit_alone(tokens, at)
        if alone is not None:
            return alone
    number = after_name(tokens, at) or _nil(tokens, at) or number_at(tokens, at)
    if number is None or is_pronoun(tokens, number):
        return None
    bare = Quantity(at, number.stop, number, number)
    return _compound(tokens, _with_unit(tokens, bare))


def _nil(tokens: Sequence[str], at: int) -> Number | None:
    """Read the nought of "nil volts"; without a unit "nil" counts nothing."""
    if tokens[at] != "nil" or unit_at(tokens, at + 1) is None:
        return None
    return Number(at, at + 1, (plain(0),))


def _unit_alone(tokens: Sequence[str], at: int) -> Quantity | None:
    """Read "an hour", "a quart and a half", "hour and three quarters", "a thou"."""
    article = tokens[at] not in ("hour", "inch")
    unit = unit_at(tokens, at + article)
    if unit is None or not _is_one(unit):
        return None
    one = Number(at, at + article, (plain(1),))
    found = Quantity(at, unit.stop, one, one, unit.codes, unit.singular)
    whole = _compound(tokens, found)
    counts = article and above(unit.codes[0]) in own_codes()  # not "a mile off", "a ton of it"
    return whole if counts or whole.stop > found.stop else None


def _is_one(unit: UnitName) -> bool:
    return unit.singular or unit.codes == ("thou",)


def _with_unit(tokens: Sequence[str], bare: Quantity) -> Quantity:
    number = bare.low
    if number.form == "thousandths":
        stop = _after_phrase(tokens, number.stop, ("of", "an", "inch"))
        return replace(bare, units=("thou",), stop=stop)
    unit = _unit_after(tokens, number)
    if unit is None:
        return bare
    stop, codes, singular = unit.stop, unit.codes, unit.singular
    return replace(bare, units=codes, stop=stop, singular=singular)


def _after_phrase(tokens: Sequence[str], at: int, phrase: tuple[str, ...]) -> int:
    return at + len(phrase) if tuple(tokens[at : at + len(phrase)]) == phrase else at


def _unit_after(tokens: Sequence[str], number: Number) -> UnitName | None:
    """Read the unit after a number: "volts", "of an inch", "half a gallon", "tenths of a volt"."""
    at = number.stop
    figures = tokens[at - 1][-1].isdigit()
    if _is_part(number):
        for link in (("of", "a"), ("of", "an"), ("a",), ("an",)):
            after = _after_phrase(tokens, at, link)
            unit = unit_at(tokens, after, figures) if after > at else None
            if unit is not None and _is_one(unit):
                return unit
    hyphen = _after_phrase(tokens, at, ("-",))
    return unit_at(tokens, at, figures) or (unit_at(tokens, hyphen) if hyphen > at else None)


def _is_part(number: Number) -> bool:
    return number.form == "fraction" or (number.form == "decimal" and number.value < 1)


def _compound(tokens: Sequence[str], found: Quantity) -> Quantity:
    """Add what follows a unit: "and a half", "and forty minutes", "ten", "two inches"."""
    if not found.units or found.stop >= len(tokens) or found.low.value % 1:
        return found
    joined = tokens[found.stop] == "and"
    at = found.stop + joined
    part = number_at(tokens, at) if at < len(tokens) else None
    if part is None:
        return found
    if joined and part.form == "fraction" and part.value < 1:
        return _half_more(tokens, found, part)
    return _two_units(tokens, found, part, joined) or found


def _half_more(tokens: Sequence[str], found: Quantity, part: Number) -> Quantity:
    after = _unit_after(tokens, part)
    if after is not None and not set(after.codes) & set(found.units):
        return found
    whole, fraction = found.low.options[0], part.options[0]
    said = f"{whole.as_said} {fraction.as_said}"
    both = Number(found.start, part.stop, (Spoken(whole.value + part.value, said, "fraction"),))
    stop = after.stop if after else part.stop
    column = unit_at(("inches", *tokens[stop : stop + 3]), 0) if found.units == ("in",) else None
    if column is not None and column.stop > 1:
        found, stop = replace(found, units=column.codes), stop + column.stop - 1
    return replace(found, low=both, high=both, stop=stop, singular=False)


_SMALLER = {"h": ("min", 60, 60), "min": ("s", 60, 60), "ft": ("in", 12, 12)}


def _two_units(
    tokens: Sequence[str], found: Quantity, part: Number, joined: bool
) -> Quantity | None:
    smaller = _SMALLER.get(found.units[0])
    if smaller is None or part.value >= smaller[2] or part.form not in ("plain", "fraction"):
        return None
    unit = _unit_after(tokens, part)
    minutes = part.value >= 5 and (not joined or part.value % 5 == 0)
    elided = unit is None and found.units[0] in ("h", "min") and minutes
    if not elided and (unit is None or smaller[0] not in unit.codes):
        return None
    value = found.low.value * smaller[1] + part.value
    said = f"{found.low.options[0].as_said} {found.units[0]} {part.options[0].as_said}"
    both = Number(found.start, part.stop, (Spoken(value, said, "plain"),))
    stop = unit.stop if unit else part.stop
    return replace(found, low=both, high=both, units=(smaller[0],), stop=stop)


# --- two numbers ---


def _with_second(tokens: Sequence[str], first: Quantity) -> Quantity:
    comma = past_comma(tokens, first.stop)
    at = plus_minus(tokens, comma)
    if at:
        return _tolerance(tokens, first, at)
    uneven = _uneven(tokens, first, comma) or _either_way(tokens, first, comma)
    if uneven is not None:
        return uneven
    at = 0 if _counts_pieces(tokens, first) else between(tokens, first.start, first.stop)
    second = _one(tokens, at) if at and at < len(tokens) else None
    if second is None or (first.units and second.units and not _alike(first, second)):
        return first
    return _range(tokens, first, second)


def _counts_pieces(tokens: Sequence[str], first: Quantity) -> bool:
    """Tell "torqued all five to ninety" from a range."""
    before = tokens[first.start - 1] if first.start else ""
    return not first.units and first.low.value <= 12 and before in _words("counted_after")


def _alike(first: Quantity, second: Quantity) -> bool:
    return measures(first.units[0]) == measures(second.units[0])


def _tolerance(tokens: Sequence[str], first: Quantity, at: int) -> Quantity:
    second = _one(tokens, at) if at < len(tokens) else None
    if second is None:
        return first
    low, high = first.low.options[0], second.low.options[0]
    share = low.value / 100 if second.units == ("percent",) else Decimal(1)
    by = high.value * share
    units = first.units or (second.units if second.units != ("percent",) else ())
    said = f"{low.as_said} ± {high.as_said}" + (" %" if second.units == ("percent",) else "")
    return _spread(first, by, by, second.stop, units, said)


def _uneven(tokens: Sequence[str], first: Quantity, at: int) -> Quantity | None:
    """Read "thirty-five, plus nothing, minus point oh five"."""
    for signs in (("plus", "minus"), ("minus", "plus")):
        one = _amount(tokens, at, signs[0])
        two = one and _amount(tokens, past_comma(tokens, one[1], ("and",)), signs[1])
        if one and two:
            more, less = (one[0], two[0]) if signs[0] == "plus" else (two[0], one[0])
            said = f"{first.low.options[0].as_said} +{more:f}/-{less:f}"
            return _spread(first, less, more, two[1], first.units, said)
    return None


def _amount(tokens: Sequence[str], at: int, sign: str) -> tuple[Decimal, int] | None:
    if at + 1 >= len(tokens) or tokens[at] != sign:
        return None
    if tokens[at + 1] == "nothing":
        return Decimal(0), at + 2
    found = _one(tokens, at + 1)
    return (found.low.value, found.stop) if found is not None else None


def _either_way(tokens: Sequence[str], first: Quantity, at: int) -> Quantity | None:
    """Read "fifty, five either way"."""
    second = _one(tokens, at) if at < len(tokens) and _may_start(tokens[at]) else None
    stop = _phrases("either_way").end(tokens, second.stop) if second is not None else 0
    if second is None or stop == second.stop:
        return None
    by, units = second.low.value, first.units or second.units
    said = f"{first.low.options[0].as_said} ± {second.low.options[0].as_said}"
    return _spread(first, by, by, stop, units, said)


def _spread(
    first: Quantity, less: Decimal, more: Decimal, stop: int, units: tuple[str, ...], said: str
) -> Quantity:
    value = first.low.value
    low, high = (Number(first.start, stop, (plain(end),)) for end in (value - less, value + more))
    return replace(first, low=low, high=high, units=units, stop=stop, bound="range", said=said)


def _range(tokens: Sequence[str], first: Quantity, second: Quantity) -> Quantity:
    change = first.start > 0 and tokens[first.start - 1] == "from"
    units, stop = second.units or first.units, second.stop
    if is_ratio(first.low, second.low, bool(units)):
        return replace(first, stop=stop, role="ratio")
    if change or (first.units and first.units != second.units and second.units):
        same = replace(first, units=first.units or second.units)
        return replace(same, high=second.low, stop=stop, bound="range", change=True)
    low, high = joined_low(tokens, first.low, second.low), joined_high(first.low, second.low)
    if low.value > high.value:
        pointed = tuple(o for o in low.options if o.value <= high.value)
        if not pointed or first.units:
            return first
        low = replace(low, options=pointed)
    return replace(
        first, low=low, high=high, units=units, stop=stop, bound="range",
        singular=second.singular,
    )  # fmt: skip


# --- bounds and roles ---


@cache
def _phrases(name: str) -> Phrases:
    for section in ("bounds", "joins", "not_readings"):
        if name in table("quantities.toml")[section]:
            return Phrases(table("quantities.toml")[section][name])
    raise KeyError(name)


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(table("quantities.toml")["not_readings"][name])


def _with_bound(tokens: Sequence[str], found: Quantity) -> Quantity:
    start = _phrases("about").begin(tokens, found.start)
    about = start < found.start
    if found.is_range:
        return replace(found, about=about, start=start)
    before: tuple[tuple[str, Bound], ...] = (
        ("least_before", "least"), ("most_before", "most"),
        ("over_before", "over"), ("under_before", "under"),
    )  # fmt: skip
    for name, bound in before:
        begin = _phrases(name).begin(tokens, start)
        if begin < start:
            return replace(found, start=begin, bound=bound, about=about)
    after: tuple[tuple[str, Bound], ...] = (("least_after", "least"), ("most_after", "most"))
    for name, bound in after:
        end = _phrases(name).end(tokens, found.stop)
        if end > found.stop:
            return replace(found, stop=end, bound=bound, about=about, start=start)
    return replace(found, about=about, start=start)


def _with_role(tokens: Sequence[str], found: Quantity) -> Quantity:
    found = _with_pence(tokens, found)
    if "couple" in tokens[found.low.start : found.low.stop]:
        return replace(found, role="vague")
    if _is_ordinal(tokens, found):
        return replace(found, stop=found.stop + 1, role="name")
    role = found.role or _sign_role(tokens, found) or _name_role(tokens, found)
    if not role and not found.units:
        told = clock_stop(tokens, found.low)
        if told:
            return replace(found, low=found.low, high=found.low, stop=told, role="clock")
        role = "age" if is_year(tokens, found.low) else ""
    if role or found.units:
        return replace(found, role=role)
    for name in ("price", "age", "times", "vague", "clock", "by", "rating"):
        end = _phrases(name).end(tokens, found.stop)
        if end > found.stop:
            role = "size" if name in ("by", "rating") else name  # type: ignore[assignment]
            return replace(found, stop=end, role=role)
    if found.low.form == "clock":
        return replace(found, role="clock")
    return replace(found, role="phone" if _is_phone(tokens, found) else "")


def _is_ordinal(tokens: Sequence[str], found: Quantity) -> bool:
    """Tell "the twenty-fifth", which counts one thing, from twenty of them."""
    if found.units or found.stop >= len(tokens) or tokens[found.stop - 1] not in words("tens"):
        return False
    return tokens[found.stop] in word_set("words.toml", "ordinals", "words")


def _with_pence(tokens: Sequence[str], found: Quantity) -> Quantity:
    """Read "eighty-nine pounds fifty", which is money."""
    if "psi" not in found.units or found.is_range or found.stop >= len(tokens):
        return found
    pence = number_at(tokens, found.stop)
    money = pence is not None and pence.form == "plain" and 5 <= pence.value < 100
    if pence is None or not money or _unit_after(tokens, pence) is not None:
        return found
    return replace(found, stop=pence.stop, role="price")


def _sign_role(tokens: Sequence[str], found: Quantity) -> Role:
    before = tokens[found.low.start - 1] if found.low.start else ""
    if before in _words("price_sign"):
        return "price"
    return "size" if before in ("x", "by") and not found.units else ""


def _name_role(tokens: Sequence[str], found: Quantity) -> Role:
    if found.units or found.is_range or not found.low.start:
        return ""
    named = tokens[found.low.start - 1] in _words("names") or is_numbered(tokens, found.low)
    return "name" if named and found.low.value < 100 and found.low.value % 1 == 0 else ""


def _is_phone(tokens: Sequence[str], found: Quantity) -> bool:
    return found.low.form == "digits" and found.low.value >= 1_000_000

"""Numbers that name and do not measure: times of day, years, "groups six and seven"."""

from collections.abc import Sequence
from functools import cache

from jobnotes.numbers.lexicon import table
from jobnotes.numbers.number import Number
from jobnotes.numbers.phrases import Phrases
from jobnotes.numbers.spoken import number_at

YEARS = (1950, 2049)
MINUTES_TO = frozenset({5, 10, 15, 20, 25})


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(table("quantities.toml")["not_readings"][name])


def _word(tokens: Sequence[str], at: int) -> str:
    return tokens[at] if 0 <= at < len(tokens) else ""


def clock_stop(tokens: Sequence[str], number: Number) -> int:
    """Return where a time of day stops ("twenty-five to eleven", "at one thirty"), or 0."""
    if _is_past(tokens, number) or _is_visit(tokens, number):
        return number.stop
    return _minutes_to(tokens, number)


def _is_past(tokens: Sequence[str], number: Number) -> bool:
    """Tell the hour of "ten past nine" and "half past two"."""
    minutes = _word(tokens, number.start - 2)
    timed = minutes in ("half", "quarter", "minutes") or number_at_end(tokens, number.start - 2)
    return _word(tokens, number.start - 1) == "past" and number.value <= 12 and timed


def number_at_end(tokens: Sequence[str], at: int) -> bool:
    """Tell whether a token is itself a number word or a figure."""
    return at >= 0 and number_at(tokens[at : at + 1], 0) is not None


def _minutes_to(tokens: Sequence[str], number: Number) -> int:
    """Read "it's now twenty-five to eleven" and "quarter to three"."""
    at = number.stop + (_word(tokens, number.stop) == "minutes")
    hour = number_at(tokens, at + 1) if _word(tokens, at) == "to" and at + 1 < len(tokens) else None
    if hour is None or not 1 <= hour.value <= 12 or hour.value % 1:
        return 0
    quarter = tokens[number.stop - 1] == "quarter" and number.stop - number.start <= 2
    minutes = number.value in MINUTES_TO and number.value > hour.value
    told = _word(tokens, number.start - 1) in _words("clock_before")
    return hour.stop if quarter or (minutes and told) else 0


def _is_visit(tokens: Sequence[str], number: Number) -> bool:
    """Tell "came back at one thirty": a time of day after words of coming and going."""
    if _word(tokens, number.start - 1) not in ("at", "by", "till", "until", "about", "around"):
        return False
    near = range(max(0, number.start - 4), number.start - 1)
    return _could_be_time(number) and any(_visits().end(tokens, at) > at for at in near)


@cache
def _visits() -> Phrases:
    return Phrases(table("quantities.toml")["not_readings"]["visits"])


def _could_be_time(number: Number) -> bool:
    value = number.value
    if value % 1 or number.form == "decimal":
        return number.form == "shorthand"
    return 1 <= value <= 12 or (100 <= value <= 1259 and value % 100 < 60)


def is_year(tokens: Sequence[str], number: Number) -> bool:
    """Tell "bought in twenty nineteen" and "March twenty twenty-two"."""
    before = _word(tokens, number.start - 1)
    whole = any(o.value % 1 == 0 and YEARS[0] <= o.value <= YEARS[1] for o in number.options)
    return whole and before in _words("year_before")


def is_numbered(tokens: Sequence[str], number: Number) -> bool:
    """Tell "groups six and seven", "a hundred on two" and "oh one of eighteen"."""
    before, earlier = _word(tokens, number.start - 1), number.start - 2
    if number.form != "plain" or number.value > 99:
        return False
    if before in ("and", "or", "to", "through", "&") and number_at_end(tokens, earlier):
        return _word(tokens, earlier - 1).removesuffix("s") in _words("names")
    if before == "of":
        return number_at_end(tokens, earlier)
    ends = _word(tokens, number.stop) in ("", ",", ".", ";", "and", "but")
    return before == "on" and number.value <= 8 and number.stop - number.start == 1 and ends


def after_name(tokens: Sequence[str], at: int) -> Number | None:
    """Cut "number one two eighty five" after its name: one figure, when a number follows it."""
    if not at or tokens[at - 1] not in _words("name_one_figure"):
        return None
    whole = number_at(tokens, at)
    if whole is None or whole.stop == at + 1 or whole.form in ("plain", "fraction"):
        return None
    first = number_at(tokens[at : at + 1], 0)
    rest = number_at(tokens, at + 1)
    if first is None or rest is None or first.value > 12 or rest.stop != whole.stop:
        return None
    return Number(at, at + 1, first.options)


def is_pronoun(tokens: Sequence[str], number: Number) -> bool:
    """Tell the "one" of "one of them" and "the old one", which counts nothing."""
    if number.stop - number.start != 1 or tokens[number.start] != "one":
        return False
    one = table("words.toml")["one"]
    after, then = [*tokens[number.stop : number.stop + 3], "", "", ""][:3:2]
    before = tokens[number.start - 1] if number.start else ""
    if after == "'s":
        return then not in one["limit_follows"]
    return after in one["pronoun_before"] or before in one["pronoun_after"]

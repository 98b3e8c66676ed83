"""One number, spoken or written, at a given token: every value that the words can stand for."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from jobnotes.numbers.lexicon import word_set, words
from jobnotes.numbers.number import Form, Number, Spoken, plain

_INTEGER = re.compile(r"[0-9]{1,12}(?:,[0-9]{3}){0,3}$")
_SHORT_INTEGER = re.compile(r"(?:[0-9]|[1-9][0-9])$")
_DECIMAL = re.compile(r"[0-9]{0,12}(?:,[0-9]{3}){0,3}\.[0-9]{1,8}$")
_FRACTION = re.compile(r"([0-9]{1,4})/([1-9][0-9]{0,3})$")
_NTHS = re.compile(r"([1-9][0-9]*)(?:ths?|nds?)$")
_THOUSANDTHS = re.compile(r"([1-9][0-9]{0,2}),?000ths?$")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})$")
FACING = 16  # tokens back to where "positive" makes the next "negative" a pole
_BARE_DENOMINATORS = frozenset({"half", "quarter", "eighth", "sixteenth"})
_AFTER_FRACTION = frozenset({"of", "to", "inch", "over", "under"})  # not "a thirty-second wait"
_ARTICLE_DENOMINATORS = _BARE_DENOMINATORS | {"third", "tenth", "hundredth"}


@dataclass(frozen=True, slots=True)
class _Chunk:
    """A run of tokens below one hundred said in one go: "four", "oh", "twelve", "thirty one"."""

    value: int
    width: int
    stop: int

    @property
    def text(self) -> str:
        return str(self.value)


def number_at(tokens: Sequence[str], at: int) -> Number | None:
    """Return the number that begins exactly at token `at`, or None.

    Reads cardinals with and without "and", shop shorthand ("twelve fifty", "one oh five",
    "thirteen nine"), decimals, fractions, mixed numbers, a sign, and figures.
    """
    if tokens[at] in ("minus", "negative", "-") and at + 1 < len(tokens):
        return _negative(tokens, at)
    return (
        _written(tokens, at)
        or _fraction(tokens, at)
        or _point_first(tokens, at)
        or _scaled(tokens, at)
        or _chunk_run(tokens, at)
    )


def _negative(tokens: Sequence[str], at: int) -> Number | None:
    number = number_at(tokens, at + 1) if tokens[at + 1] not in ("minus", "negative", "-") else None
    if tokens[at] == "negative" and "positive" in tokens[max(0, at - FACING) : at]:
        return None  # the other pole, not a sign
    if number is None or (tokens[at] == "-" and not tokens[at + 1][0].isdigit()):
        return None
    return Number(
        at,
        number.stop,
        tuple(Spoken(-o.value, f"-{o.as_said}", o.form) for o in number.options),
    )


# --- figures, as recognisers write them ---


def _written(tokens: Sequence[str], at: int) -> Number | None:
    token = tokens[at]
    if not (token[0].isdigit() or token[0] == "."):
        return None
    if found := _THOUSANDTHS.match(token):
        return Number(at, at + 1, (plain(int(found[1]), "thousandths"),))
    if found := _CLOCK.match(token):
        return Number(at, at + 1, (plain(int(found[1] + found[2]), "clock"),))
    if found := _FRACTION.match(token):
        return Number(at, at + 1, (_ratio(int(found[1]), int(found[2])),))
    if _DECIMAL.match(token):
        value = Decimal(token.replace(",", ""))
        return _with_scale(tokens, Number(at, at + 1, (plain(value, "decimal"),)))
    if _INTEGER.match(token) and _small(tokens, at) is None:
        value = Decimal(token.replace(",", ""))
        return _with_scale(tokens, _mixed(tokens, Number(at, at + 1, (plain(value),))))
    return None


def _ratio(top: int, bottom: int, whole: int = 0) -> Spoken:
    value = (whole + Decimal(top) / Decimal(bottom)).quantize(Decimal("1e-6")).normalize()
    if bottom in (10, 100):
        return plain(value, "decimal")
    lead = f"{whole:,} " if whole else ""
    return Spoken(value, f"{lead}{top}/{bottom}", "fraction")


def _with_scale(tokens: Sequence[str], number: Number) -> Number:
    scale = words("scales").get(tokens[number.stop]) if number.stop < len(tokens) else None
    if scale is None:
        return number
    value = (number.value * scale).quantize(Decimal(1)) if number.value * scale % 1 == 0 else None
    if value is None:
        return number
    return Number(number.start, number.stop + 1, (plain(value),))


# --- fractions ---


def _fraction(tokens: Sequence[str], at: int) -> Number | None:
    """Read "half", "a quarter", "an eighth", "three sixteenths", "five sixty fourths", "3 8ths"."""
    token = tokens[at]
    if token in _BARE_DENOMINATORS and _bare_fraction(tokens, at):
        return Number(at, at + 1, (_ratio(1, words("fractions")[token]),))
    if token in ("a", "an") and at + 1 < len(tokens):
        return _article_fraction(tokens, at)
    top = _small(tokens, at)
    if top is None or top.value == 0:
        return None
    bottom = _denominator(tokens, top.stop)
    if bottom is None or (top.value >= bottom[0] and bottom[0] not in (10, 100)):
        return None
    return Number(at, bottom[1], (_ratio(top.value, bottom[0]),))


def _bare_fraction(tokens: Sequence[str], at: int) -> bool:
    if tokens[at] in ("half", "quarter"):
        return True
    return at + 1 < len(tokens) and tokens[at + 1] in ("inch", "of")


def _article_fraction(tokens: Sequence[str], at: int) -> Number | None:
    word = tokens[at + 1]
    long = _denominator(tokens, at + 1) if word in _long_fractions() else None
    if long is not None and tokens[long[1] : long[1] + 1] and tokens[long[1]] in _AFTER_FRACTION:
        return Number(at, long[1], (_ratio(1, long[0]),))
    bottom = words("fractions").get(word)
    of_follows = at + 2 < len(tokens) and tokens[at + 2] == "of"
    if bottom is None or not (word in _ARTICLE_DENOMINATORS or of_follows):
        return None
    return Number(at, at + 2, (_ratio(1, bottom),))


def _denominator(tokens: Sequence[str], at: int) -> tuple[int, int] | None:
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token in words("fractions"):
        return words("fractions")[token], at + 1
    if token in words("misspelt_fractions") and _inch_follows(tokens, at + 1):
        return words("misspelt_fractions")[token], at + 1
    if found := _NTHS.match(token):
        bottom = int(found[1])
        return (bottom, at + 1) if bottom in (4, 8, 16, 32, 64) else None
    long = _long_fractions().get(token, {})
    if at + 1 < len(tokens) and tokens[at + 1] in long:
        return long[tokens[at + 1]], at + 2
    return None


def _inch_follows(tokens: Sequence[str], at: int) -> bool:
    after = tuple(tokens[at : at + 3])
    return after[:1] in (("inch",), ("inches",)) or after == ("of", "an", "inch")


def _long_fractions() -> dict[str, dict[str, int]]:
    from_table: dict[str, dict[str, int]] = words("long_fractions")  # type: ignore[assignment]
    return from_table


def _mixed(tokens: Sequence[str], whole: Number) -> Number:
    """Add "and a half", "and three eighths" or a written fraction to a whole number."""
    at = whole.stop
    if at >= len(tokens) or whole.value % 1:
        return whole
    if tokens[at] == "and" and at + 1 < len(tokens):
        at += 1
    elif not _FRACTION.match(tokens[at]):
        return whole
    found = _FRACTION.match(tokens[at])
    part = Number(at, at + 1, (_ratio(int(found[1]), int(found[2])),)) if found else None
    part = part or _fraction(tokens, at)
    if part is None or not 0 < part.value < 1:
        return whole
    return Number(whole.start, part.stop, tuple(_join(o, part) for o in whole.options))


def _join(whole: Spoken, part: Number) -> Spoken:
    fraction = part.options[0]
    value = whole.value + fraction.value
    if fraction.form == "decimal":
        return plain(value, "decimal")
    return Spoken(value, f"{whole.as_said} {fraction.as_said}", "fraction")


# --- decimals ---


def _point_first(tokens: Sequence[str], at: int) -> Number | None:
    if tokens[at] == "comma" or tokens[at] not in word_set("words.toml", "point", "words"):
        return None
    before = word_set("words.toml", "point", "not_after")
    if at and (tokens[at - 1] in before or " ".join(tokens[max(0, at - 2) : at]) in before):
        return None
    return _decimals(tokens, Number(at, at, (plain(0),)))


def _decimals(tokens: Sequence[str], whole: Number) -> Number | None:
    """Read "point" and the figures after it: single digits, or one two-digit group."""
    at = whole.stop
    if at >= len(tokens) or tokens[at] not in word_set("words.toml", "point", "words"):
        return None
    said, stop = _digits_after_point(tokens, at + 1)
    if not said:
        return None
    value = Decimal(f"{int(whole.value)}.{said}")
    return _with_scale(tokens, Number(whole.start, stop, (plain(value, "decimal"),)))


def _digits_after_point(tokens: Sequence[str], at: int) -> tuple[str, int]:
    said = ""
    while (chunk := _small(tokens, at)) is not None and len(said) < 8:
        next_number = said and _is_point(tokens, chunk.stop)
        if next_number or (chunk.width > 1 and said.strip("0")):
            break
        said += chunk.text
        at = chunk.stop
        if chunk.width > 1:
            break
    return said, at


def _is_point(tokens: Sequence[str], at: int) -> bool:
    return at < len(tokens) - 1 and tokens[at] in word_set("words.toml", "point", "words")


# --- whole numbers ---


def _small(tokens: Sequence[str], at: int) -> _Chunk | None:
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token in words("digits"):
        return _Chunk(words("digits")[token], 1, at + 1)
    if token in words("teens"):
        return _Chunk(words("teens")[token], 2, at + 1)
    if token in words("tens"):
        unit = words("digits").get(tokens[at + 1], 0) if at + 1 < len(tokens) else 0
        return _Chunk(words("tens")[token] + unit, 2, at + 1 + (unit > 0))
    if (
        len(token) <= 2
        and token.isascii()
        and token.isdigit()
        and (token[0] != "0" or token == "0")
    ):
        return _Chunk(int(token), len(token), at + 1)
    return None


def _scale_at(tokens: Sequence[str], at: int) -> int:
    return words("scales").get(tokens[at], 0) if at < len(tokens) else 0


def _scaled(tokens: Sequence[str], at: int) -> Number | None:
    """Read a cardinal that holds "hundred", "thousand" or "million"."""
    lead = _small(tokens, at)
    if lead is None:
        first = at + 1 if tokens[at] in ("a", "one") else at
        if _scale_at(tokens, first) < 100 or tokens[first] == "grand":
            return None
        lead = _Chunk(1, 1, first)
    half = _mixed(tokens, Number(at, lead.stop, (plain(lead.value),)))
    if half.stop > lead.stop:
        return _with_scale(tokens, half) if _scale_at(tokens, half.stop) else None
    if not _scale_at(tokens, lead.stop):
        return None
    value, stop = _cardinal(tokens, lead)
    whole = _past_comma(tokens, Number(at, stop, (plain(value),)))
    return _decimals(tokens, whole) or _mixed(tokens, whole)


def _past_comma(tokens: Sequence[str], whole: Number) -> Number:
    """Join "three thousand, two hundred"; that the comma parts two figures stays an option."""
    at = whole.stop
    if tokens[at - 1] != "thousand" or at + 2 >= len(tokens) or tokens[at] != ",":
        return whole
    lead = _small(tokens, at + 1)
    if lead is None or lead.value > 9 or _scale_at(tokens, lead.stop) != 100:
        return whole
    rest, stop = _cardinal(tokens, lead)
    if rest >= 1000:
        return whole
    return Number(whole.start, stop, (plain(whole.value + rest), plain(rest)))


def _cardinal(tokens: Sequence[str], lead: _Chunk) -> tuple[int, int]:
    total, stop, ceiling = 0, lead.stop, 10**9
    current = lead.value
    while True:
        if _scale_at(tokens, stop) == 100:
            rest, stop = _tail(tokens, stop + 1)
            current = current * 100 + rest
        scale = _scale_at(tokens, stop)
        if not 1000 <= scale < ceiling:
            return total + current, stop
        total, ceiling = total + current * scale, scale
        following = _after_and(tokens, stop + 1)
        if following is None:
            return total, stop + 1
        current, stop = following.value, following.stop


def _tail(tokens: Sequence[str], at: int) -> tuple[int, int]:
    chunk = _after_and(tokens, at)
    if chunk is None or _scale_at(tokens, chunk.stop) == 100:
        return 0, at
    return chunk.value, chunk.stop


def _after_and(tokens: Sequence[str], at: int) -> _Chunk | None:
    """Return what follows a scale word, unless "and" joins a number of its own."""
    joined = at < len(tokens) and tokens[at] == "and"
    chunk = _small(tokens, at + joined)
    if chunk is None or _denominator(tokens, chunk.stop) is not None:
        return None
    if chunk.value == 0:
        chunk = _small(tokens, chunk.stop)
        return chunk if chunk is not None and chunk.width == 1 else None
    if joined and _small(tokens, chunk.stop) is not None:
        return None
    return chunk


def _chunk_run(tokens: Sequence[str], at: int) -> Number | None:
    chunks: list[_Chunk] = []
    stop = at
    while len(chunks) < 9 and (chunk := _small(tokens, stop)) is not None:
        if chunks and (_scale_at(tokens, chunk.stop) or _denominator(tokens, chunk.stop)):
            break
        chunks.append(chunk)
        stop = chunk.stop
    if not chunks or _is_interjection(tokens, chunks):
        return None
    whole = Number(at, stop, _options(chunks))
    return _named_decimal(tokens, chunks, whole) or _mixed(tokens, whole)


def _named_decimal(tokens: Sequence[str], chunks: Sequence[_Chunk], whole: Number) -> Number | None:
    """Read "five six point three" as 56.3, and as 6.3 of the one numbered five."""
    number = _decimals(tokens, whole)
    if number is None or len(chunks) != 2 or chunks[0].width != 1 or not chunks[0].value:
        return number
    last = Number(chunks[0].stop, whole.stop, (plain(chunks[1].value),))
    alone = _decimals(tokens, last)
    return number if alone is None else replace(number, options=(*number.options, *alone.options))


def _is_interjection(tokens: Sequence[str], chunks: Sequence[_Chunk]) -> bool:
    """Tell a lone "oh" or "o" from a nought that leads more figures."""
    said = tokens[chunks[0].stop - 1]
    return said in ("oh", "o", "ought") and not (
        len(chunks) > 1 or _is_point(tokens, chunks[0].stop)
    )


def _options(chunks: Sequence[_Chunk]) -> tuple[Spoken, ...]:
    widths = tuple(chunk.width for chunk in chunks)
    joined = "".join(chunk.text for chunk in chunks)
    first, rest = chunks[0].text, "".join(chunk.text for chunk in chunks[1:])
    if len(chunks) == 1:
        return (plain(chunks[0].value),)
    with_point = plain(Decimal(f"{first}.{rest}"), "shorthand")
    if widths in ((1, 2), (2, 2)):
        return plain(Decimal(joined), "hundreds"), with_point
    if widths == (2, 1):
        return with_point, plain(Decimal(joined), "digits")
    if widths == (2, 1, 1):
        whole = plain(Decimal(joined), "hundreds" if chunks[1].value == 0 else "digits")
        return (whole, with_point) if chunks[1].value == 0 else (with_point, whole)
    if widths in ((1, 2, 1), (2, 2, 1)):
        return (plain(Decimal(f"{joined[:-1]}.{joined[-1]}"), "shorthand"),)
    form: Form = "hundreds" if widths == (1, 1, 1) and chunks[1].value == 0 else "digits"
    whole = plain(Decimal(joined), form)
    return (whole, with_point) if len(chunks) <= 3 and set(widths) == {1} else (whole,)

"""One number, spoken or written, at a given token: every value that the words can stand for."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from jobnotes.numbers.chunks import Chunk, scale_at, small
from jobnotes.numbers.fractions import denominator, fraction_at
from jobnotes.numbers.lexicon import word_set, words
from jobnotes.numbers.multiples import multiplied, set_at
from jobnotes.numbers.number import Form, Number, Spoken, plain, ratio
from jobnotes.numbers.written import FRACTION, written

FACING = 16  # tokens back to where "positive" makes the next "negative" a pole


def number_at(tokens: Sequence[str], at: int) -> Number | None:
    """Return the number that begins exactly at token `at`, or None.

    Reads cardinals with and without "and", shop shorthand ("twelve fifty", "one oh five",
    "thirteen nine"), decimals, fractions, mixed numbers, a sign, and figures.
    """
    if tokens[at] in ("minus", "negative", "-") and at + 1 < len(tokens):
        return _negative(tokens, at)
    number = (
        _some(tokens, at)
        or _grouped(tokens, at)
        or _written(tokens, at)
        or fraction_at(tokens, at)
        or _ten_thousandths(tokens, at)
        or _point_first(tokens, at)
        or _scaled(tokens, at)
        or _chunk_run(tokens, at)
    )
    return multiplied(tokens, number) if number is not None else None


def _some(tokens: Sequence[str], at: int) -> Number | None:
    number = set_at(tokens, at)
    return _with_scale(tokens, number) if number is not None else None


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
    if not (token[0].isdigit() or token[0] == ".") or small(tokens, at) is not None:
        return None
    found = written(token)
    if found is None:
        return None
    number = Number(at, at + 1, (found,))
    if found.form == "plain":
        return _with_scale(tokens, _mixed(tokens, number))
    return _with_scale(tokens, number) if found.form in ("decimal", "comma") else number


def _with_scale(tokens: Sequence[str], number: Number) -> Number:
    """Multiply by the scales that follow, each larger than the one before: "2.5 million"."""
    value, stop, last = number.value, number.stop, 0
    while (scale := scale_at(tokens, stop)) > last:
        value, stop, last = value * scale, stop + 1, scale
    if stop == number.stop:
        return number
    form: Form = "comma" if number.form == "comma" else "plain"
    return replace(number, stop=stop, options=(plain(_shortest(value), form),))


def _shortest(value: Decimal) -> Decimal:
    return value.quantize(Decimal(1)) if value % 1 == 0 else value.normalize()


def _grouped(tokens: Sequence[str], at: int) -> Number | None:
    """Read "10 000"; of "12 500" that the space parts two figures stays an option."""
    if at + 1 >= len(tokens) or not (tokens[at] + tokens[at + 1]).isdecimal():
        return None
    first, second = tokens[at], tokens[at + 1]
    goes_on = at + 2 < len(tokens) and tokens[at + 2].isdecimal()
    if first[0] == "0" or len(first) > 3 or len(second) != 3 or goes_on:
        return None
    whole = Decimal(first + second)
    if second == "000":
        return Number(at, at + 2, (plain(whole, "digits"),))
    options = (plain(whole, "grouped"), plain(Decimal(second)))
    return Number(at, at + 2, options) if len(first) < 3 else None


# --- fractions ---


def _mixed(tokens: Sequence[str], whole: Number) -> Number:
    """Add "and a half", "and three eighths" or a written fraction to a whole number."""
    at = whole.stop
    if at >= len(tokens) or whole.value % 1:
        return whole
    if tokens[at] == "and" and at + 1 < len(tokens):
        at += 1
    elif not FRACTION.match(tokens[at]):
        return whole
    found = FRACTION.match(tokens[at])
    part = Number(at, at + 1, (ratio(int(found[1]), int(found[2])),)) if found else None
    part = part or fraction_at(tokens, at)
    if part is None or not 0 < part.value < 1:
        return whole
    return Number(whole.start, part.stop, tuple(_join(o, part) for o in whole.options))


def _join(whole: Spoken, part: Number) -> Spoken:
    fraction = part.options[0]
    value = whole.value + fraction.value
    if fraction.form == "decimal":
        return plain(value, "decimal")
    return Spoken(value, f"{whole.as_said} {fraction.as_said}", "fraction")


def _ten_thousandths(tokens: Sequence[str], at: int) -> Number | None:
    """Read "five ten-thousandths" of an inch as half a thou; "five ten" may be 510 of them."""
    top = small(tokens, at)
    if top is None or top.width > 1 or not top.value or top.stop + 1 >= len(tokens):
        return None
    ten, name = tokens[top.stop], tokens[top.stop + 1]
    if ten not in ("ten", "10") or name not in ("thousandth", "thousandths"):
        return None
    tenths = plain(Decimal(top.value) / 10, "thousandths")
    both = (tenths, plain(top.value * 100 + 10, "thousandths"))
    return Number(at, top.stop + 2, both if name == "thousandths" else (tenths,))


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
    while (chunk := small(tokens, at)) is not None and len(said) < 15:
        next_number = said and (_is_point(tokens, chunk.stop) or _is_one_side(tokens, at))
        if next_number or (chunk.width > 1 and said.strip("0")):
            break
        said += chunk.text
        at = chunk.stop
        if chunk.width > 1:
            break
    return said, at


def _is_one_side(tokens: Sequence[str], at: int) -> bool:
    """Tell the "one" of "nought point nine five one side" from a digit."""
    after = tokens[at + 1] if at + 1 < len(tokens) else ""
    return tokens[at] == "one" and after in word_set("words.toml", "point", "one_of_two")


def _is_point(tokens: Sequence[str], at: int) -> bool:
    return at < len(tokens) - 1 and tokens[at] in word_set("words.toml", "point", "words")


# --- whole numbers ---


def _scaled(tokens: Sequence[str], at: int) -> Number | None:
    """Read a cardinal that holds "hundred", "thousand" or "million"."""
    lead = small(tokens, at)
    if lead is None:
        first = at + 1 if tokens[at] in ("a", "one") else at
        if scale_at(tokens, first) < 100 or tokens[first] == "grand" or _is_vague(tokens, at):
            return None
        lead = Chunk(1, 1, first)
    half = _mixed(tokens, Number(at, lead.stop, (plain(lead.value),)))
    if half.stop > lead.stop:
        return _with_scale(tokens, half) if scale_at(tokens, half.stop) else None
    if not scale_at(tokens, lead.stop):
        return None
    value, stop = _cardinal(tokens, lead)
    whole = _past_comma(tokens, Number(at, stop, (plain(value),)))
    return (
        _decimals(tokens, whole)
        or _scale_again(tokens, whole)
        or _short_hundreds(tokens, whole)
        or _half_of_scale(tokens, whole)
        or _mixed(tokens, whole)
    )


def _is_vague(tokens: Sequence[str], at: int) -> bool:
    """Tell the bare scale of "a few hundred"."""
    bare = scale_at(tokens, at) > 0 and at > 0
    return bare and tokens[at - 1] in word_set("words.toml", "vague", "words")


def _scale_again(tokens: Sequence[str], whole: Number) -> Number | None:
    """Read "two thousand thousand": a slip of the tongue, or a scale of its own."""
    last, again = scale_at(tokens, whole.stop - 1), scale_at(tokens, whole.stop)
    if not last or not again:
        return None
    options = (*whole.options, plain(whole.value * again))
    return replace(whole, stop=whole.stop + 1, options=options)


def _short_hundreds(tokens: Sequence[str], whole: Number) -> Number | None:
    """Read "two thousand six fifty" as 2,650, or as 2,006 with a fifty of its own."""
    chunk = small(tokens, whole.stop)
    single = whole.value % 1000 if tokens[whole.stop - 1] in words("digits") else 0
    if chunk is None or chunk.width == 1 or whole.value < 1000 or not 0 < single < 10:
        return None
    if scale_at(tokens, chunk.stop) or denominator(tokens, chunk.stop):
        return None
    joined = plain(whole.value + single * 99 + chunk.value)
    return replace(whole, stop=chunk.stop, options=(joined, *whole.options))


def _half_of_scale(tokens: Sequence[str], whole: Number) -> Number | None:
    """Read "a million and a half": half of a million, or one half."""
    scale = scale_at(tokens, whole.stop - 1)
    mixed = _mixed(tokens, whole) if scale >= 1000 else whole
    if mixed.stop == whole.stop:
        return None
    more = plain(_shortest(whole.value + (mixed.value - whole.value) * scale))
    return replace(mixed, options=(more, *mixed.options))


def _past_comma(tokens: Sequence[str], whole: Number) -> Number:
    """Join "three thousand, two hundred"; that the comma parts two figures stays an option."""
    at = whole.stop
    if scale_at(tokens, at - 1) < 1000 or at + 2 >= len(tokens) or tokens[at] != ",":
        return whole
    lead = small(tokens, at + 1)
    if lead is None or lead.value > 9 or scale_at(tokens, lead.stop) != 100:
        return whole
    rest, stop = _cardinal(tokens, lead)
    if rest >= 1000:
        return whole
    return Number(whole.start, stop, (plain(whole.value + rest), plain(rest)))


def _cardinal(tokens: Sequence[str], lead: Chunk) -> tuple[int, int]:
    total, stop, ceiling = 0, lead.stop, 10**15
    current = lead.value
    while True:
        if scale_at(tokens, stop) == 100:
            rest, stop = _tail(tokens, stop + 1)
            current = current * 100 + rest
        scale, after = _rising_scale(tokens, stop)
        if not 1000 <= scale < ceiling:
            return total + current, stop
        total, ceiling = total + current * scale, scale
        following = _after_and(tokens, after)
        if following is None:
            return total, after
        if scale_at(tokens, following.stop) >= ceiling:  # "two thousand two million"
            return total, after
        current, stop = following.value, following.stop


def _rising_scale(tokens: Sequence[str], at: int) -> tuple[int, int]:
    """Return a scale and where it stops; "thousand million" is one, a thousand million."""
    scale, larger = scale_at(tokens, at), scale_at(tokens, at + 1)
    return (scale * larger, at + 2) if 1000 <= scale < larger else (scale, at + 1)


def _tail(tokens: Sequence[str], at: int) -> tuple[int, int]:
    chunk = _after_and(tokens, at)
    if chunk is None or scale_at(tokens, chunk.stop) == 100:
        return 0, at
    return chunk.value, chunk.stop


def _after_and(tokens: Sequence[str], at: int) -> Chunk | None:
    """Return what follows a scale word, unless "and" joins a number of its own."""
    joined = at < len(tokens) and tokens[at] in ("and", "&")
    chunk = small(tokens, at + joined)
    if chunk is None or fraction_at(tokens, at + joined) is not None:
        return None
    if chunk.value == 0:
        chunk = small(tokens, chunk.stop)
        return chunk if chunk is not None and chunk.width == 1 else None
    if joined and small(tokens, chunk.stop) is not None:
        return None
    return chunk


def _chunk_run(tokens: Sequence[str], at: int) -> Number | None:
    chunks: list[Chunk] = []
    stop = at
    while len(chunks) < 9 and (chunk := small(tokens, stop)) is not None:
        if chunks and (scale_at(tokens, chunk.stop) or denominator(tokens, chunk.stop)):
            break
        chunks.append(chunk)
        stop = chunk.stop
    if not chunks or _is_interjection(tokens, chunks):
        return None
    whole = Number(at, stop, _options(chunks))
    return _named_decimal(tokens, chunks, whole) or _mixed(tokens, whole)


def _named_decimal(tokens: Sequence[str], chunks: Sequence[Chunk], whole: Number) -> Number | None:
    """Read "five six point three" as 56.3, and as 6.3 of the one numbered five."""
    number = _decimals(tokens, whole)
    if number is None or len(chunks) != 2 or chunks[0].width != 1 or not chunks[0].value:
        return number
    last = Number(chunks[0].stop, whole.stop, (plain(chunks[1].value),))
    alone = _decimals(tokens, last)
    return number if alone is None else replace(number, options=(*number.options, *alone.options))


def _is_interjection(tokens: Sequence[str], chunks: Sequence[Chunk]) -> bool:
    """Tell a lone "oh" or "o" from a nought that leads more figures."""
    said = tokens[chunks[0].stop - 1]
    return said in ("oh", "o", "ought") and not (
        len(chunks) > 1 or _is_point(tokens, chunks[0].stop)
    )


def _options(chunks: Sequence[Chunk]) -> tuple[Spoken, ...]:
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

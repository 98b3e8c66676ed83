"""Whether two ways of writing a number, in words or in figures, can be the same number."""

import re
from collections.abc import Iterable, Sequence
from functools import cache
from itertools import pairwise

from jobnotes.numbers.lexicon import words as lexicon
from jobnotes.numbers.spoken import number_at
from jobnotes.numbers.tokens import split

# Words that are numbers only beside another number: "oh, that is bad", "at this point".
_BESIDE = frozenset({"oh", "o", "ought", "aught", "tree", "grand", "ait"})
_PARTS = {"half": 2, "halves": 2, "quarter": 4, "quarters": 4, "eighth": 8, "eighths": 8}
_PARTS |= {"sixteenth": 16, "sixteenths": 16, "tenths": 10, "hundredths": 100, "eights": 8}
_PARTS |= {"thousandths": 1000, "thou": 1000}
_ORDINAL = re.compile(r"[0-9]+(st|nd|rd|th)$")
_PART = re.compile(r"([0-9]*?)(8|16|32|64)(th|nd)s?$")  # of an inch: "316th" is three sixteenths
_LETTERS_THEN_FIGURES = re.compile(r"[^\W\d_]+(?=[0-9])|.+")


def pieces(word: str) -> list[str]:
    """Return the tokens of a word that sound: no punctuation, "TK41-W172" in tk 41 w 172."""
    tokens = [part for token in split(word) for part in _LETTERS_THEN_FIGURES.findall(token)]
    return [token for token in tokens if any(sign.isalnum() for sign in token)]


def is_number(tokens: list[str], at: int) -> bool:
    """Tell whether a token is part of a number: a figure, a number word, or what joins two."""
    token = tokens[at]
    if token in _BESIDE:
        return _plain(tokens, at - 1) or _plain(tokens, at + 1) or tokens[at - 1 : at] == ["point"]
    if token == "point":
        return _plain(tokens, at + 1) or (at + 1 < len(tokens) and tokens[at + 1] in _BESIDE)
    if token in ("dash", "hyphen"):
        return _plain(tokens, at - 1) and _plain(tokens, at + 1)
    if token == "and":
        return _plain(tokens, at - 1) and (_plain(tokens, at + 1) or _is_article(tokens, at + 1))
    if token == "a":
        return _is_article(tokens, at) and tokens[at - 1 : at] == ["and"]
    return _plain(tokens, at)


def same_number(one: Sequence[str], other: Sequence[str]) -> bool:
    """Tell whether two runs of number tokens can be the same, however they are written.

    "eighteen hundred" is "1,800"; "thirteen nine" can be "13.9", as only one says the point.
    """
    a, b = _written(one), _written(other)
    if a == b or any(_same_but(mark, a, b) for mark in "./"):
        return True
    if _in_figures(one) != _in_figures(other) and _digits(a) == _digits(b):
        in_words, in_figures = (b, a) if _in_figures(one) else (a, b)
        if "/" in in_words and "." not in in_words and "/" not in in_figures:
            return True  # "5.8" and "5, 8" are how the models write five eighths
    # "30,000" is how the models write thirty thou; "thou" left out is not another number.
    if a.replace("/1000", "000") == b or a.replace("/1000", "") == b.replace("/1000", ""):
        return True
    return bool(_values(one) & _values(other))


def written_alike(ones: Iterable[Sequence[str]], others: Iterable[Sequence[str]]) -> bool:
    """Tell whether some numbers have the figures of some others, however they are joined.

    "sixty" and "sixty four" have those of "60-64".
    """
    return _digits("".join(map(_written, ones))) == _digits("".join(map(_written, others)))


def _digits(written: str) -> str:
    return re.sub(r"[^0-9]", "", written)


def _in_figures(tokens: Sequence[str]) -> bool:
    return any(map(_is_figures, tokens))


def _same_but(mark: str, a: str, b: str) -> bool:
    return (mark in a) != (mark in b) and a.replace(mark, "") == b.replace(mark, "")


def _is_article(tokens: Sequence[str], at: int) -> bool:
    """Tell whether this is the "a" of "two and a half"."""
    return list(tokens[at : at + 1]) == ["a"] and at + 1 < len(tokens) and tokens[at + 1] in _PARTS


def _plain(tokens: Sequence[str], at: int) -> bool:
    if not 0 <= at < len(tokens):
        return False
    token = tokens[at]
    return token in _small() or token in lexicon("scales") or token in _PARTS or _is_figures(token)


def _is_figures(token: str) -> bool:
    if _ORDINAL.match(token) and not _PART.match(token):
        return False
    return token[0] in ".0123456789" and token != "."


@cache
def _small() -> dict[str, int]:
    small = {**lexicon("digits"), **lexicon("teens"), **lexicon("tens")}
    return {word: value for word, value in small.items() if word not in _BESIDE}


def _values(tokens: Sequence[str]) -> set[str]:
    number = number_at(tokens, 0) if tokens else None
    if number is None or number.stop < len(tokens):
        return set()
    return {str(option.value.normalize()) for option in number.options}


def _written(tokens: Sequence[str]) -> str:
    """Write a run of number tokens as one would key it in: "thirty-seven fifty" -> "3750"."""
    parts: list[int | str] = []
    for before, token in pairwise(["", *tokens]):
        if token in lexicon("scales"):
            _scale(parts, lexicon("scales")[token])
        elif token in _PARTS:
            parts += [f"/{_PARTS[token]}"] if parts else [f"1/{_PARTS[token]}"]
        elif (value := _value(token)) is not None:
            _add(parts, value)
        elif token == "point":
            parts.append(".")
        elif before == "and" and _completes(parts, token):
            parts[-1] = int(parts[-1]) + int(token)
        elif (part := _PART.match(token)) and (parts or part[1] or part[2] != "8"):
            parts.append(f"{part[1] or '1' * (not parts)}/{part[2]}")
        elif _is_figures(token):
            parts.append(_keyed(token) if before != "point" else _after_point(token))
    return "".join(map(str, parts)).lstrip("0") or "0" * bool(parts)


def _completes(parts: list[int | str], token: str) -> bool:
    """Tell whether this is the 4 of "100 and 4", which is how the models may write 104."""
    last = str(parts[-1]) if parts else ""
    return last.isdecimal() and token.isdecimal() and 0 < int(token) < _room(int(last))


def _keyed(token: str) -> str:
    """Keep the figures of a written token; "10,000ths" is 10/1000, and "16ths" is /16."""
    figures = "".join(sign for sign in token if sign.isdigit() or sign in "./")
    if not token.endswith("ths"):
        return figures
    if figures.endswith("00"):  # of "12,000ths" and of "2200ths"
        return f"{figures.removesuffix('00').removesuffix('0')}/1000"
    return f"/{figures}"


def _after_point(token: str) -> str:
    """Keep the figures of "1.0" in "point 1.0", and of "0.05" in "point 0.05"."""
    return _keyed(token.removeprefix("0.")).replace(".", "")


def _value(token: str) -> int | None:
    return _small().get(token, lexicon("digits").get(token))


def _add(parts: list[int | str], value: int) -> None:
    """Add to the number before where speech would: "sixty" "five", "one hundred" "five"."""
    last = parts[-1] if parts else ""
    if isinstance(last, int) and 0 < value < _room(last):
        parts[-1] = last + value
    else:
        parts.append(value)


def _room(number: int) -> int:
    """Return what a following word must be below to belong to the number."""
    if number and number % 1000 == 0:
        return 1000
    if number and number % 100 == 0:
        return 100
    return 10 if number % 100 >= 20 and number % 10 == 0 else 0


def _scale(parts: list[int | str], scale: int) -> None:
    """Multiply by a hundred what is below a hundred, by a thousand what is below a thousand."""
    last = parts[-1] if parts else ""
    if not isinstance(last, int) or not last % scale:
        parts.append(scale)
    else:
        parts[-1] = last + (last % scale) * (scale - 1)

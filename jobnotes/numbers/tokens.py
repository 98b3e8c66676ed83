"""From a heard word to the small tokens that every rule works on."""

import re
from functools import lru_cache

_ALIKE = str.maketrans(
    {
        "’": "'",
        "‘": "'",
        "ʼ": "'",
        "“": '"',
        "”": '"',
        "″": '"',
        "′": "'",
        "–": "-",
        "−": "-",
        "‐": "-",
        "‑": "-",
        "º": "°",
        "⋅": "·",
        "⁄": "/",
        "¼": " 1/4 ",
        "½": " 1/2 ",
        "¾": " 3/4 ",
        "⅓": " 1/3 ",
        "⅔": " 2/3 ",
        "⅛": " 1/8 ",
        "⅜": " 3/8 ",
        "⅝": " 5/8 ",
        "⅞": " 7/8 ",
        "⅕": " 1/5 ",
        "⅖": " 2/5 ",
        "⅗": " 3/5 ",
        "⅘": " 4/5 ",
        "⅙": " 1/6 ",
        "⅚": " 5/6 ",
        "⁻": "^-",
    }
)
_SURROGATE = re.compile("[\ud800-\udfff]")
_POWER = re.compile(
    r"(?<![0-9a-zA-Z.])(?:([0-9]+(?:\.[0-9]+)?)×10\^?|([0-9]+\.[0-9]+)[xX*·]10\^?)"
    r"([-+]?[0-9]{1,2})(?![0-9])"
)
_MEGA = re.compile("(?<![^\\W\\d_])M(?=[Ω\u2126ω]|Wh?(?![^\\W\\d_]))")
_MIXED = re.compile(r"(?<![0-9/.])([0-9]+)-(?=[0-9]+/[0-9])")
_PIECE = re.compile(
    r"\+/-"
    r"|(?:[0-9]*\.)?[0-9]+e[-+][0-9]{1,2}(?![0-9a-z])|[0-9]*\.[0-9]+e[0-9]{1,2}(?![0-9a-z])"
    r"|(?:[0-9]+(?![0-9]*w)[a-z]+[0-9]|[a-z]+[0-9])[a-z0-9]*"
    r"|(?:1[89]|20)[0-9]0s\b"
    r"|[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+(?![0-9,])|(?<![0-9,.])[0-9]+,[0-9]{1,2}(?![0-9,])"
    r"|[0-9]{1,2}:[0-9]{2}(?![0-9])"
    r"|[0-9]+/[0-9]+(?:ths?\b)?"
    r"|(?:[0-9]{1,3}(?:,[0-9]{3})+(?![0-9])|[0-9]+)(?:\.[0-9]+|(?:st|nd|rd|ths?)\b)?"
    r"|\.[0-9]+"
    r"|[^\W\d_]+(?:'[^\W\d_]+)+"
    r"|'(?:s|re|ve|ll|d|m|em)\b"
    r"|[^\W\d_]+"
    r"|\S",
    re.IGNORECASE,
)
_CLITIC = re.compile(r"(?<=[a-z])'(?:s|re|ve|ll|d|m)$")


def split(word: str) -> list[str]:
    """Return the lowercase tokens of one heard word; punctuation and marks stand apart.

    Hyphens inside words separate ("twenty-five" -> twenty five); beside a digit or between
    capitals they stay as a token of their own ("RM-44-C" -> rm - 44 - c), and between a whole
    number and a fraction they go ("1-1/2" -> 1 1/2). Decimals, thousands, fractions, powers
    of ten, times of day, ordinals, decades, and codes that mix letters and digits ("QX447B", but
    not "12V") stay whole.
    "it's" -> it 's; "don't" stays whole. Any string is accepted; one that holds nothing
    printable gives an empty list.
    """
    if word.isascii() and word.isalpha() and not word.startswith("MW"):
        return [word.lower()]
    return list(_split(word))


@lru_cache(maxsize=16384)
def _split(word: str) -> tuple[str, ...]:
    text = _SURROGATE.sub("", word).translate(_ALIKE)
    if "10" in text:
        text = _POWER.sub(r"\1\2e\3", text)
    if "M" in text:
        text = _MEGA.sub("mega", text)
    pieces = _PIECE.findall(_MIXED.sub(r"\1 ", text))
    tokens: list[str] = []
    for place, piece in enumerate(pieces):
        if piece == "-" and _joins_words(pieces, place):
            continue
        if piece == "." and _between_letters(pieces, place):
            continue
        tokens += _small(piece)
    return tuple(tokens)


def _joins_words(pieces: list[str], place: int) -> bool:
    if not 0 < place < len(pieces) - 1:
        return False
    left, right = pieces[place - 1], pieces[place + 1]
    if left.isalpha() and right.isalpha():
        return not (left.isupper() and right.isupper())
    return left[0].isdigit() and right.isalpha() and right.islower() and len(right) > 1


def _between_letters(pieces: list[str], place: int) -> bool:
    return 0 < place < len(pieces) - 1 and (pieces[place - 1] + pieces[place + 1]).isalpha()


def _small(piece: str) -> list[str]:
    low = piece.lower()
    if low == "+/-":
        return ["±"]
    if "/" in low and low[0].isdigit():
        return [low.rstrip("ths")]
    clitic = _CLITIC.search(low)
    if clitic:
        return [low[: clitic.start()], clitic.group()]
    return [low]

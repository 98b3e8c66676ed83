"""Text set in the report's faces: escaped, every letter in a face that has it, or told in words."""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from itertools import groupby
from xml.sax.saxutils import escape

from arabic_reshaper import reshape  # type: ignore[import-untyped]
from bidi import get_display  # type: ignore[import-untyped]
from reportlab.lib.styles import ParagraphStyle

from jobnotes.report.fonts import SERIF, face_for, is_joined

# Right-to-left words up to this many characters stay on one line, where their order is right.
RTL_LINE = 40
_SAME = str.maketrans(
    {
        "\N{HYPHEN}": "-",
        "\N{NON-BREAKING HYPHEN}": "-",
        "\N{THIN SPACE}": "\N{NO-BREAK SPACE}",
        "\N{NARROW NO-BREAK SPACE}": "\N{NO-BREAK SPACE}",
    }
)
# What only changes how a letter beside it looks: joiners, variants, keys, skin tones.
_UNSEEN = re.compile("[\u200c\u200d\u20e3\ufe00-\ufe0f\U0001f3fb-\U0001f3ff\U000e0020-\U000e007f]")
_VARIANTS = re.compile("[\u20e3\ufe00-\ufe0f\U0001f3fb-\U0001f3ff\U000e0020-\U000e007f]")
_RTL = re.compile(
    "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff\U0001e800-\U0001efff]"
)


def markup(text: str, face: str = SERIF) -> str:
    """Return text as paragraph markup: escaped, right-to-left words in visual order."""
    drawn = _visual(_plain(legible(text)))
    if not is_shaped(drawn):
        return "".join(_runs(drawn, face))
    words = drawn.replace("\N{NO-BREAK SPACE}", " ").split(" ")
    return " ".join(" ".join(_runs(word, face)) for word in words)


def fitting(style: ParagraphStyle, text: str) -> ParagraphStyle:
    """Return the style, made to join letters where a text's script asks for that."""
    if not is_shaped(text):
        return style
    return ParagraphStyle(f"{style.name}-shaped", parent=style, shaping=1)


def drawn_as_read(text: str) -> bool:
    """Say whether the letters stand on the page in the order of reading, each with its glyph."""
    changed = _RTL.search(text) or is_shaped(text) or _UNSEEN.search(text)
    return not changed and not missing(text)


def is_shaped(text: str) -> bool:
    """Say whether letters of a text change and move by what stands beside them."""
    return any(is_joined(char) for char in text)


def legible(text: str) -> str:
    """Return text in which words in brackets stand for what no face has a glyph for."""
    runs = groupby(text, key=_is_missing)
    return "".join(_told("".join(run)) if lost else "".join(run) for lost, run in runs)


def missing(text: str) -> str:
    """Return the characters of a text that no face has a glyph for."""
    return "".join(char for char in text if _is_missing(char))


def _is_missing(char: str) -> bool:
    seen = not _UNSEEN.match(char)
    return seen and not face_for(char.translate(_SAME), SERIF) and not char.isspace()


def _told(lost: str) -> str:
    """Name a picture letter; of letters that have no name in English say how many they are."""
    name = unicodedata.name(lost, "").lower() if len(lost) == 1 else ""
    if name and unicodedata.category(lost).startswith("S"):
        return f"[{name}]"
    many = "1 character" if len(lost) == 1 else f"{len(lost)} characters"
    return f"[{many} that cannot be printed]"


def _plain(text: str) -> str:
    """Compose letters with their marks, and drop what only a face that joins letters can show."""
    composed = unicodedata.normalize("NFC", text).translate(_SAME)
    return (_VARIANTS if is_shaped(composed) else _UNSEEN).sub("", composed)


def _runs(text: str, face: str) -> Iterator[str]:
    """Yield a text as stretches of one face each.

    A paragraph of joined letters is shaped a word at a time, by one face: there each stretch must
    become a word of its own, or it would be drawn with glyphs of another face.
    """
    first = next((char for char in text if is_joined(char)), "")
    own = face_for(first, face) if first else face
    for (name, _), chars in groupby(text, key=lambda char: _setting(char, own)):
        yield _run(name, "".join(chars), face)


def _setting(char: str, own: str) -> tuple[str, bool]:
    """Return the face of a character, and whether it is shaped from right to left.

    Joiners stay with the letters that they join.
    """
    if _UNSEEN.match(char):
        return own, is_joined(char)
    return face_for(char, own), is_joined(char) and bool(_RTL.match(char))


def _run(name: str, chars: str, face: str) -> str:
    safe = escape(chars).replace("\n", "<br/>")
    return safe if name == face else f'<font name="{name}">{safe}</font>'


def _visual(text: str) -> str:
    """Put each right-to-left stretch into the order in which it is drawn from the left."""
    if not _RTL.search(text):
        return text
    order = _turned if is_shaped(text) else _drawn
    parts, at = [], 0
    for start, stop in _stretches(text):
        parts += [text[at:start], "\n".join(order(line) for line in _lines(text[start:stop]))]
        at = stop
    return "".join([*parts, text[at:]])


def _stretches(text: str) -> Iterable[tuple[int, int]]:
    """Find the stretches from a right-to-left character to the last one before other letters."""
    start, last = -1, -1
    for n, char in enumerate(text):
        direction = unicodedata.bidirectional(char)
        if direction in ("R", "AL"):
            start, last = (n if start < 0 else start), n
        elif direction == "NSM" and last == n - 1:
            last = n if start >= 0 else last
        elif direction == "L" and start >= 0:
            yield start, last + 1
            start = -1
    if start >= 0:
        yield start, last + 1


def _lines(stretch: str) -> list[str]:
    """Break a long stretch into lines, so that its words keep their order from line to line."""
    lines = [""]
    for word in stretch.split(" "):
        if lines[-1] and len(lines[-1]) + len(word) >= RTL_LINE:
            lines.append(word)
        else:
            lines[-1] = f"{lines[-1]} {word}" if lines[-1] else word
    return lines


def _drawn(line: str) -> str:
    shaped = reshape(line) if any("\u0600" <= char <= "\u08ff" for char in line) else line
    return str(get_display(shaped, base_dir="R")).replace(" ", "\N{NO-BREAK SPACE}")


def _turned(line: str) -> str:
    """Put words and figures from right to left; shaping turns the letters of a word itself."""
    parts = [re.findall(r"\d[\d.,:/-]*|\D+", word) for word in line.split(" ")]
    words = [part for word in parts for part in word]
    return "\N{NO-BREAK SPACE}".join(reversed(words))

"""The report's typefaces, and text set in them: escaped, with a fallback for every script."""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache
from importlib.resources import as_file, files
from itertools import groupby
from typing import Any
from xml.sax.saxutils import escape

from arabic_reshaper import reshape  # type: ignore[import-untyped]
from bidi import get_display  # type: ignore[import-untyped]
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

SERIF, BOLD, ITALIC = "SourceSerifPro-Regular", "SourceSerifPro-Bold", "SourceSerifPro-It"
SANS, SEMIBOLD = "SourceSansPro-Regular", "SourceSansPro-Semibold"
SCRIPTS = (
    "Devanagari", "Bengali", "Tamil", "Telugu", "Kannada", "Malayalam", "Gujarati", "Gurmukhi",
    "Sinhala", "Thai", "Khmer", "Myanmar", "Ethiopic",
)  # fmt: skip
FALLBACKS = (
    SERIF,
    "DejaVuSans",
    "DroidSansFallback",
    *(f"NotoSans{script}-Regular" for script in SCRIPTS),
)
NO_GLYPH = "\N{WHITE SQUARE}"
# Right-to-left words up to this many characters stay on one line, where their order is right.
RTL_LINE = 40

_SAME = str.maketrans(
    {"\N{HYPHEN}": "-", "\N{NON-BREAKING HYPHEN}": "-", "\N{THIN SPACE}": "\N{NO-BREAK SPACE}"}
)


class Face(TTFont):
    """A typeface whose every letter can be read back.

    Its parent maps what it leaves empty to U+0000, which ISO 14289-1, 7.21.7, forbids. Letters
    beyond U+FFFF are written in UTF-16 as ISO 32000-1, 9.10.3, asks.
    """

    hbAddPrivate: Any

    def hbFont(self, fontSize: float = 10) -> Any:
        """Return the font for shaping; a joined letter gets the width that the font file gives it.

        Its parent takes the width in one place, which kerning may have changed.
        """
        shaper = super().hbFont(fontSize)
        add: Any = self.hbAddPrivate
        scale: Any = self.pdfScale
        self.hbAddPrivate = lambda name, glyph, _: add(
            name, glyph, scale(self.face.hmetrics[glyph][0])
        )
        return shaper

    def addObjects(self, doc: Any) -> None:
        """Write the font as its parent does, then its letters anew."""
        subsets = list(self.state[doc].subsets)
        names = [self.getSubsetInternalName(n, doc)[1:] for n in range(len(subsets))]
        super().addObjects(doc)
        for name, letters in zip(names, subsets, strict=True):
            written = doc.idToObject["BasicFonts"].dict[name].ToUnicode
            doc.idToObject[written.name].content = _letters(letters)


def _letters(codes: list[int]) -> str:
    """Return the map from a font's codes to letters, in blocks of at most a hundred."""
    known = [(n, _letter(code)) for n, code in enumerate(codes) if code]
    lines = [f"<{n:02X}> <{char.encode('utf-16-be').hex().upper()}>" for n, char in known]
    blocks = [lines[at : at + 100] for at in range(0, len(lines), 100)]
    mapped = "\n".join(
        "\n".join([f"{len(block)} beginbfchar", *block, "endbfchar"]) for block in blocks
    )
    return _CMAP.format(mapped=mapped)


def _letter(code: int) -> str:
    """Return a code's letter; shaping gives joined letters codes for private use."""
    return chr(code) if unicodedata.category(chr(code)) != "Co" else "\N{REPLACEMENT CHARACTER}"


_CMAP = """/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<00> <FF>
endcodespacerange
{mapped}
endcmap
CMapName currentdict /CMap defineresource pop
end
end"""


@cache
def font(name: str) -> TTFont:
    """Load and register one of the faces by its file's name."""
    with as_file(files("jobnotes.report") / "fonts" / f"{name}.ttf") as path:
        face = Face(name, str(path))
    pdfmetrics.registerFont(face)
    return face


def load() -> None:
    """Register the faces that styles name; fallbacks are loaded when a text needs one."""
    for name in (SERIF, BOLD, ITALIC, SANS, SEMIBOLD):
        font(name)


def markup(text: str, face: str = SERIF) -> str:
    """Return text as paragraph markup: escaped, right-to-left words in visual order."""
    drawn = _visual(text.translate(_SAME))
    if not is_shaped(drawn):
        return "".join(_runs(drawn, face))
    words = drawn.replace("\N{NO-BREAK SPACE}", " ").split(" ")
    return " ".join(" ".join(_runs(word, face)) for word in words)


def _runs(text: str, face: str) -> Iterator[str]:
    """Yield a text as stretches of one face each.

    A paragraph of joined letters is shaped a word at a time, by one face: there each stretch must
    become a word of its own, or it would be drawn with glyphs of another face.
    """
    first = next((char for char in text if is_shaped(char)), "")
    own = _face_for(first, face) if first else face
    for name, chars in groupby(text, key=lambda char: _face_for(char, own or face)):
        yield _run(name, "".join(chars), face)


def drawn_as_read(text: str) -> bool:
    """Say whether the letters stand on the page in the order of reading, each with its glyph."""
    moved = _RTL.search(text) or is_shaped(text)
    return not moved and all(_face_for(char, SERIF) for char in text.translate(_SAME))


def has_all(text: str, face: str) -> bool:
    """Say whether a face has every character of a text."""
    return all(_face_for(char, face) == face for char in text)


# Unicode blocks of the scripts whose letters change and move beside each other.
_SHAPED = re.compile(r"[\u0900-\u0dff\u0e00-\u0e7f\u1000-\u109f\u1780-\u17ff]")


def is_shaped(text: str) -> bool:
    """Say whether letters of a text change and move by what stands beside them."""
    return bool(_SHAPED.search(text))


def fitting(style: ParagraphStyle, text: str) -> ParagraphStyle:
    """Return the style, made to join letters where a text's script asks for that."""
    if not is_shaped(text):
        return style
    return ParagraphStyle(f"{style.name}-shaped", parent=style, shaping=1)


def _run(name: str, chars: str, face: str) -> str:
    if not name:
        return f'<font name="{FALLBACKS[1]}">{NO_GLYPH * len(chars)}</font>'
    safe = escape(chars).replace("\n", "<br/>")
    return safe if name == face else f'<font name="{name}">{safe}</font>'


def _face_for(char: str, face: str) -> str:
    """Return the first face that has the character, nothing where none has."""
    if char in "\n ":
        return face
    names = (face, *FALLBACKS)
    return next((name for name in names if ord(char) in font(name).face.charToGlyph), "")


_RTL = re.compile(r"[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff]")


def _visual(text: str) -> str:
    """Put each right-to-left stretch into the order in which it is drawn from the left."""
    if not _RTL.search(text):
        return text
    parts, at = [], 0
    for start, stop in _stretches(text):
        parts += [text[at:start], "\n".join(_drawn(line) for line in _lines(text[start:stop]))]
        at = stop
    return "".join([*parts, text[at:]])


def _stretches(text: str) -> Iterable[tuple[int, int]]:
    """Find the stretches from a right-to-left character to the last one before other letters."""
    start, last = -1, -1
    for n, char in enumerate(text):
        direction = unicodedata.bidirectional(char)
        if direction in ("R", "AL"):
            start, last = (n if start < 0 else start), n
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

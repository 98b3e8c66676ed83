"""The report's typefaces, and text set in them: escaped, with a fallback for every script."""

import re
import unicodedata
from collections.abc import Iterable
from functools import cache
from importlib.resources import as_file, files
from itertools import groupby
from typing import Any
from xml.sax.saxutils import escape

from arabic_reshaper import reshape  # type: ignore[import-untyped]
from bidi import get_display  # type: ignore[import-untyped]
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

SERIF, BOLD, ITALIC = "SourceSerifPro-Regular", "SourceSerifPro-Bold", "SourceSerifPro-It"
SANS, SEMIBOLD = "SourceSansPro-Regular", "SourceSansPro-Semibold"
FALLBACKS = (SERIF, "DejaVuSans", "DroidSansFallback")
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
    known = [(n, chr(code)) for n, code in enumerate(codes) if code]
    lines = [f"<{n:02X}> <{char.encode('utf-16-be').hex().upper()}>" for n, char in known]
    blocks = [lines[at : at + 100] for at in range(0, len(lines), 100)]
    mapped = "\n".join(
        "\n".join([f"{len(block)} beginbfchar", *block, "endbfchar"]) for block in blocks
    )
    return _CMAP.format(mapped=mapped)


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
    runs = groupby(_visual(text.translate(_SAME)), key=lambda char: _face_for(char, face))
    return "".join(_run(name, "".join(chars), face) for name, chars in runs)


def drawn_as_read(text: str) -> bool:
    """Say whether the letters stand on the page in the order of reading, each with its glyph."""
    return not _RTL.search(text) and all(_face_for(char, SERIF) for char in text.translate(_SAME))


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

"""A typeface as the PDF embeds it, whose letters can be read back."""

import re
import unicodedata
from collections.abc import Mapping
from typing import Any

from reportlab.pdfbase.ttfonts import TTFont

LIGATURES = range(0xFB00, 0xFB07)  # "ff" to "st", which readers search for as letters


class Face(TTFont):
    """A typeface whose every letter can be read back.

    Its parent maps what it leaves empty to U+0000, which ISO 14289-1, 7.21.7, forbids. Letters
    beyond U+FFFF are written in UTF-16 as ISO 32000-1, 9.10.3, asks.
    """

    hbAddPrivate: Any

    def __init__(self, name: str, path: str) -> None:
        """Read a face from its file."""
        super().__init__(name, path)
        self.joined: dict[int, str] = {}

    def hbFont(self, fontSize: float = 10) -> Any:
        """Return the font for shaping; a joined letter gets the width that the font file gives it.

        Its parent takes the width in one place, which kerning may have changed.
        """
        shaper = super().hbFont(fontSize)
        self._add: Any = self.hbAddPrivate
        self.hbAddPrivate = self._add_joined
        return shaper

    def _add_joined(self, name: str, glyph: int, _: float) -> int:
        scale: Any = self.pdfScale
        code: int = self._add(name, glyph, scale(self.face.hmetrics[glyph][0]))
        self.joined[code] = _named(name)
        return code

    def addObjects(self, doc: Any) -> None:
        """Write the font as its parent does, then its letters anew."""
        subsets = list(self.state[doc].subsets)
        names = [self.getSubsetInternalName(n, doc)[1:] for n in range(len(subsets))]
        super().addObjects(doc)
        for name, letters in zip(names, subsets, strict=True):
            written = doc.idToObject["BasicFonts"].dict[name].ToUnicode
            doc.idToObject[written.name].content = _letters(letters, self.joined)


def _letters(codes: list[int], joined: Mapping[int, str]) -> str:
    """Return the map from a font's codes to letters, in blocks of at most a hundred."""
    known = [(n, _letter(code, joined)) for n, code in enumerate(codes) if code]
    lines = [f"<{n:02X}> <{char.encode('utf-16-be').hex().upper()}>" for n, char in known]
    blocks = [lines[at : at + 100] for at in range(0, len(lines), 100)]
    mapped = "\n".join(
        "\n".join([f"{len(block)} beginbfchar", *block, "endbfchar"]) for block in blocks
    )
    return _CMAP.format(mapped=mapped)


def _letter(code: int, joined: Mapping[int, str]) -> str:
    """Return the letters of a code; shaping gives joined letters codes for private use."""
    if unicodedata.category(chr(code)) == "Co":
        return joined.get(code) or "\N{REPLACEMENT CHARACTER}"
    return unicodedata.normalize("NFKC", chr(code)) if code in LIGATURES else chr(code)


def _named(glyph: str) -> str:
    """Return the letters that a glyph's name tells ("f_j", "uni0915"), nothing where it does not.

    By the Adobe Glyph List Specification, 2.
    """
    parts = glyph.partition(".")[0].split("_")
    coded = [re.fullmatch(r"u(?:ni)?([0-9A-F]{4,6})", part) for part in parts]
    letters = [
        chr(int(code[1], 16)) if code else part for code, part in zip(coded, parts, strict=True)
    ]
    return "".join(letters) if all(len(letter) == 1 for letter in letters) else ""


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

"""The report's typefaces, and which of them has a letter."""

from functools import cache
from importlib.resources import as_file, files
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from jobnotes.report.english import rules
from jobnotes.report.face import Face

SERIF, BOLD, ITALIC = "SourceSerifPro-Regular", "SourceSerifPro-Bold", "SourceSerifPro-It"
SANS, SEMIBOLD = "SourceSansPro-Regular", "SourceSansPro-Semibold"


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


@cache
def face_for(char: str, face: str) -> str:
    """Return the first face that has the character, nothing where none has."""
    if char in "\n ":
        return face
    names = (face, SERIF, *(str(fallback["name"]) for fallback in fallbacks(char)))
    return next((name for name in names if ord(char) in font(name).face.charToGlyph), "")


def has_all(text: str, face: str) -> bool:
    """Say whether a face has every character of a text."""
    return all(face_for(char, face) == face for char in text)


@cache
def is_joined(char: str) -> bool:
    """Say whether a letter changes and moves by what stands beside it: it must be shaped."""
    return any(fallback["joined"] for fallback in fallbacks(char))


def fallbacks(char: str) -> list[dict[str, Any]]:
    """Return the faces that are for the block of a character, then those for any."""
    faces: list[dict[str, Any]] = rules("faces")["face"]
    return [face for face in faces if "blocks" not in face or _within(ord(char), face["blocks"])]


def _within(code: int, blocks: list[str]) -> bool:
    ends = (block.split("-") for block in blocks)
    return any(int(first, 16) <= code <= int(last, 16) for first, last in ends)

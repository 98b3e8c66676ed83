"""The story as one HTML file that holds everything it shows: for a phone, a screen, a printer."""

import re
from base64 import b64encode
from dataclasses import dataclass
from functools import cache, partial
from io import BytesIO
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape
from PIL import Image

from jobnotes.errors import AlternateTextError
from jobnotes.photos.marks import EDGE, EDGE_WIDTH, INK, STROKE, lines
from jobnotes.report import fonts, scale
from jobnotes.report.english import capital
from jobnotes.report.heads import logo_alt, logo_pixels
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.quoting import stretches
from jobnotes.report.story import (
    Gallery,
    Item,
    Measure,
    PartRow,
    PhotoBytes,
    Picture,
    Section,
    Story,
    Term,
)

SCREEN_PX = 1000  # the long side of a photo: 500 points of the page on a fine screen
LOGO_PX = 480
# The drawing of a measure in its own units: narrow, so that its words are large on a phone.
DRAWING = 200.0
BLOCKS = {"items": Item, "galleries": Gallery, "measures": Measure, "parts": PartRow, "terms": Term}


@dataclass(frozen=True)
class Shown:
    """A picture as the page holds it: its bytes as a data address, and its size in pixels."""

    address: str
    width: int
    height: int


def html(story: Story, photo_bytes: PhotoBytes) -> str:
    """Return the story as one HTML document that asks for nothing from outside and runs no script.

    `photo_bytes` gives a photo's JPEG or PNG bytes, upright and without metadata. Raises
    AlternateTextError for a picture without words that stand for it.
    """
    fonts.load()  # the drawings measure their words by them
    logo = _logo(story.shop.logo) if story.shop.logo else None
    shown = partial(photo_shown, photo_bytes=photo_bytes)
    alt = logo_alt(story)
    made: str = page("story.html").render(story=story, logo=logo, logo_alt=alt, photo=shown)
    return made


@cache
def page(name: str) -> Any:
    """Return a template of the package; it asks for nothing from outside, and escapes."""
    room = Environment(
        loader=PackageLoader("jobnotes.report", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    room.globals.update(blocks=_blocks, drawing=_drawing, strokes=_strokes, scale=scale, say=say)
    room.globals.update(ink=INK, edge=EDGE, edge_width=EDGE_WIDTH, stroke=STROKE)
    room.filters.update(capital=capital, visible=visible, told=told)
    return room.get_template(name)


def visible(text: str) -> str:
    """Return text without characters that HTML does not allow (HTML Standard, 13.2.3.5)."""
    return re.sub(r"[^\t\n\x20-\x7e\u00a0-\ufdcf\ufdf0-\ufffd\U00010000-\U0010fffd]", "", text)


def told(text: str) -> Markup:
    """Return a text of the report with the words that stay in English marked as such."""
    shown = (
        Markup('<span lang="en">{}</span>').format(visible(words)) if foreign else escape(words)
        for words, foreign in stretches(text)
    )
    return Markup("").join(shown)


def _blocks(section: Section) -> dict[str, list[Any]]:
    """Return the blocks of a section by their kind."""
    return {
        name: [block for block in section.blocks if isinstance(block, kind)]
        for name, kind in BLOCKS.items()
    }


def photo_shown(picture: Picture, photo_bytes: PhotoBytes) -> Shown:
    """Return a photo as a page holds it; raises AlternateTextError for one without words."""
    if not picture.alt.strip():
        raise AlternateTextError(f"Photo {picture.number} has no words that stand for it.")
    return _shown(photo_bytes(picture.photo, SCREEN_PX))


def _logo(data: bytes) -> Shown:
    """Return a logo drawn afresh, no larger than it is shown."""
    with Image.open(BytesIO(logo_pixels(data))) as pixels:
        pixels.thumbnail((LOGO_PX, LOGO_PX))
        kept = BytesIO()
        pixels.save(kept, "PNG")
    return _shown(kept.getvalue())


def _shown(data: bytes) -> Shown:
    with Image.open(BytesIO(data)) as pixels:
        kind = (pixels.format or "").lower()
        width, height = pixels.size
    return Shown(f"data:image/{kind};base64,{b64encode(data).decode()}", width, height)


def _strokes(picture: Picture, shown: Shown) -> tuple[str, ...]:
    """Return the marks on a photo as SVG paths over its pixels."""
    return tuple(
        "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in line)
        for line in lines(picture.photo.marks, shown.width, shown.height)
    )


def _drawing(measure: Measure) -> scale.Drawing | None:
    return scale.drawing(measure, measure.limits, DRAWING) if measure.limits else None

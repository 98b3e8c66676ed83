"""How the report looks: one accent ink, a serif for reading, a sans for labels and figures."""

from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle

from jobnotes.report.fonts import BOLD, ITALIC, SANS, SEMIBOLD, SERIF

INK = HexColor("#1c1b19")
ACCENT = HexColor("#1f4b66")
QUIET = HexColor("#5c5a55")
FAINT = HexColor("#b9b5ab")

PAGES = {"A4": A4, "Letter": LETTER}
# Points. The label column and its gutter stand left of the column of text.
MARGIN_SIDE, MARGIN_TOP, MARGIN_FOOT = 62.0, 74.0, 66.0
LABEL, GUTTER = 104.0, 18.0
INDENT = LABEL + GUTTER

_BODY = ParagraphStyle(
    "body",
    fontName=SERIF,
    fontSize=10.5,
    leading=15,
    textColor=INK,
    spaceAfter=5,
    allowWidows=0,
    allowOrphans=0,
    splitLongWords=1,
)


def _style(name: str, font: str, size: float, leading: float, **more: Any) -> ParagraphStyle:
    return ParagraphStyle(name, parent=_BODY, fontName=font, fontSize=size, leading=leading, **more)


BODY = _BODY
STEP = _style("step", SERIF, 10.5, 15, leftIndent=18, bulletFontName=SEMIBOLD, bulletFontSize=9.5)
QUOTE = _style("quote", ITALIC, 11.5, 16)
LEAD = _style("lead", ITALIC, 10.5, 15, spaceAfter=9)
NOTE = _style("note", SANS, 9, 12.5, textColor=QUIET, spaceAfter=3)
HEAD = _style("head", SEMIBOLD, 9.5, 13, textColor=ACCENT, spaceAfter=0)
TITLE = _style("title", BOLD, 24, 29, textColor=ACCENT, spaceAfter=5)
EYEBROW = _style("eyebrow", SEMIBOLD, 9, 12, textColor=QUIET, spaceAfter=4)
MACHINE = _style("machine", ITALIC, 12, 16, spaceAfter=8)
META = _style("meta", SANS, 9, 13, textColor=QUIET, spaceAfter=0)
SHOP = _style("shop", BOLD, 13, 17, spaceAfter=0)
ADDRESS = _style("address", SANS, 9, 12.5, textColor=QUIET, spaceAfter=0, alignment=TA_RIGHT)
CAPTION = _style("caption", SANS, 8.5, 11.5, textColor=QUIET, spaceAfter=0)
LABELLED = _style("labelled", SANS, 9.5, 13, spaceAfter=0)
MEASURE = _style("measure", SEMIBOLD, 9.5, 13, spaceAfter=0)
CELL = _style("cell", SANS, 9.5, 13, spaceAfter=0)
CELL_HEAD = _style("cell-head", SEMIBOLD, 8.5, 12, textColor=QUIET, spaceAfter=0)
DRAFT = _style("draft", ITALIC, 9.5, 13, textColor=ACCENT, spaceAfter=0)
EDGE = _style("edge", SANS, 8.5, 11, textColor=QUIET, spaceAfter=0)
EDGE_RIGHT = _style("edge-right", SANS, 8.5, 11, textColor=QUIET, spaceAfter=0, alignment=TA_RIGHT)
TERM_NAME = _style("term-name", SEMIBOLD, 9.5, 13, spaceAfter=3)
TERM = _style("term", SANS, 9.5, 13, spaceAfter=3)

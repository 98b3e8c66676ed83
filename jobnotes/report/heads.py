"""Letterhead, title block and the heads that hang beside their sections."""

from collections.abc import Iterator
from io import BytesIO

from PIL import Image as Pixels
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Image, Paragraph, Spacer, Table

from jobnotes.report import styles
from jobnotes.report.fonts import markup
from jobnotes.report.story import Section, Shop, Story

SECTION_GAP = 21.0
LOGO_WIDTH, LOGO_HEIGHT = 150.0, 48.0


def text(words: str, style: ParagraphStyle) -> Paragraph:
    """Return a paragraph of plain words in a style."""
    return Paragraph(markup(words, style.fontName), style)


class Gap(Flowable):
    """The space before a section, or what is left of the page if that is less."""

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take the space of a gap where there is room for it."""
        return width, min(SECTION_GAP, height)

    def draw(self) -> None:
        """Draw nothing."""


class SideHead(Flowable):
    """A section's head in the label column, level with what follows; it takes no height itself."""

    def __init__(self, section: Section) -> None:
        """Take the section whose title is printed and bookmarked."""
        super().__init__()
        self.section = section
        self.title = text(section.title, styles.HEAD)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take no height."""
        _, self.tall = self.title.wrap(styles.LABEL, height)
        return width, 0

    def draw(self) -> None:
        """Draw the title to the left of the column, and bookmark it."""
        self.canv.bookmarkPage(self.section.key)
        self.canv.addOutlineEntry(self.section.title, self.section.key, level=0)
        self.title.drawOn(self.canv, -styles.INDENT, -self.tall - 1)


class Wide(Flowable):
    """Something set over the label column and the column of text together."""

    def __init__(self, content: Flowable) -> None:
        """Take what is set."""
        super().__init__()
        self.content = content

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take the height of the content at its full width."""
        _, tall = self.content.wrap(width + styles.INDENT, height)
        return width, tall

    def draw(self) -> None:
        """Draw from the edge of the label column."""
        self.content.drawOn(self.canv, -styles.INDENT, 0)


def letterhead(shop: Shop, width: float) -> Iterator[Flowable]:
    """Yield the shop's name or logo on the left, its address and telephone on the right."""
    width += styles.INDENT
    name: list[Flowable] = [logo(shop.logo), Spacer(1, 6)] if shop.logo else []
    name += [text(shop.name, styles.SHOP)] if shop.name else []
    lines = [*shop.address.splitlines(), shop.phone]
    address = [text(line, styles.ADDRESS) for line in lines if line.strip()]
    if name or address:
        table = Table([[name, address]], colWidths=[width * 0.55, width * 0.45], hAlign="LEFT")
        table.setStyle(
            [
                *PLAIN,
                ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 8),
                ("LINEBELOW", (0, 0), (-1, -1), 0.8, styles.ACCENT),
            ]
        )
        yield Wide(table)
    yield Spacer(1, 26)


PLAIN = [
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]


def logo(data: bytes) -> Image:
    """Return a logo drawn afresh, so that nothing but its pixels gets into the report."""
    with Pixels.open(BytesIO(data)) as opened:
        pixels = opened.convert("RGBA")
    page = Pixels.new("RGBA", pixels.size, "white")
    flat = Pixels.alpha_composite(page, pixels).convert("RGB")
    kept = BytesIO()
    flat.save(kept, "PNG")
    scale = min(LOGO_WIDTH / flat.width, LOGO_HEIGHT / flat.height)
    return Image(BytesIO(kept.getvalue()), flat.width * scale, flat.height * scale, hAlign="LEFT")


def title_block(story: Story) -> Iterator[Flowable]:
    """Yield what the report is about, for whom, and in a draft what is still missing."""
    yield text("The story of your repair", styles.EYEBROW)
    yield text(story.title, styles.TITLE)
    if story.machine:
        yield text(story.machine, styles.MACHINE)
    technician = f"work by {story.technician}" if story.technician else ""
    customer = f"For {story.customer}" if story.customer else ""
    told = [customer, f"job {story.job}", story.date, technician]
    yield text(" · ".join(part for part in told if part), styles.META)
    for note in story.notes:
        yield Spacer(1, 4)
        yield text(note, styles.DRAFT)

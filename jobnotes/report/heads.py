"""Letterhead, title block and the heads that hang beside their sections."""

from collections.abc import Iterator
from io import BytesIO

from PIL import Image as Pixels
from reportlab.platypus import Flowable, Spacer

from jobnotes.report import styles
from jobnotes.report.fonts import SANS
from jobnotes.report.ink import Photograph
from jobnotes.report.story import Section, Story
from jobnotes.report.tagged import Ruled, words
from jobnotes.report.tags import Element

SECTION_GAP = 21.0
LOGO_WIDTH, LOGO_HEIGHT = 150.0, 48.0


class Gap(Flowable):
    """The space before a section, or what is left of the page if that is less."""

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Take the space of a gap where there is room for it."""
        return width, min(SECTION_GAP, height)

    def draw(self) -> None:
        """Draw nothing."""


class SideHead(Flowable):
    """A section's head in the label column, level with what follows; it takes no height itself."""

    def __init__(self, section: Section, tag: Element) -> None:
        """Take the section whose title is printed and bookmarked, and its element."""
        super().__init__()
        self.section = section
        self.title = words(section.title, styles.HEAD, tag.add("H2"))

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


def letterhead(story: Story, width: float, tag: Element) -> Iterator[Flowable]:
    """Yield the shop's name or logo on the left, its address and telephone on the right."""
    shop, width = story.shop, width + styles.INDENT
    name: list[Flowable] = [logo(story, tag), Spacer(1, 6)] if shop.logo else []
    name += [words(shop.name, styles.SHOP, tag.add("P"))] if shop.name else []
    lines = [*shop.address.splitlines(), shop.phone]
    address = [words(line, styles.ADDRESS, tag.add("P")) for line in lines if line.strip()]
    if name or address:
        table = Ruled([[name, address]], colWidths=[width * 0.55, width * 0.45], hAlign="LEFT")
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
    ("FONT", (0, 0), (-1, -1), SANS),  # else a table names a typeface that is not in the file
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]


def logo(story: Story, tag: Element) -> Photograph:
    """Return a logo drawn afresh, so that nothing but its pixels gets into the report."""
    figure = Photograph(logo_pixels(story.shop.logo), (), tag.add("Figure", alt=logo_alt(story)))
    return figure.fit(LOGO_WIDTH, LOGO_HEIGHT)


def logo_alt(story: Story) -> str:
    """Return what stands for the logo where it cannot be seen."""
    name = story.shop.name
    return story.say("logo", name=name) if name else story.say("logo-of-workshop")


def logo_pixels(data: bytes) -> bytes:
    """Return a picture as a PNG of its pixels on white."""
    with Pixels.open(BytesIO(data)) as opened:
        pixels = opened.convert("RGBA")
    page = Pixels.new("RGBA", pixels.size, "white")
    kept = BytesIO()
    Pixels.alpha_composite(page, pixels).convert("RGB").save(kept, "PNG")
    return kept.getvalue()


def title_block(story: Story, tag: Element) -> Iterator[Flowable]:
    """Yield what the report is about, for whom, and in a draft what is still missing."""
    yield words(story.say("story"), styles.EYEBROW, tag.add("P"))
    yield words(story.title, styles.TITLE, tag.add("H1"))
    if story.machine:
        yield words(story.machine, styles.MACHINE, tag.add("P"))
    yield words(story.about(), styles.META, tag.add("P"))
    for note in story.notes:
        yield Spacer(1, 4)
        yield words(note, styles.DRAFT, tag.add("P"))

"""The story as a PDF: the same bytes for the same story, ready to print on A4 or US Letter."""

from collections.abc import Callable
from functools import partial
from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph

from jobnotes.record import Photo
from jobnotes.report import fonts, styles
from jobnotes.report.flow import Column, section_flow
from jobnotes.report.fonts import SANS, fitting, markup
from jobnotes.report.heads import letterhead, title_block
from jobnotes.report.story import PageSize, PhotoBytes, Story
from jobnotes.report.tags import Element, TaggedCanvas

# Photos and pages go in as bytes: as letters (ASCII 85) they would be a quarter larger, and slow.
rl_config.useA85 = 0

DRAFT_LINE = "Draft – not yet checked by the office"
EDGE_LETTERS = 90


def pdf(story: Story, photo_bytes: PhotoBytes, page: PageSize = "A4") -> bytes:
    """Return the story as a PDF file that keeps PDF/UA-1 (ISO 14289-1).

    `photo_bytes` gives a photo's JPEG or PNG bytes, upright and without metadata, its long side at
    most so many pixels; they go into the file as they are. Raises AlternateTextError.
    """
    fonts.load()
    kept = once(photo_bytes)
    _, pages = _built(story, kept, page, total=0)
    return _built(story, kept, page, total=pages)[0]


def once(photo_bytes: PhotoBytes) -> PhotoBytes:
    """Fetch each photo once though the document is laid out twice, first to count its pages."""
    fetched: dict[tuple[str, int], bytes] = {}

    def fetch(photo: Photo, px: int) -> bytes:
        if (photo.id, px) not in fetched:
            fetched[photo.id, px] = photo_bytes(photo, px)
        return fetched[photo.id, px]

    return fetch


def _built(
    story: Story, photo_bytes: PhotoBytes, page: PageSize, *, total: int
) -> tuple[bytes, int]:
    target, root = BytesIO(), Element("Document")
    title, author = story.name(), story.shop.name or "jobnotes"
    document = _document(target, story, page, title=title, author=author)
    size = styles.PAGES[page]
    width = size[0] - 2 * styles.MARGIN_SIDE - styles.INDENT
    template = PageTemplate(frames=[_frame(size, width)], onPage=_edges(story, total))
    document.addPageTemplates(template)
    canvas = partial(TaggedCanvas, root=root, title=title, author=author, pdfVersion=(1, 7))
    document.build(_flow(story, Column(width, photo_bytes), root), canvasmaker=canvas)
    return target.getvalue(), document.page


def _frame(size: tuple[float, float], width: float) -> Frame:
    """Return the column of text, right of the labels."""
    tall = size[1] - styles.MARGIN_TOP - styles.MARGIN_FOOT
    return Frame(
        styles.MARGIN_SIDE + styles.INDENT, styles.MARGIN_FOOT, width, tall,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip


def _document(
    target: BytesIO, story: Story, page: PageSize, *, title: str, author: str
) -> BaseDocTemplate:
    return BaseDocTemplate(
        target,
        pagesize=styles.PAGES[page],
        title=title,
        author=author,
        subject=f"Job {story.job}",
        creator="jobnotes",
        lang="en",
        displayDocTitle=True,
        invariant=1,
        initialFontName=SANS,
    )


def _flow(story: Story, column: Column, root: Element) -> list[Flowable]:
    flow = [*letterhead(story.shop, column.width, root), *title_block(story, root)]
    for section in story.sections:
        flow += section_flow(section, column, root.add("Sect"))
    return flow


def _edges(story: Story, total: int) -> Callable[[Any, BaseDocTemplate], None]:
    """Return what draws head and foot of a page, which are no content of the story."""

    def draw(canvas: Any, document: BaseDocTemplate) -> None:
        number = canvas.getPageNumber()
        with canvas.artifact("/Type /Pagination /Subtype /Header"):
            _head(canvas, story, first=number == 1)
        with canvas.artifact("/Type /Pagination /Subtype /Footer"):
            _foot(canvas, story, f"Page {number} of {total}")

    return draw


def _head(canvas: TaggedCanvas, story: Story, *, first: bool) -> None:
    _, tall = canvas.page_size
    if story.draft:
        edge_line(canvas, DRAFT_LINE, styles.DRAFT, tall - 40, styles.MARGIN_SIDE)
    if not first:
        edge_line(canvas, story.shop.name, styles.EDGE_RIGHT, tall - 40, styles.MARGIN_SIDE)


def _foot(canvas: TaggedCanvas, story: Story, number: str) -> None:
    side = styles.MARGIN_SIDE
    edge_line(canvas, f"{story.title}, job {story.job}", styles.EDGE, 34, side, share=0.8)
    edge_line(canvas, number, styles.EDGE_RIGHT, 34, side)


def edge_line(
    canvas: TaggedCanvas, text: str, style: ParagraphStyle, y: float, side: float, share: float = 1
) -> None:
    """Write one line at the edge of a page, shortened where it does not fit.

    `side` is the margin left and right, in points, `share` how much of the rest it may take.
    """
    width = (canvas.page_size[0] - 2 * side) * share
    line = _paragraph(text, style)
    _, tall = line.wrap(width, style.leading)
    while tall > style.leading:
        text = text[: min(EDGE_LETTERS, len(text) - 4)]
        line = _paragraph(f"{text}…", style)
        _, tall = line.wrap(width, style.leading)
    line.drawOn(canvas, side, y)


def _paragraph(text: str, style: ParagraphStyle) -> Paragraph:
    return Paragraph(markup(text, style.fontName), fitting(style, text))

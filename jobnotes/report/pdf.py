"""The story as a PDF: the same bytes for the same story, ready to print on A4 or US Letter."""

from collections.abc import Callable
from io import BytesIO
from typing import Literal

from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from jobnotes.record import Photo
from jobnotes.report import fonts, styles
from jobnotes.report.flow import Column, section_flow
from jobnotes.report.fonts import SANS
from jobnotes.report.heads import letterhead, text, title_block
from jobnotes.report.photos import PhotoBytes
from jobnotes.report.story import Story

PageSize = Literal["A4", "Letter"]
DRAFT_LINE = "Draft – not yet checked by the office"
EDGE_LETTERS = 90


def pdf(story: Story, photo_bytes: PhotoBytes, page: PageSize = "A4") -> bytes:
    """Return the story as a PDF file.

    `photo_bytes` gives a photo's JPEG or PNG bytes, upright and without metadata; they go into the
    file as they are.
    """
    fonts.load()
    kept = _once(photo_bytes)
    _, pages = _built(story, kept, page, total=0)
    return _built(story, kept, page, total=pages)[0]


def _once(photo_bytes: PhotoBytes) -> PhotoBytes:
    """Fetch each photo once though the document is laid out twice, first to count its pages."""
    fetched: dict[str, bytes] = {}

    def fetch(photo: Photo) -> bytes:
        if photo.id not in fetched:
            fetched[photo.id] = photo_bytes(photo)
        return fetched[photo.id]

    return fetch


def _built(
    story: Story, photo_bytes: PhotoBytes, page: PageSize, *, total: int
) -> tuple[bytes, int]:
    target = BytesIO()
    size = styles.PAGES[page]
    document = BaseDocTemplate(
        target,
        pagesize=size,
        title=f"{story.title}: the story of your repair",
        author=story.shop.name or "jobnotes",
        subject=f"Job {story.job}",
        creator="jobnotes",
        lang="en",
        displayDocTitle=True,
        invariant=1,
        initialFontName=SANS,
    )
    left = styles.MARGIN_SIDE + styles.INDENT
    width = size[0] - left - styles.MARGIN_SIDE
    tall = size[1] - styles.MARGIN_TOP - styles.MARGIN_FOOT
    frame = Frame(
        left, styles.MARGIN_FOOT, width, tall,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    edges = _edges(story, total)
    document.addPageTemplates(PageTemplate(frames=[frame], onPage=edges, pagesize=size))
    document.build(_flow(story, photo_bytes, width))
    return target.getvalue(), document.page


def _flow(story: Story, photo_bytes: PhotoBytes, width: float) -> list[Flowable]:
    column = Column(width, photo_bytes)
    flow = [*letterhead(story.shop, width), *title_block(story)]
    for section in story.sections:
        flow += section_flow(section, column)
    return flow


def _edges(story: Story, total: int) -> Callable[[Canvas, BaseDocTemplate], None]:
    """Return what draws head and foot of a page."""

    def draw(canvas: Canvas, document: BaseDocTemplate) -> None:
        wide, tall = document.pagesize
        width = wide - 2 * styles.MARGIN_SIDE
        number = canvas.getPageNumber()
        if story.draft:
            _line(canvas, DRAFT_LINE, styles.DRAFT, tall - 40, width)
        if number > 1:
            _line(canvas, story.shop.name, styles.EDGE_RIGHT, tall - 40, width)
        _line(canvas, f"{story.title}, job {story.job}", styles.EDGE, 34, width * 0.8)
        _line(canvas, f"Page {number} of {total}", styles.EDGE_RIGHT, 34, width)

    return draw


def _line(canvas: Canvas, words: str, style: ParagraphStyle, y: float, width: float) -> None:
    """Write one line at the edge of a page, shortened where it does not fit."""
    line = text(words, style)
    _, tall = line.wrap(width, style.leading)
    while tall > style.leading:
        words = words[: min(EDGE_LETTERS, len(words) - 4)]
        line = text(f"{words}…", style)
        _, tall = line.wrap(width, style.leading)
    line.drawOn(canvas, styles.MARGIN_SIDE, y)

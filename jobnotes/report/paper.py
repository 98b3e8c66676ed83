"""What every PDF is made of: its pages, its tagged canvas, the lines at their edges."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph

from jobnotes.record import Language, Photo
from jobnotes.report import fonts, styles
from jobnotes.report.fonts import SANS
from jobnotes.report.languages.messages import say
from jobnotes.report.lettering import fitting, markup
from jobnotes.report.story import PageSize, PhotoBytes
from jobnotes.report.tags import Element, TaggedCanvas

# Photos and pages go in as bytes: as letters (ASCII 85) they would be a quarter larger, and slow.
rl_config.useA85 = 0

EDGE_LETTERS = 90


@dataclass(frozen=True)
class Paper:
    """A document that is to be printed; its text stands between `left` and `right`, in points.

    `flow` fills the structure tree and a column of a width; `head` and `foot` draw what is no
    content, on a page of a number and with that number in words.
    """

    title: str
    author: str
    job: str
    page: PageSize
    language: Language
    left: float
    right: float
    flow: Callable[[Element, float], Iterable[Flowable]]
    head: Callable[[TaggedCanvas, int], None]
    foot: Callable[[TaggedCanvas, str], None]

    @property
    def width(self) -> float:
        """Return the width of the column of text."""
        return styles.PAGES[self.page][0] - self.left - self.right


def bound(paper: Paper) -> bytes:
    """Return the document as a PDF file that keeps PDF/UA-1 (ISO 14289-1)."""
    fonts.load()
    _, pages = _built(paper, total=0)
    return _built(paper, total=pages)[0]


def once(photo_bytes: PhotoBytes) -> PhotoBytes:
    """Fetch each photo once though the document is laid out twice, first to count its pages."""
    fetched: dict[tuple[str, int], bytes] = {}

    def fetch(photo: Photo, px: int) -> bytes:
        if (photo.id, px) not in fetched:
            fetched[photo.id, px] = photo_bytes(photo, px)
        return fetched[photo.id, px]

    return fetch


def _built(paper: Paper, *, total: int) -> tuple[bytes, int]:
    target, root = BytesIO(), Element("Document")
    document = _document(target, paper)
    template = PageTemplate(frames=[_frame(paper)], onPage=_edges(paper, total))
    document.addPageTemplates(template)
    named = {"title": paper.title, "author": paper.author, "language": paper.language}
    canvas = partial(TaggedCanvas, root=root, pdfVersion=(1, 7), **named)
    document.build(list(paper.flow(root, paper.width)), canvasmaker=canvas)
    return target.getvalue(), document.page


def _frame(paper: Paper) -> Frame:
    _, tall = styles.PAGES[paper.page]
    return Frame(
        paper.left, styles.MARGIN_FOOT, paper.width, tall - styles.MARGIN_TOP - styles.MARGIN_FOOT,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip


def _document(target: BytesIO, paper: Paper) -> BaseDocTemplate:
    return BaseDocTemplate(
        target,
        pagesize=styles.PAGES[paper.page],
        title=paper.title,
        author=paper.author,
        subject=say(paper.language, "subject", job=paper.job),
        creator="jobnotes",
        lang=paper.language,
        displayDocTitle=True,
        invariant=1,
        initialFontName=SANS,
    )


def _edges(paper: Paper, total: int) -> Callable[[Any, BaseDocTemplate], None]:
    """Return what draws head and foot of a page, which are no content."""

    def draw(canvas: Any, document: BaseDocTemplate) -> None:
        number = canvas.getPageNumber()
        with canvas.artifact("/Type /Pagination /Subtype /Header"):
            paper.head(canvas, number)
        with canvas.artifact("/Type /Pagination /Subtype /Footer"):
            paper.foot(canvas, _page_of(paper, number, total))

    return draw


def _page_of(paper: Paper, number: int, total: int) -> str:
    return say(paper.language, "page", number=f"{number}", total=f"{total}")


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

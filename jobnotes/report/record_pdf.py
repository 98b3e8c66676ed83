"""The job record as a PDF: tables over the whole width, set in the story's faces."""

from collections.abc import Callable, Iterator
from io import BytesIO
from typing import Any

from reportlab.lib.colors import white
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
)

from jobnotes.report import fonts, styles
from jobnotes.report.english import rules
from jobnotes.report.fonts import BOLD, SANS, markup
from jobnotes.report.heads import PLAIN, text
from jobnotes.report.machine import Series
from jobnotes.report.pdf import PageSize
from jobnotes.report.photos import PhotoBytes, photo_rows
from jobnotes.report.plot import WIDE, drawing
from jobnotes.report.record_content import Chapter, Record, Row, marks

SIDE = 48.0  # points left and right: a table needs more width than the story's prose
SAID, REVIEWED = 62.0, 96.0  # points for the two columns of source and review
ROOM = 110.0  # points that must be left on a page for a chapter to begin there
PAD, PAD_ROW = 6.0, 3.0
LONG = 700  # letters: a cell of more may be taller than a page, so its row may be cut
RULED: list[Any] = [
    ("RIGHTPADDING", (0, 0), (-2, -1), PAD),
    ("TOPPADDING", (0, 1), (-1, -1), PAD_ROW),
    ("BOTTOMPADDING", (0, 0), (-1, -1), PAD_ROW),
    ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT),
    ("LINEBELOW", (0, 1), (-1, -1), 0.4, styles.FAINT),
]
HEAD_GAP = 14.0
HEADING = ParagraphStyle(
    "chapter", parent=styles.BODY, fontName=BOLD, fontSize=13, leading=17, textColor=styles.ACCENT
)


def record_pdf(record: Record, photo_bytes: PhotoBytes, page: PageSize = "A4") -> bytes:
    """Return the record as a PDF file; `photo_bytes` as for the story, called once a photo."""
    fonts.load()
    kept: dict[str, bytes] = {
        picture.photo.id: photo_bytes(picture.photo)
        for chapter in record.chapters
        for picture in chapter.pictures
    }
    _, pages = _built(record, lambda photo: kept[photo.id], page, total=0)
    return _built(record, lambda photo: kept[photo.id], page, total=pages)[0]


def _built(
    record: Record, photo_bytes: PhotoBytes, page: PageSize, *, total: int
) -> tuple[bytes, int]:
    target, size = BytesIO(), styles.PAGES[page]
    document = BaseDocTemplate(
        target,
        pagesize=size,
        title=f"{record.title}: job record {record.job}",
        author=record.shop.name or "jobnotes",
        subject=f"Job {record.job}",
        creator="jobnotes",
        lang="en",
        displayDocTitle=True,
        invariant=1,
        initialFontName=SANS,
    )
    width = size[0] - 2 * SIDE
    tall = size[1] - styles.MARGIN_TOP - styles.MARGIN_FOOT
    frame = Frame(
        SIDE, styles.MARGIN_FOOT, width, tall,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    edges = _edges(record, total)
    document.addPageTemplates(PageTemplate(frames=[frame], onPage=edges, pagesize=size))
    document.build(list(_flow(record, photo_bytes, width)))
    return target.getvalue(), document.page


def _flow(record: Record, photo_bytes: PhotoBytes, width: float) -> Iterator[Flowable]:
    yield from _head(record, width)
    for chapter in record.chapters:
        yield CondPageBreak(ROOM)
        yield _Heading(chapter)
        if chapter.lead:
            yield text(chapter.lead, styles.NOTE)
        if chapter.rows:
            yield _table(chapter, width)
        yield from (_plot(series, width) for series in chapter.plots)
        yield from photo_rows(chapter.pictures, width, photo_bytes)


class _Heading(Flowable):
    """A chapter's title, bookmarked, with the space before it."""

    def __init__(self, chapter: Chapter) -> None:
        super().__init__()
        self.chapter = chapter
        self.title = text(chapter.title, HEADING)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        _, self.tall = self.title.wrap(width, height)
        return width, self.tall + HEAD_GAP

    def draw(self) -> None:
        self.canv.bookmarkPage(self.chapter.key)
        self.canv.addOutlineEntry(self.chapter.title, self.chapter.key, level=0)
        self.title.drawOn(self.canv, 0, 2)


def _head(record: Record, width: float) -> Iterator[Flowable]:
    """Yield what the record is about, and what is missing from it."""
    yield text(f"Job record · {record.shop.name}".rstrip(" ·"), styles.EYEBROW)
    yield text(record.title, styles.TITLE)
    cells = [
        [text(label, styles.CELL_HEAD), text(value, styles.CELL)] for label, value in record.about
    ]
    table = Table(cells, colWidths=[width * 0.22, width * 0.78], hAlign="LEFT")
    table.setStyle([*PLAIN, ("BOTTOMPADDING", (0, 0), (-1, -1), 1)])
    yield table
    yield Spacer(1, 6)
    yield from (text(note, styles.DRAFT) for note in record.notes)


def _table(chapter: Chapter, width: float) -> Table:
    """Return a chapter's table: its own columns share what source and review leave."""
    words = rules("record")["words"]
    heads = [*chapter.heads, *((words["said"], words["reviewed"]) if chapter.traced else ())]
    left = width - (SAID + REVIEWED if chapter.traced else 0)
    widths = [left * share for share in rules("record")[chapter.key]["shares"]]
    widths += [SAID, REVIEWED] if chapter.traced else []
    cells: list[list[object]] = [[text(head, styles.CELL_HEAD) for head in heads]]
    extra: list[Any] = []
    for row in chapter.rows:
        cells.append(_cells(row, traced=chapter.traced))
        for line in marks(row):
            extra += _joined(len(cells))
            cells.append([text(line, styles.DRAFT), *[""] * (len(heads) - 1)])
    tall = max(len(cell) for row in chapter.rows for cell in row.cells) > LONG
    table = Table(cells, colWidths=widths, repeatRows=1, hAlign="LEFT", splitInRow=int(tall))
    table.setStyle([*PLAIN, *RULED, *extra])
    return table


def _joined(at: int) -> list[Any]:
    """Return what sets a row over the whole width and keeps it with the one before."""
    return [
        ("SPAN", (0, at), (-1, at)),
        ("TOPPADDING", (0, at), (-1, at), 0),
        ("LINEBELOW", (0, at - 1), (-1, at - 1), 0.4, white),
        ("NOSPLIT", (0, at - 1), (0, at)),
    ]


def _plot(series: Series, width: float) -> Table:
    """Return a drawing with its words beside it."""
    words = text(series.words, styles.CELL)
    table = Table([[drawing(series), words]], colWidths=[WIDE + PAD, width - WIDE - PAD])
    table.hAlign = "LEFT"
    table.setStyle([*PLAIN, ("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("NOSPLIT", (0, 0), (-1, -1))])
    return table


def _cells(row: Row, *, traced: bool) -> list[object]:
    told = [text(cell, styles.CELL) for cell in row.cells]
    source = [text(row.said, styles.CAPTION), text(row.reviewed, styles.CAPTION)]
    return [*told, *(source if traced else [])]


def _edges(record: Record, total: int) -> Callable[[Canvas, BaseDocTemplate], None]:
    """Return what draws head and foot of a page."""

    def draw(canvas: Canvas, document: BaseDocTemplate) -> None:
        wide, tall = document.pagesize
        number = canvas.getPageNumber()
        width = wide - 2 * SIDE
        _line(canvas, rules("record")["words"]["edge"], tall - 40, width)
        _line(canvas, f"{record.title[:60]}, job {record.job}", 34, width)
        page = Paragraph(markup(f"Page {number} of {total}", SANS), styles.EDGE_RIGHT)
        page.wrap(width, styles.EDGE.leading)
        page.drawOn(canvas, SIDE, 34)

    return draw


def _line(canvas: Canvas, words: str, y: float, width: float) -> None:
    line = text(words, styles.EDGE)
    line.wrap(width, styles.EDGE.leading)
    line.drawOn(canvas, SIDE, y)

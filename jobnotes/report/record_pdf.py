"""The job record as a PDF: tables over the whole width, set in the story's faces."""

from collections.abc import Callable, Iterator
from functools import partial
from io import BytesIO
from typing import Any

from reportlab.graphics import renderPDF
from reportlab.lib.colors import white
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    PageTemplate,
    Spacer,
    Table,
)

from jobnotes.report import fonts, styles
from jobnotes.report.english import rules
from jobnotes.report.flow import head_cells
from jobnotes.report.fonts import BOLD, SANS
from jobnotes.report.heads import PLAIN
from jobnotes.report.machine import Series
from jobnotes.report.pdf import edge_line, once
from jobnotes.report.photos import photo_rows
from jobnotes.report.plot import TALL, WIDE, drawing
from jobnotes.report.record_content import Chapter, Record, Row, marks
from jobnotes.report.story import PageSize, PhotoBytes
from jobnotes.report.tagged import Drawn, Ruled, words
from jobnotes.report.tags import Element, TaggedCanvas

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
    """Return the record as a PDF file that keeps PDF/UA-1; `photo_bytes` as for the story."""
    fonts.load()
    kept = once(photo_bytes)
    _, pages = _built(record, kept, page, total=0)
    return _built(record, kept, page, total=pages)[0]


def _built(
    record: Record, photo_bytes: PhotoBytes, page: PageSize, *, total: int
) -> tuple[bytes, int]:
    target, size, root = BytesIO(), styles.PAGES[page], Element("Document")
    title, author = f"{record.title}: job record {record.job}", record.shop.name or "jobnotes"
    document = BaseDocTemplate(
        target, pagesize=size, title=title, author=author, subject=f"Job {record.job}",
        creator="jobnotes", lang="en", displayDocTitle=True, invariant=1, initialFontName=SANS,
    )  # fmt: skip
    width = size[0] - 2 * SIDE
    tall = size[1] - styles.MARGIN_TOP - styles.MARGIN_FOOT
    frame = Frame(
        SIDE, styles.MARGIN_FOOT, width, tall,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    edges = _edges(record, total)
    document.addPageTemplates(PageTemplate(frames=[frame], onPage=edges, pagesize=size))
    canvas = partial(TaggedCanvas, root=root, title=title, author=author, pdfVersion=(1, 7))
    document.build(list(_flow(record, photo_bytes, width, root)), canvasmaker=canvas)
    return target.getvalue(), document.page


def _flow(
    record: Record, photo_bytes: PhotoBytes, width: float, root: Element
) -> Iterator[Flowable]:
    yield from _head(record, width, root)
    for chapter in record.chapters:
        tag = root.add("Sect")
        yield CondPageBreak(ROOM)
        yield _Heading(chapter, tag)
        if chapter.lead:
            yield words(chapter.lead, styles.NOTE, tag.add("P"))
        if chapter.rows:
            yield _table(chapter, width, tag)
        yield from (_plot(series, width, tag) for series in chapter.plots)
        yield from photo_rows(chapter.pictures, width, photo_bytes, tag)


class _Heading(Flowable):
    """A chapter's title, bookmarked, with the space before it."""

    def __init__(self, chapter: Chapter, tag: Element) -> None:
        super().__init__()
        self.chapter = chapter
        self.title = words(chapter.title, HEADING, tag.add("H2"))

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        _, self.tall = self.title.wrap(width, height)
        return width, self.tall + HEAD_GAP

    def draw(self) -> None:
        self.canv.bookmarkPage(self.chapter.key)
        self.canv.addOutlineEntry(self.chapter.title, self.chapter.key, level=0)
        self.title.drawOn(self.canv, 0, 2)


def _head(record: Record, width: float, root: Element) -> Iterator[Flowable]:
    """Yield what the record is about, and what is missing from it."""
    yield words(f"Job record · {record.shop.name}".rstrip(" ·"), styles.EYEBROW, root.add("P"))
    yield words(record.title, styles.TITLE, root.add("H1"))
    entries = root.add("L", attributes={"List": {"ListNumbering": "None"}})
    cells = []
    for label, value in record.about:
        entry = entries.add("LI")
        name = words(label, styles.CELL_HEAD, entry.add("Lbl"))
        cells.append([name, words(value, styles.CELL, entry.add("LBody"))])
    table = Table(cells, colWidths=[width * 0.22, width * 0.78], hAlign="LEFT")
    table.setStyle([*PLAIN, ("BOTTOMPADDING", (0, 0), (-1, -1), 1)])
    yield table
    yield Spacer(1, 6)
    yield from (words(note, styles.DRAFT, root.add("P")) for note in record.notes)


def _table(chapter: Chapter, width: float, tag: Element) -> Table:
    """Return a chapter's table: its own columns share what source and review leave."""
    said = rules("record")["words"]
    heads = [*chapter.heads, *((said["said"], said["reviewed"]) if chapter.traced else ())]
    left = width - (SAID + REVIEWED if chapter.traced else 0)
    widths = [left * share for share in rules("record")[chapter.key]["shares"]]
    widths += [SAID, REVIEWED] if chapter.traced else []
    body = tag.add("Table")
    cells: list[list[Any]] = [head_cells(heads, styles.CELL_HEAD, body)]
    extra: list[Any] = []
    for row in chapter.rows:
        told, first = _cells(row, body, traced=chapter.traced)
        cells.append(told)
        for line in marks(row):
            extra += _joined(len(cells))
            cells.append([words(line, styles.DRAFT, first.add("P")), *[""] * (len(heads) - 1)])
    tall = max(len(cell) for row in chapter.rows for cell in row.cells) > LONG
    table = Ruled(cells, colWidths=widths, repeatRows=1, hAlign="LEFT", splitInRow=int(tall))
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


class _Plot(Drawn):
    """The drawing of a series as one figure; the words beside it say the same."""

    def __init__(self, series: Series, tag: Element) -> None:
        super().__init__(tag)
        self.series, self.width, self.height = series, WIDE, TALL

    def figure(self, canvas: TaggedCanvas) -> None:
        renderPDF.draw(drawing(self.series), canvas, 0, 0)


def _plot(series: Series, width: float, tag: Element) -> Table:
    """Return a drawing with its words beside it."""
    figure = _Plot(series, tag.add("Figure", alt=series.words))
    told = words(series.words, styles.CELL, tag.add("P"))
    table = Table([[figure, told]], colWidths=[WIDE + PAD, width - WIDE - PAD])
    table.hAlign = "LEFT"
    table.setStyle([*PLAIN, ("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("NOSPLIT", (0, 0), (-1, -1))])
    return table


def _cells(row: Row, body: Element, *, traced: bool) -> tuple[list[Any], Element]:
    """Return the cells of a row, and its first: doubts told under it belong to that."""
    line = body.add("TR")
    first = line.add("TH", attributes={"Table": {"Scope": "Row"}})
    told = [words(row.cells[0], styles.CELL, first.add("P"))]
    told += [words(cell, styles.CELL, line.add("TD")) for cell in row.cells[1:]]
    source = (row.said, row.reviewed) if traced else ()
    return [*told, *(words(text, styles.CAPTION, line.add("TD")) for text in source)], first


def _edges(record: Record, total: int) -> Callable[[Any, BaseDocTemplate], None]:
    """Return what draws head and foot of a page, which are no content of the record."""

    def draw(canvas: Any, document: BaseDocTemplate) -> None:
        _, tall = document.pagesize
        number = f"Page {canvas.getPageNumber()} of {total}"
        with canvas.artifact("/Type /Pagination /Subtype /Header"):
            edge_line(canvas, rules("record")["words"]["edge"], styles.EDGE, tall - 40, SIDE)
        with canvas.artifact("/Type /Pagination /Subtype /Footer"):
            foot = f"{record.title}, job {record.job}"
            edge_line(canvas, foot, styles.EDGE, 34, SIDE, share=0.8)
            edge_line(canvas, number, styles.EDGE_RIGHT, 34, SIDE)

    return draw

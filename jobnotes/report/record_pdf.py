"""The job record as a PDF: tables over the whole width, set in the story's faces."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from reportlab.lib.colors import white
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import CondPageBreak, Flowable, Spacer, Table

from jobnotes.report import styles
from jobnotes.report.english import rules
from jobnotes.report.fonts import BOLD
from jobnotes.report.heads import PLAIN
from jobnotes.report.ink import Plot
from jobnotes.report.machine import Series
from jobnotes.report.paper import Paper, bound, edge_line, once
from jobnotes.report.photos import photo_rows
from jobnotes.report.plot import WIDE
from jobnotes.report.record_form import Chapter, Record, Row, marks
from jobnotes.report.story import PageSize, PhotoBytes
from jobnotes.report.tables import head_cells, labelled, row_cells, ruled
from jobnotes.report.tagged import words
from jobnotes.report.tags import Element, TaggedCanvas

SIDE = 48.0  # points left and right: a table needs more width than the story's prose
SAID, REVIEWED = 62.0, 96.0  # points for the two columns of source and review
ROOM = 110.0  # points that must be left on a page for a chapter to begin there
LABEL = 110.0  # points for the labels of what the record is about
PAD = 6.0
HEAD_GAP = 14.0
HEADING = ParagraphStyle(
    "chapter", parent=styles.BODY, fontName=BOLD, fontSize=13, leading=17, textColor=styles.ACCENT
)


def record_pdf(record: Record, photo_bytes: PhotoBytes, page: PageSize = "A4") -> bytes:
    """Return the record as a PDF file that keeps PDF/UA-1; `photo_bytes` as for the story."""
    paper = Paper(
        title=record.name(),
        author=record.shop.name or "jobnotes",
        job=record.job,
        page=page,
        language="en",
        left=SIDE,
        right=SIDE,
        flow=partial(_flow, record, once(photo_bytes)),
        head=_edge,
        foot=partial(_foot, record),
    )
    return bound(paper)


def _flow(
    record: Record, photo_bytes: PhotoBytes, root: Element, width: float
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
    yield labelled(record.about, (LABEL, width - LABEL), styles.CELL_HEAD, styles.CELL, root)
    yield Spacer(1, 6)
    yield from (words(note, styles.DRAFT, root.add("P")) for note in record.notes)


def _table(chapter: Chapter, width: float, tag: Element) -> Table:
    """Return a chapter's table; what is in doubt about a row stands under it, over its width."""
    said, body = rules("record")["words"], tag.add("Table")
    heads = [*chapter.heads, *((said["said"], said["reviewed"]) if chapter.traced else ())]
    cells: list[list[Any]] = [head_cells(heads, body)]
    extra: list[Any] = []
    for row in chapter.rows:
        told, first = row_cells(_texts(row, traced=chapter.traced), body)
        cells.append(told)
        for line in marks(row):
            extra += _joined(len(cells))
            cells.append([words(line, styles.DRAFT, first.add("P")), *[""] * (len(heads) - 1)])
    return ruled(cells, _widths(chapter, width), PAD, extra)


def _widths(chapter: Chapter, width: float) -> list[float]:
    """Return the columns' widths: a chapter's own share what source and review leave."""
    traced = [SAID, REVIEWED] if chapter.traced else []
    shares = rules("record")[chapter.key]["shares"]
    return [*((width - sum(traced)) * share for share in shares), *traced]


def _texts(row: Row, *, traced: bool) -> list[tuple[str, ParagraphStyle]]:
    source = (row.said, row.reviewed) if traced else ()
    return [
        *((text, styles.CELL) for text in row.cells),
        *((text, styles.CAPTION) for text in source),
    ]


def _joined(at: int) -> list[Any]:
    """Return what sets a row over the whole width and keeps it with the one before."""
    return [
        ("SPAN", (0, at), (-1, at)),
        ("TOPPADDING", (0, at), (-1, at), 0),
        ("LINEBELOW", (0, at - 1), (-1, at - 1), 0.4, white),
        ("NOSPLIT", (0, at - 1), (0, at)),
    ]


def _plot(series: Series, width: float, tag: Element) -> Table:
    """Return a drawing with its words beside it."""
    figure = Plot(series, tag.add("Figure", alt=series.alt))
    told = words(series.words, styles.CELL, tag.add("P"))
    table = Table([[figure, told]], colWidths=[WIDE + PAD, width - WIDE - PAD])
    table.hAlign = "LEFT"
    table.setStyle([*PLAIN, ("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("NOSPLIT", (0, 0), (-1, -1))])
    return table


def _edge(canvas: TaggedCanvas, _number: int) -> None:
    """Say at the head of each page whom the record is for."""
    _, tall = canvas.page_size
    edge_line(canvas, rules("record")["words"]["edge"], styles.EDGE, tall - 40, SIDE)


def _foot(record: Record, canvas: TaggedCanvas, number: str) -> None:
    edge_line(canvas, f"{record.title}, job {record.job}", styles.EDGE, 34, SIDE, share=0.8)
    edge_line(canvas, number, styles.EDGE_RIGHT, 34, SIDE)

"""Ruled tables and labelled lists, which know their elements of the structure tree."""

from collections.abc import Iterable, Sequence
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Table

from jobnotes.report import styles
from jobnotes.report.heads import PLAIN
from jobnotes.report.tagged import Ruled, words
from jobnotes.report.tags import Element

NOTHING = "–"  # in a cell that has nothing to say


def head_cells(texts: Iterable[str], table: Element) -> list[Flowable]:
    """Return the heads of a table's columns."""
    row = table.add("TR")
    return [words(text, styles.CELL_HEAD, _head(row, "Column")) for text in texts]


def row_cells(
    texts: Sequence[tuple[str, ParagraphStyle]], table: Element
) -> tuple[list[Flowable], Element]:
    """Return the cells of a row, and the element of the first, which heads the others."""
    row = table.add("TR")
    head = _head(row, "Row")
    inside = [head.add("P"), *(row.add("TD") for _ in texts[1:])]
    cells = zip(texts, inside, strict=True)
    return [words(text or NOTHING, style, cell) for (text, style), cell in cells], head


def _head(row: Element, scope: str) -> Element:
    return row.add("TH", attributes={"Table": {"Scope": scope}})


def ruled(
    cells: Sequence[list[Any]],
    widths: Sequence[float],
    pad: float,
    extra: Sequence[Any] = (),
) -> Table:
    """Return a table whose head is repeated on each page; `pad` is the space between columns."""
    table = Ruled(cells, colWidths=widths, repeatRows=1, hAlign="LEFT", splitInRow=1)
    table.setStyle(
        [
            *PLAIN,
            ("RIGHTPADDING", (0, 0), (-2, -1), pad),
            ("TOPPADDING", (0, 1), (-1, -1), pad / 2),
            ("BOTTOMPADDING", (0, 0), (-1, -1), pad / 2),
            ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT),
            ("LINEBELOW", (0, 1), (-1, -1), 0.4, styles.FAINT),
            *extra,
        ]
    )
    return table


def labelled(
    entries: Iterable[tuple[str, str]],
    widths: Sequence[float],
    label: ParagraphStyle,
    body: ParagraphStyle,
    tag: Element,
) -> Table:
    """Return labels on the left, what they stand for on the right; in structure a list."""
    listed = tag.add("L", attributes={"List": {"ListNumbering": "None"}})
    cells = []
    for name, text in entries:
        entry = listed.add("LI")
        left = words(name, label, entry.add("Lbl"))
        cells.append([left, words(text, body, entry.add("LBody"))])
    table = Table(cells, colWidths=widths, hAlign="LEFT", splitInRow=1)
    table.setStyle(
        [*PLAIN, ("RIGHTPADDING", (0, 0), (0, -1), 10), ("BOTTOMPADDING", (0, 0), (-1, -1), 4)]
    )
    return table

"""A section as flowables: lists, scales, tables, photos, words of the trade."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Paragraph, Spacer, Table

from jobnotes.record import Language
from jobnotes.report import styles
from jobnotes.report.english import capital
from jobnotes.report.heads import Gap, SideHead
from jobnotes.report.ink import Scale
from jobnotes.report.languages.messages import say
from jobnotes.report.photos import photo_rows
from jobnotes.report.story import (
    Gallery,
    Item,
    Limits,
    Measure,
    PartRow,
    PhotoBytes,
    Section,
    Term,
)
from jobnotes.report.tables import head_cells, labelled, row_cells, ruled
from jobnotes.report.tagged import Words, step, words
from jobnotes.report.tags import Element

TERM = 96.0  # points for the terms of the glossary
PAD = 8.0  # points between the columns of a table
ROWS = 6  # a table of more rows may be parted by a page's end
ROOM = 100.0  # points that must be left on a page for such a table to begin there


@dataclass(frozen=True)
class Column:
    """Where a section is set: its column's width, where photos come from, its language."""

    width: float
    photo_bytes: PhotoBytes
    language: Language = "en"


def section_flow(section: Section, column: Column, tag: Element) -> Iterator[Flowable]:
    """Yield a section: its head beside the first of its blocks, each block kept on one page.

    A long table may be parted, but not after its first rows.
    """
    yield Gap()
    head: list[Flowable] = [SideHead(section, tag)]
    if section.lead:
        head.append(words(section.lead, styles.LEAD, tag.add("P")))
    for group in _unparted(_groups(section, column, tag)):
        if _is_long(group):
            yield from (CondPageBreak(ROOM), *head, *group)
        else:
            yield KeepTogether([*head, *group])
        head = []


def _is_long(group: Sequence[Flowable]) -> bool:
    tables = [one for one in group if isinstance(one, Table)]
    return any(len(one._cellvalues) > ROWS for one in tables)  # type: ignore[attr-defined]


def _unparted(groups: Iterable[Sequence[Flowable]]) -> Iterator[Sequence[Flowable]]:
    """Join the last two groups where both are words alone, so that no line opens a page alone."""
    held: list[Sequence[Flowable]] = []
    for group in groups:
        held.append(group)
        if len(held) > 2:
            yield held.pop(0)
    if all(isinstance(one, Words) for group in held for one in group):
        held = [[one for group in held for one in group]]
    yield from held


def _groups(section: Section, column: Column, tag: Element) -> Iterator[Sequence[Flowable]]:
    """Yield what stays together: a sentence with its first photos, a scale with its words."""
    yield from _items(section, column, tag)
    for gallery in (block for block in section.blocks if isinstance(block, Gallery)):
        rows = photo_rows(gallery.pictures, column.width, column.photo_bytes, tag)
        yield from ([row] for row in rows)
    yield from _measures([b for b in section.blocks if isinstance(b, Measure)], column, tag)
    yield from _parts([b for b in section.blocks if isinstance(b, PartRow)], column, tag)
    terms = [block for block in section.blocks if isinstance(block, Term)]
    if terms:
        yield [_glossary(terms, column, tag)]


def _items(section: Section, column: Column, tag: Element) -> Iterator[Sequence[Flowable]]:
    """Yield sentences with their photos: numbered, as a list, or as paragraphs."""
    items = [block for block in section.blocks if isinstance(block, Item)]
    style = styles.QUOTE if section.key == "told" else styles.BODY
    if section.numbered and items:
        tag = tag.add("L", attributes={"List": {"ListNumbering": "Decimal"}})
    for number, item in enumerate(items, start=1):
        if section.numbered:
            entry = tag.add("LI")
            label, body = entry.add("Lbl"), entry.add("LBody")
            said: Paragraph = step(number, item.sentence.text, styles.STEP, label, body)
            yield from _pictured(said, item, column, body)
        else:
            said = words(item.sentence.text, style, tag.add("P"))
            yield from _pictured(said, item, column, tag)


def _pictured(
    said: Paragraph, item: Item, column: Column, tag: Element
) -> Iterator[Sequence[Flowable]]:
    rows = photo_rows(item.pictures, column.width, column.photo_bytes, tag)
    yield [said, Spacer(1, 3), rows[0]] if rows else [said]
    yield from ([row] for row in rows[1:])


def _measures(
    measures: Sequence[Measure], column: Column, tag: Element
) -> Iterator[Sequence[Flowable]]:
    """Yield a scale for each measure with limits, then one table of the others."""
    for measure in measures:
        if measure.limits is not None:
            yield [*_scale(measure, measure.limits, tag), Spacer(1, 12)]
    plain = [m for m in measures if m.limits is None]
    if plain:
        rows = [(m.what, m.context, "\n".join(m.lines())) for m in plain]
        heads = [say(column.language, f"column-{name}") for name in ("what", "context", "reading")]
        yield [_table(heads, rows, (0.36, 0.3, 0.34), column.width, tag)]


def _scale(measure: Measure, limits: Limits, tag: Element) -> Iterator[Flowable]:
    """Yield the drawing of a measure between its name and its words."""
    yield words(measure.name(), styles.MEASURE, tag.add("H3"))
    yield Scale(measure, limits, tag.add("Figure", alt=measure.alt()))
    yield Spacer(1, 3)
    for line in measure.lines():
        yield words(capital(line), styles.LABELLED, tag.add("P"))
    yield words(limits.text, styles.NOTE, tag.add("P"))


def _parts(rows: Sequence[PartRow], column: Column, tag: Element) -> Iterator[Sequence[Flowable]]:
    """Yield one table of parts; a column that no part fills is left out."""
    if not rows:
        return
    columns = {
        "part": ([row.name for row in rows], 0.34),
        "number": ([row.number for row in rows], 0.24),
        "quantity": ([row.quantity for row in rows], 0.14),
        "fate": (["\n".join(filter(None, (r.fate, r.note))) for r in rows], 0.28),
        "price": ([row.price for row in rows], 0.16),
    }
    filled = {head: filling for head, filling in columns.items() if any(filling[0])}
    heads = [say(column.language, f"column-{name}") for name in filled]
    shares = [share for _, share in filled.values()]
    cells = zip(*(texts for texts, _ in filled.values()), strict=True)
    yield [_table(heads, list(cells), shares, column.width, tag)]


def _table(
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    shares: Sequence[float],
    width: float,
    tag: Element,
) -> Table:
    """Return a ruled table over the width, of which each column has its share."""
    body = tag.add("Table")
    cells = [head_cells(heads, body)]
    cells += [row_cells([(text, styles.CELL) for text in row], body)[0] for row in rows]
    return ruled(cells, [width * share / sum(shares) for share in shares], PAD)


def _glossary(terms: Sequence[Term], column: Column, tag: Element) -> Table:
    entries = [(term.name, term.meaning) for term in terms]
    return labelled(entries, (TERM, column.width - TERM), styles.TERM_NAME, styles.TERM, tag)

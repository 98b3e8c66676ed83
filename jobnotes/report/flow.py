"""A section as flowables: lists, scales, tables, photos, words of the trade."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, KeepTogether, Paragraph, Spacer, Table

from jobnotes.report import styles
from jobnotes.report.english import capital
from jobnotes.report.fonts import SEMIBOLD, markup
from jobnotes.report.heads import PLAIN, Gap, SideHead, text
from jobnotes.report.photos import PhotoBytes, photo_rows
from jobnotes.report.scale import Scale
from jobnotes.report.story import Gallery, Item, Limits, Measure, PartRow, Section, Term


@dataclass(frozen=True)
class Column:
    """Where a section is set: the width of its text column, and where photos come from."""

    width: float
    photo_bytes: PhotoBytes


def section_flow(section: Section, column: Column) -> Iterator[Flowable]:
    """Yield a section: its head beside the first of its blocks, each block kept on one page."""
    yield Gap()
    head: list[Flowable] = [SideHead(section)]
    if section.lead:
        head.append(text(section.lead, styles.LEAD))
    for group in _groups(section, column):
        yield KeepTogether([*head, *group])
        head = []


def _groups(section: Section, column: Column) -> Iterator[Sequence[Flowable]]:
    """Yield what stays together: a sentence with its first photos, a scale with its words."""
    style = styles.QUOTE if section.key == "told" else styles.BODY
    items = [block for block in section.blocks if isinstance(block, Item)]
    for n, item in enumerate(items, start=1):
        yield from _item(item, n if section.numbered else 0, style, column)
    for gallery in (block for block in section.blocks if isinstance(block, Gallery)):
        rows = photo_rows(gallery.pictures, column.width, column.photo_bytes)
        yield from ([row] for row in rows)
    yield from _measures([b for b in section.blocks if isinstance(b, Measure)], column)
    yield from _parts([b for b in section.blocks if isinstance(b, PartRow)], column)
    terms = [_term(block) for block in section.blocks if isinstance(block, Term)]
    if terms:
        yield terms


def _item(
    item: Item, number: int, style: ParagraphStyle, column: Column
) -> Iterator[Sequence[Flowable]]:
    said = text(item.sentence.text, style)
    if number:
        said = Paragraph(markup(item.sentence.text), styles.STEP, bulletText=str(number))
    rows = photo_rows(item.pictures, column.width, column.photo_bytes)
    yield [said, Spacer(1, 3), rows[0]] if rows else [said]
    yield from ([row] for row in rows[1:])


def _measures(measures: Sequence[Measure], column: Column) -> Iterator[Sequence[Flowable]]:
    """Yield a scale for each measure with limits, then one table of the others."""
    for measure in measures:
        if measure.limits is not None:
            words = _told(measure, measure.limits)
            yield [_measure_head(measure), Scale(measure, measure.limits), *words, Spacer(1, 12)]
    plain = [m for m in measures if m.limits is None]
    if plain:
        rows = [(m.what, m.context, "\n".join(_point_texts(m))) for m in plain]
        yield [_table(("What", "Where and when", "Reading"), rows, (0.36, 0.3, 0.34), column.width)]


def _measure_head(measure: Measure) -> Paragraph:
    name = f'<font name="{SEMIBOLD}">{markup(measure.what, SEMIBOLD)}</font>'
    context = markup(f", {measure.context}" if measure.context else "", styles.LABELLED.fontName)
    return Paragraph(name + context, styles.LABELLED)


def _point_texts(measure: Measure) -> list[str]:
    return [f"{p.name}: {p.text}" if p.name else p.text for p in measure.points]


def _told(measure: Measure, limits: Limits) -> Iterator[Flowable]:
    """Yield in words what the scale shows."""
    judged = [
        f"{said} – {point.verdict}" if point.verdict else said
        for said, point in zip(_point_texts(measure), measure.points, strict=True)
    ]
    yield Spacer(1, 3)
    yield from (text(capital(line), styles.LABELLED) for line in judged)
    yield text(limits.text, styles.NOTE)


def _parts(rows: Sequence[PartRow], column: Column) -> Iterator[Sequence[Flowable]]:
    """Yield one table of parts; a column that no part fills is left out."""
    if not rows:
        return
    columns = {
        "Part": ([row.name for row in rows], 0.34),
        "Number": ([row.number for row in rows], 0.24),
        "Quantity": ([row.quantity for row in rows], 0.14),
        "What became of it": (["\n".join(filter(None, (r.fate, r.note))) for r in rows], 0.28),
        "Price": ([row.price for row in rows], 0.16),
    }
    filled = {head: filling for head, filling in columns.items() if any(filling[0])}
    shares = [share for _, share in filled.values()]
    cells = zip(*(texts for texts, _ in filled.values()), strict=True)
    yield [_table(tuple(filled), list(cells), shares, column.width)]


def _table(
    heads: Sequence[str], rows: Sequence[Sequence[str]], shares: Sequence[float], width: float
) -> Table:
    """Return a ruled table whose head is repeated on each page."""
    cells = [[text(head, styles.CELL_HEAD) for head in heads]]
    cells += [[text(cell, styles.CELL) for cell in row] for row in rows]
    widths = [width * share / sum(shares) for share in shares]
    table = Table(cells, colWidths=widths, repeatRows=1, hAlign="LEFT", splitInRow=1)
    table.setStyle(
        [
            *PLAIN,
            ("RIGHTPADDING", (0, 0), (-2, -1), 8),
            ("TOPPADDING", (0, 1), (-1, -1), 4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
            ("LINEBELOW", (0, 0), (-1, 0), 0.8, styles.ACCENT),
            ("LINEBELOW", (0, 1), (-1, -1), 0.4, styles.FAINT),
        ]
    )
    return table


def _term(term: Term) -> Paragraph:
    name = f'<font name="{SEMIBOLD}">{markup(term.name, SEMIBOLD)}</font>'
    return Paragraph(f"{name} – {markup(term.meaning, styles.TERM.fontName)}", styles.TERM)

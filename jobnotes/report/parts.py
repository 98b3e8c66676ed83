"""Parts in plain words: what each is, its number, and what became of it."""

from collections.abc import Sequence

from jobnotes.record import Part
from jobnotes.report.english import capital, clean
from jobnotes.report.story import PartRow

FATES = {
    "installed": "Fitted",
    "removed": "Taken off",
    "ordered": "On order",
    "reused": "Kept and used again",
    "quoted": "Quoted, not fitted",
    "discarded": "Thrown away",
}


def part_rows(parts: Sequence[Part], *, prices: bool) -> tuple[PartRow, ...]:
    """Return a row for each part that was handled; one that was only talked about has no row."""
    rows = [_row(part, prices=prices) for part in parts if part.status in FATES]
    return tuple(dict.fromkeys(rows))


def _row(part: Part, *, prices: bool) -> PartRow:
    return PartRow(
        name=capital(clean(part.name)),
        number=clean(part.number),
        quantity="" if part.quantity is None else f"{part.quantity}",
        fate=FATES[part.status],
        note=f"In place of number {clean(part.supersedes)}" if clean(part.supersedes) else "",
        price=clean(part.price) if prices else "",
        facts=(part.id,),
    )

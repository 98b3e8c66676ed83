"""Parts in plain words: what each is, its number, and what became of it."""

from collections.abc import Sequence

from jobnotes.record import Language, Part
from jobnotes.report.english import capital, clean
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.tongue import Tongue
from jobnotes.report.story import PartRow

FATES = ("installed", "removed", "ordered", "reused", "quoted", "discarded")


def part_rows(
    parts: Sequence[Part], *, prices: bool, tongue: Tongue = ENGLISH
) -> tuple[PartRow, ...]:
    """Return a row for each part that was handled; one that was only talked about has no row."""
    rows = [_row(part, tongue, prices=prices) for part in parts if part.status in FATES]
    return tuple(dict.fromkeys(rows))


def fate(part: Part, language: Language = "en") -> str:
    """Say what became of a part; nothing of one that was only talked about."""
    return say(language, f"fate-{part.status}") if part.status in FATES else ""


def _row(part: Part, tongue: Tongue, *, prices: bool) -> PartRow:
    older = clean(part.supersedes)
    return PartRow(
        name=capital(tongue.name(part.name)),
        number=clean(part.number),
        quantity="" if part.quantity is None else f"{part.quantity}",
        fate=fate(part, tongue.code),
        note=say(tongue.code, "in-place-of", number=older) if older else "",
        price=tongue.words(part.price) if prices else "",
        facts=(part.id,),
    )

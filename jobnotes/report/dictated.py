"""Dictated words made fit for the customer: figures written as figures, prices only if wished."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from jobnotes.numbers.quantities import quantities
from jobnotes.numbers.tokens import split
from jobnotes.record import AnyFact, Part, Photo, Reading, Spec
from jobnotes.report.gate import FREE_TEXT
from jobnotes.report.said_figures import Known, in_figures
from jobnotes.report.spans import overlaps

# Kinds told in words of their own, in which the speaker's figures stay as they were said.
QUOTED = ("complaint",)
FIELDS = (
    "text", "method", "condition", "expected", "observed", "conclusion", "state_found", "chosen",
    "because", "using", "urgency",
)  # fmt: skip
_STOPS = re.compile(r"([,;.]\s+)")


@dataclass(frozen=True)
class Fitted:
    """A fact whose words are fit to print, and the ids of the facts whose figures they now show."""

    fact: AnyFact
    shows: tuple[str, ...] = ()


def fit_to_print(facts: Sequence[AnyFact], *, prices: bool) -> tuple[Fitted, ...]:
    """Return facts whose dictated words are fit to print; all else of them stays."""
    figures = [fact for fact in facts if isinstance(fact, (Reading, Spec, Part))]
    return tuple(
        _fit(fact, figures, prices=prices) if fact.kind in FREE_TEXT else Fitted(fact)
        for fact in facts
    )


def captioned(photo: Photo, *, prices: bool) -> Photo:
    """Return a photo whose caption names no price, unless prices are printed."""
    return photo if prices else photo.having(caption=without_prices(photo.caption))


def _fit(fact: AnyFact, figures: Sequence[Known], *, prices: bool) -> Fitted:
    known = [figure for figure in figures if overlaps(fact.evidence, figure.evidence)]
    known = [] if fact.kind in QUOTED else known
    texts, shows = dict[str, str](), list[str]()
    for name in (name for name in FIELDS if hasattr(fact, name)):
        text, used = in_figures(str(getattr(fact, name)), known)
        texts[name] = text if prices else without_prices(text)
        shows += used
    return Fitted(fact.having(**texts), tuple(dict.fromkeys(shows)))


def without_prices(text: str) -> str:
    """Return text without the stretches between its stops that name a sum of money."""
    parts = _STOPS.split(text)
    stretches = [(parts[at - 1] if at else "", parts[at]) for at in range(0, len(parts), 2)]
    kept = [stretch for stretch in stretches if not _names_price(stretch[1])]
    return "".join(stop + words for stop, words in kept).lstrip(",;. ")


def _names_price(text: str) -> bool:
    tokens = [token for word in text.split() for token in split(word)]
    return any(quantity.role == "price" for quantity in quantities(tokens))

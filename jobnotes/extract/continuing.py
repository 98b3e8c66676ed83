"""A figure without words of its own, understood as one more of what was measured before."""

from dataclasses import dataclass

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.memory import Memory, Remembered
from jobnotes.extract.surroundings import content_words, follows_change, unexplained
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import words
from jobnotes.extract.windows import Window, figure_tokens

LIKELY = 1.3  # score that a figure needs among words that say something else
FEW = 3  # such words at most


@dataclass(frozen=True, slots=True)
class Continued:
    """The measurement that a figure continues, and by how much that one leads the next best."""

    item: Remembered
    lead: float


def continued(
    talk: Talk,
    memory: Memory,
    figure: Figure,
    here: Window,
    units: tuple[str, ...],
    is_spec: bool,
) -> Continued | None:
    """Return what a figure continues, or None; a lead of 0 where that is no more than likely."""
    low, high = figure.quantity.low, figure.quantity.high
    told = told_around(talk, here)
    found = memory.recall(low, high, units, told, figure.utterance, is_spec)
    if found is None:
        return None
    score, item, lead = found
    if _believed(talk, figure, here, units, score, is_spec):
        return Continued(item, lead)
    if not units and not is_spec and _is_likely(talk, figure, here, score):
        return Continued(item, 0.0)
    return None


def told_around(talk: Talk, here: Window) -> frozenset[str]:
    """Return the words around a figure that can tell one measurement from another."""
    return content_words(talk, here.begin, here.first) | content_words(talk, here.stop, here.right)


def _believed(
    talk: Talk, figure: Figure, here: Window, units: tuple[str, ...], score: float, is_spec: bool
) -> bool:
    """Tell whether a figure without words of its own continues what was measured before."""
    if is_spec:
        return score > -2
    if units:
        return score > 0.5
    if _counts_hours(talk, figure):
        return False
    if follows_change(talk, here.first):
        return score > -1
    taken = figure_tokens(talk, here.begin, here.first)
    strange = unexplained(talk, _clause_start(talk, here), here.first, taken)
    if strange and not (figure.quantity.low.form == "decimal" and strange <= 2 and score > 1):
        return False
    return score > (0 if unexplained(talk, here.left, here.first, taken) <= 2 else 2)


def _is_likely(talk: Talk, figure: Figure, here: Window, score: float) -> bool:
    """Tell a figure near what was measured before, though its own words say something new."""
    if score <= LIKELY or _counts_hours(talk, figure):
        return False
    taken = figure_tokens(talk, here.begin, here.first)
    return unexplained(talk, here.left, here.first, taken) <= FEW


def _counts_hours(talk: Talk, figure: Figure) -> bool:
    """Tell the bare number of "two and a half hours, call it two"."""
    start = bounds(talk, figure.utterance).start
    told = figures(talk)[max(0, figure.index - 3) : figure.index]
    hours = any(f.start >= start and f.quantity.units[:1] == ("h",) for f in told)
    return hours and figure.quantity.low.value < 24


def _clause_start(talk: Talk, here: Window) -> int:
    tokens = words(talk)
    for place in range(here.first - 1, here.left - 1, -1):
        if tokens[place] in (",", ";", ".") and place < here.first - 1:
            return place + 1
    return here.left

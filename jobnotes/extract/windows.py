"""The words on either side of a figure that belong to it."""

from bisect import bisect_left
from dataclasses import dataclass

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.takebacks import looked_at_again, takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, words

NEAR = 6  # mere names passed over on the way to the next figure
LEFT, RIGHT = 40, 16  # tokens looked at on either side, so that one endless utterance stays cheap


@dataclass(frozen=True, slots=True)
class Window:
    """Tokens `left` to `first` come before a figure and belong to it, `stop` to `right` after it.

    `begin` is where the words before it in its utterance begin, other figures included. For a
    figure that replaces another, the words before are those of the figure taken back.
    """

    begin: int
    left: int
    first: int
    stop: int
    right: int


@once_a_talk
def replaced(talk: Talk) -> dict[int, Figure]:
    """Return, by the index of a figure that replaces another, the figure first said."""
    first: dict[int, Figure] = {}
    for back in takebacks(talk):
        if isinstance(back.old, Figure) and isinstance(back.new, Figure):
            first[back.new.index] = first.get(back.old.index, back.old)
    return first


@once_a_talk
def taken_back(talk: Talk) -> frozenset[int]:
    """Return the indices of figures taken back."""
    return frozenset(b.old.index for b in takebacks(talk) if isinstance(b.old, Figure))


@once_a_talk
def mentioned_again(talk: Talk) -> frozenset[int]:
    """Return the indices of figures that only name an earlier one in order to take it back."""
    named = {b.mention.index for b in takebacks(talk) if isinstance(b.mention, Figure)}
    return looked_at_again(talk) | named


def window(talk: Talk, figure: Figure) -> Window:
    """Return the window of a figure."""
    origin = replaced(talk).get(figure.index, figure)
    begin = max(talk.starts[origin.utterance], origin.first - LEFT)
    before = neighbour(talk, origin, -1)
    left = max(begin, _end_of_right(talk, before, origin.first)) if before else begin
    return Window(begin, left, origin.first, figure.stop, _right(talk, figure))


def _right(talk: Talk, figure: Figure) -> int:
    end = min(bounds(talk, figure.utterance).end, figure.stop + RIGHT)
    following = neighbour(talk, figure, 1)
    if following is None:
        return end
    return min(end, _end_of_right(talk, figure, following.start))


def _end_of_right(talk: Talk, figure: Figure, limit: int) -> int:
    """Cut the words between two figures: up to the first comma they belong to the first one."""
    tokens = words(talk)
    for place in range(figure.stop, min(limit, figure.stop + RIGHT)):
        if tokens[place] in (",", ";", "and", "then", "but", "."):
            return place
    return figure.stop


def neighbour(talk: Talk, figure: Figure, step: int) -> Figure | None:
    """Return the figure before or after this one in its utterance, passing over mere names."""
    told = figures(talk)
    index = figure.index + step
    for _ in range(NEAR):
        if not 0 <= index < len(told) or told[index].utterance != figure.utterance:
            return None
        if told[index].quantity.role in ("", "price", "ratio", "clock", "vague"):
            return told[index]
        index += step
    return None


@once_a_talk
def _figure_starts(talk: Talk) -> tuple[int, ...]:
    return tuple(figure.start for figure in figures(talk))


def figure_tokens(talk: Talk, start: int, stop: int) -> set[int]:
    """Return the tokens within start to stop that figures take up."""
    told = figures(talk)
    index = max(0, bisect_left(_figure_starts(talk), start) - 1)
    taken: set[int] = set()
    while index < len(told) and told[index].start < stop:
        taken |= set(range(told[index].start, told[index].stop))
        index += 1
    return taken

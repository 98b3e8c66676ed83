"""Numbers that only count what is being told: "four, magnets each ...", "five, spec three"."""

from collections.abc import Iterator

from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk

CHAIN = 3  # utterances whose numbers go up by one before they are taken for a count
APART = 2  # utterances that may lie between two of them


@once_a_talk
def item_numbers(talk: Talk) -> frozenset[int]:
    """Return the indices of figures that number the utterances they begin."""
    counted: set[int] = set()
    for chain in _chains(talk):
        if len(chain) >= CHAIN:
            counted |= {figure.index for figure in chain}
    return frozenset(counted)


def _chains(talk: Talk) -> Iterator[list[Figure]]:
    chain: list[Figure] = []
    for figure in figures(talk):
        if not _leads(talk, figure):
            continue
        if chain and not _follows(chain[-1], figure):
            yield chain
            chain = []
        chain.append(figure)
    yield chain


def _leads(talk: Talk, figure: Figure) -> bool:
    low = figure.quantity.low
    bare = not figure.quantity.units and not figure.quantity.is_range and not figure.quantity.role
    return bare and low.form == "plain" and figure.start == talk.starts[figure.utterance]


def _follows(before: Figure, figure: Figure) -> bool:
    near = 0 < figure.utterance - before.utterance <= APART
    return near and figure.quantity.low.value == before.quantity.low.value + 1

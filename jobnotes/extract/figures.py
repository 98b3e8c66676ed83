"""Every figure of a talk before it is known what it measures."""

from dataclasses import dataclass, replace

from jobnotes.extract.bounds import bounds
from jobnotes.extract.mils import is_mil, meant
from jobnotes.extract.misheard import by_sound
from jobnotes.extract.numbered import labels
from jobnotes.extract.private import private_utterances
from jobnotes.extract.spelled import spelled
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, words
from jobnotes.numbers.quantities import quantities
from jobnotes.numbers.quantity import Quantity

MASK = "\u00a7"  # stands for a token of a part number, so that no figure is read from it


@dataclass(frozen=True, slots=True)
class Figure:
    """A quantity at tokens `start` to `stop` (stop excluded) of a talk; `index` counts figures.

    `first` is where the number itself begins (bounds such as "at least" come before it);
    `misheard` is the word after it that was taken for a unit by its sound.
    """

    index: int
    utterance: int
    start: int
    first: int
    stop: int
    quantity: Quantity
    misheard: str = ""


@once_a_talk
def figures(talk: Talk) -> tuple[Figure, ...]:
    """Return the figures of every utterance that is not private, in order."""
    masked = _masked(talk)
    found: list[Figure] = []
    for utterance in range(len(talk.starts)):
        if utterance in private_utterances(talk):
            continue
        said = bounds(talk, utterance)
        for q in quantities(masked[said.start : said.end]):
            at = said.start
            heard, q = by_sound(masked[said.start : said.end], q)
            if is_mil(q.units):
                q = replace(q, units=meant(talk, at + q.start, at + q.stop, q))
            found.append(
                Figure(len(found), utterance, at + q.start, at + q.low.start, at + q.stop, q, heard)
            )
    return tuple(found)


def _masked(talk: Talk) -> list[str]:
    tokens = list(words(talk))
    for number in spelled(talk):
        for place in range(number.start, number.stop):
            tokens[place] = MASK
    for place in labels(talk):
        tokens[place] = MASK
    return tokens

"""One thing taken back, and the phrases by which people take back what they said."""

from dataclasses import dataclass
from functools import cache

from jobnotes.extract.items import Item
from jobnotes.extract.vocabulary import rules
from jobnotes.numbers.phrases import Phrases


@dataclass(frozen=True, slots=True)
class TakeBack:
    """`old` was taken back by the words `start` to `stop`; `new` stands in its place, if any.

    `mention` is where the old figure was named again on taking it back.
    """

    old: Item
    new: Item | None
    start: int
    stop: int
    rule: str
    mention: Item | None = None


@cache
def listed(section: str, name: str) -> Phrases:
    """Return the phrases of a list of corrections.toml, also with a comma after the first word."""
    said: list[str] = rules("corrections")[section][name]
    return Phrases([*said, *(p.replace(" ", ", ", 1) for p in said if " " in p)])


@cache
def firsts(section: str, name: str) -> frozenset[str]:
    """Return the words with which the phrases of a list begin."""
    return listed(section, name).first_words


@cache
def word_set(section: str) -> frozenset[str]:
    """Return the words of a section of corrections.toml."""
    return frozenset(rules("corrections")[section]["words"])

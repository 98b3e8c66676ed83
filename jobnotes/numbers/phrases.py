"""Fixed phrases, found at a token in time that does not grow with their number."""

from collections.abc import Iterable, Sequence

from jobnotes.numbers.tokens import split

Sized = list[tuple[int, frozenset[tuple[str, ...]]]]


class Phrases:
    """A set of phrases; the longest one that fits at a place wins."""

    def __init__(self, phrases: Iterable[str]) -> None:
        """Take phrases as they are said, in one string each."""
        told = {
            tuple(token for word in phrase.split() for token in split(word)) for phrase in phrases
        }
        self._by_first = _grouped(told, 0)
        self._by_last = _grouped(told, -1)

    @property
    def first_words(self) -> frozenset[str]:
        """Return every token with which one of the phrases begins."""
        return frozenset(self._by_first)

    def end(self, tokens: Sequence[str], at: int) -> int:
        """Return where the longest phrase that begins at token `at` stops, or `at` if none does."""
        if at < len(tokens):
            for size, phrases in self._by_first.get(tokens[at], ()):
                if size == 1 or tuple(tokens[at : at + size]) in phrases:
                    return at + size
        return at

    def begin(self, tokens: Sequence[str], at: int) -> int:
        """Return where the longest phrase that stops before token `at` begins, or `at` if none."""
        if at > 0:
            for size, phrases in self._by_last.get(tokens[at - 1], ()):
                if size <= at and tuple(tokens[at - size : at]) in phrases:
                    return at - size
        return at


def _grouped(phrases: Iterable[tuple[str, ...]], place: int) -> dict[str, Sized]:
    """Sort phrases by their token at a place, and then into sets by length, the longest first."""
    found: dict[str, dict[int, set[tuple[str, ...]]]] = {}
    for phrase in phrases:
        found.setdefault(phrase[place], {}).setdefault(len(phrase), set()).add(phrase)
    return {
        token: [(size, frozenset(sized[size])) for size in sorted(sized, reverse=True)]
        for token, sized in found.items()
    }

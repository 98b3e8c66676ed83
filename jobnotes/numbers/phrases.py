"""Fixed phrases, found at a token in time that does not grow with their number."""

from collections.abc import Iterable, Sequence

from jobnotes.numbers.tokens import split


class Phrases:
    """A set of phrases; the longest one that fits at a place wins."""

    def __init__(self, phrases: Iterable[str]) -> None:
        """Take phrases as they are said, in one string each."""
        self._by_first: dict[str, list[tuple[str, ...]]] = {}
        self._by_last: dict[str, list[tuple[str, ...]]] = {}
        for phrase in phrases:
            tokens = tuple(token for word in phrase.split() for token in split(word))
            self._by_first.setdefault(tokens[0], []).append(tokens)
            self._by_last.setdefault(tokens[-1], []).append(tokens)
        for index in (self._by_first, self._by_last):
            for found in index.values():
                found.sort(key=len, reverse=True)

    @property
    def first_words(self) -> frozenset[str]:
        """Return every token with which one of the phrases begins."""
        return frozenset(self._by_first)

    def end(self, tokens: Sequence[str], at: int) -> int:
        """Return where the longest phrase that begins at token `at` stops, or `at` if none does."""
        if at < len(tokens):
            for phrase in self._by_first.get(tokens[at], ()):
                size = len(phrase)
                if size == 1 or tuple(tokens[at : at + size]) == phrase:
                    return at + size
        return at

    def begin(self, tokens: Sequence[str], at: int) -> int:
        """Return where the longest phrase that stops before token `at` begins, or `at` if none."""
        if at > 0:
            for phrase in self._by_last.get(tokens[at - 1], ()):
                start = at - len(phrase)
                if start >= 0 and tuple(tokens[start:at]) == phrase:
                    return start
        return at

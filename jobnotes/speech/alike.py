"""Numbers that sound like other numbers: thirteen and thirty, sixty-five and "six to five"."""

import re
from collections.abc import Iterator, Sequence
from functools import cache

from jobnotes.numbers.lexicon import words as lexicon
from jobnotes.record import Word
from jobnotes.speech.figures import pieces

_SURE_IN = 0.6  # of the "in" in "eight in", which may have been "eighteen"
# Figures that end in a teen or a ten (15 and 50, 113 and 130), and the 39 of "thirteen nine".
_TEEN, _TEN = re.compile(r"([0-9]*)1([3-9])$"), re.compile(r"([0-9]*)([3-9])0$")
_TEN_ONE = re.compile(r"([3-9])[1-9]$")


def sounds_like(words: Sequence[Word]) -> Iterator[tuple[int, int, str]]:
    """Yield the first and last position of words in doubt, and the number they may have been."""
    tokens = [(token, n) for n, word in enumerate(words) for token in pieces(word.text)]
    said = [token for token, _ in tokens]
    for at, (_, place) in enumerate(tokens):
        if other := _eight_in(said, at):
            if words[tokens[at + 1][1]].probability < _SURE_IN:
                yield place, tokens[at + 1][1], other
        elif other := _six_to_five(said, at):
            yield place, tokens[at + 2][1], other


def near(written: str) -> tuple[str, ...]:
    """Return how the number that sounds like a teen or a ten is written, in words or figures."""
    if other := _others().get(written.lower()):
        return (other.capitalize() if written[0].isupper() else other,)
    if found := _TEEN.match(written):
        return (f"{found[1]}{found[2]}0",)
    if found := _TEN.match(written):
        return (f"{found[1]}1{found[2]}",)
    return (f"1{found[1]}",) if (found := _TEN_ONE.match(written)) else ()


def _eight_in(said: Sequence[str], at: int) -> str:
    digit = lexicon("digits").get(said[at], 0)
    if list(said[at + 1 : at + 2]) != ["in"] or digit < 4 or digit == 5:
        return ""
    return _named("teens", digit + 10)


def _six_to_five(said: Sequence[str], at: int) -> str:
    """Return "sixty five" for "six to five" or "six at five"; a rising range is left alone."""
    after = list(said[at + 1 : at + 3])
    tens, ones = (lexicon("digits").get(word, 0) for word in (said[at], after[-1] if after else ""))
    if len(after) < 2 or tens < 2 or not ones or after[0] not in ("to", "at"):
        return ""
    falls = after[0] == "at" or ones <= tens
    return f"{_named('tens', tens * 10)} {after[1]}" if falls else ""


@cache
def _others() -> dict[str, str]:
    pairs = [(_named("teens", n), _named("tens", (n - 10) * 10)) for n in range(13, 20)]
    return dict(pairs) | {ten: teen for teen, ten in pairs}


def _named(table: str, value: int) -> str:
    return next(word for word, number in lexicon(table).items() if number == value)

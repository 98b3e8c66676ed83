"""Numbers that sound like other numbers: thirteen and thirty, sixty-five and "six to five"."""

from collections.abc import Iterator, Sequence
from functools import cache

from jobnotes.numbers.lexicon import words as lexicon
from jobnotes.record import Word
from jobnotes.speech.figures import pieces

_SURE = 0.85  # of a bare "fifteen" or "fifty"; below, one is as likely to have been the other
_SURE_IN = 0.6  # of the "in" in "eight in", which may have been "eighteen"


def sounds_like(words: Sequence[Word]) -> Iterator[tuple[int, int, str]]:
    """Yield the first and last position of words in doubt, and the number they may have been."""
    tokens = [(token, n) for n, word in enumerate(words) for token in pieces(word.text)]
    said = [token for token, _ in tokens]
    for at, (_, place) in enumerate(tokens):
        if other := _teen_or_ty(said, at):
            if words[place].probability < _SURE:
                yield place, place, other
        elif other := _eight_in(said, at):
            if words[tokens[at + 1][1]].probability < _SURE_IN:
                yield place, tokens[at + 1][1], other
        elif other := _six_to_five(said, at):
            yield place, tokens[at + 2][1], other


def _teen_or_ty(said: Sequence[str], at: int) -> str:
    """Return "fifty" for "fifteen" and the reverse, unless the next word settles it."""
    after = said[at + 1] if at + 1 < len(said) else ""
    if after in lexicon("scales") or lexicon("digits").get(after, 0) > 0:
        return ""
    return _others().get(said[at], "")


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

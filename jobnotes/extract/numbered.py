"""Numbers that say which one of a row was measured: "injector one eleven mil, two twelve"."""

from collections.abc import Iterator, Sequence
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.numbers.lexicon import words as number_words

ROW = 3  # numbers that follow each other before they are taken to say which one
PAIR = 2  # the same, where each comes after the same noun
SEPARATORS = frozenset({",", ";", "and", ".", ":"})
BETWEEN = frozenset({"is", "'s", "was", "reads", "at", "has", "got", "gives", ",", ":", "-"})


@once_a_talk
def labels(talk: Talk) -> dict[int, str]:
    """Return the tokens that say which one of a row is meant, each with how it is called."""
    found: dict[int, str] = {}
    for utterance in range(len(talk.starts)):
        said = bounds(talk, utterance)
        tokens = words(talk)[said.start : said.end]
        for row in _rows(tokens):
            if _is_row(tokens, row):
                noun = tokens[row[0] - 1] if _is_numbered(tokens, row[0]) else "number"
                found |= {said.start + place: f"{noun} {tokens[place]}" for place in row}
    return found


def _is_row(tokens: Sequence[str], row: Sequence[int]) -> bool:
    nouns = {tokens[place - 1] for place in row} if row[0] else set()
    alike = len(nouns) == 1 and not nouns & SEPARATORS
    measured = sum(_value_follows(tokens, place) for place in row)
    return len(row) >= (PAIR if alike else ROW) and measured >= PAIR


def _rows(tokens: Sequence[str]) -> Iterator[list[int]]:
    """Give runs of numbers that go up by one, the first at the head or after what is numbered."""
    row: list[int] = []
    for place, token in enumerate(tokens):
        number = _counted().get(token)
        if number is None or not _may_label(tokens, place) or _is_value(tokens, row, place):
            continue
        if row and number == _counted()[tokens[row[-1]]] + 1:
            row.append(place)
        elif not row or len(row) < PAIR or number == 1:
            if len(row) >= PAIR:
                yield row
            row = [place] if number == 1 or _is_numbered(tokens, place) else []
    if len(row) >= PAIR:
        yield row


def _is_value(tokens: Sequence[str], row: Sequence[int], place: int) -> bool:
    """Tell "three nine four" in "group two, three nine four" from the third of a row."""
    return bool(row) and set(tokens[row[-1] + 1 : place]) <= SEPARATORS | BETWEEN


def _may_label(tokens: Sequence[str], place: int) -> bool:
    apart = place == 0 or tokens[place - 1] in SEPARATORS or _is_numbered(tokens, place)
    return apart and not (place + 1 < len(tokens) and tokens[place + 1] in _scales())


def _is_numbered(tokens: Sequence[str], place: int) -> bool:
    return place > 0 and tokens[place - 1] in rules("measures")["where"]["numbered"]


def _value_follows(tokens: Sequence[str], place: int) -> bool:
    """Tell whether a figure comes next that is not the next of the row."""
    following = place + 1
    while following < len(tokens) and tokens[following] in BETWEEN:
        following += 1
    if following >= len(tokens) or tokens[following] not in _numbers():
        return False
    lone = following + 1 >= len(tokens) or tokens[following + 1] in SEPARATORS
    return not (lone and _counted().get(tokens[following]) == _counted()[tokens[place]] + 1)


@cache
def _counted() -> dict[str, int]:
    told = {**number_words("digits"), **number_words("teens")}
    return {word: int(value) for word, value in told.items() if 1 <= int(value) <= 20} | {
        str(value): value for value in range(1, 21)
    }


@cache
def _scales() -> frozenset[str]:
    return frozenset({*number_words("scales"), "point", "half", "quarter"})


@cache
def _numbers() -> frozenset[str]:
    named = [word for name in ("digits", "teens", "tens") for word in number_words(name)]
    return frozenset({*named, "point", "nought", "zero", "minus", "a", "oh"})

"""Second opinions: the numbers of one hearing compared with those of others of the same speech."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from math import inf
from statistics import fmean

from jobnotes.record import Flag, Word
from jobnotes.speech.alike import near, sounds_like
from jobnotes.speech.engine import Said
from jobnotes.speech.figures import is_number, pieces, same_number

_NUMBER = "#"  # stands for any number when two hearings are laid side by side
# Limits chosen on 3 hours of synthetic dictation, clean and in noise (DEVELOPERS.md).
_UNSURE = 0.5  # the best probability of a number; most that were heard right lie above 0.8
_ALIKE = (
    2.5  # the mean margin of fifteen over fifty; below, one is as likely to have been the other
)
_MUMBLED, _CLEAR = 0.3, 0.8  # a word this unsure may hide a part of a number less sure than that
_BESIDE_S = 0.3  # seconds between such a word and the number


@dataclass(frozen=True)
class _Item:
    """One token, or the tokens of a whole number; `first` and `last` are positions of words."""

    key: str
    tokens: tuple[str, ...]
    first: int
    last: int


@dataclass(frozen=True)
class _Pair:
    """What stands in the same place in two hearings; `before` is our word before it."""

    ours: Sequence[_Item]
    theirs: Sequence[_Item]
    before: int

    @property
    def agrees(self) -> bool:
        """Whether the numbers on both sides can be the same."""
        return same_number(_number(self.ours), _number(self.theirs))

    @property
    def places(self) -> list[int]:
        """Our words in doubt: the numbers; else all of the block; else the word before it."""
        doubtful = [item for item in self.ours if item.key == _NUMBER] or list(self.ours)
        places = {n for item in doubtful for n in range(item.first, item.last + 1)}
        return sorted(places) or [self.before][: self.before + 1]


def doubted(
    words: Sequence[Word], figures: Sequence[Said], other: Sequence[Said] | None = None
) -> list[Word]:
    """Return the words, flagged wherever a number in them is in doubt.

    `figures` is the same speech with numbers in figures; `other` what another model heard, if
    one was asked. A number that all heard alike gets the highest probability that any gave it.
    """
    done, ours = list(words), _items([word.text for word in words])
    margins: dict[int, list[float]] = {}
    for opinion in (figures,) if other is None else (figures, other):
        for pair in _pairs(ours, _items([said.text for said in opinion])):
            if pair.agrees:
                _weigh(done, pair, opinion)
                _compare(margins, pair, opinion)
            else:
                two = _two_ways(_text(words, pair.ours), _text(opinion, pair.theirs))
                _flag(done, pair.places, two)
    _doubt_alike(done, ours, margins)
    _doubt_unsure(done, words, ours)
    for first, last, alike in sounds_like(done):
        _flag(done, range(first, last + 1), _unsure(_said(words[first : last + 1]), alike))
    return done


def number_places(words: Sequence[Word]) -> list[int]:
    """Return the positions of the words that numbers are made of."""
    items = _items([word.text for word in words])
    numbers = [item for item in items if item.key == _NUMBER]
    return sorted({n for item in numbers for n in range(item.first, item.last + 1)})


def _items(texts: Sequence[str]) -> list[_Item]:
    tokens = [(token, n) for n, text in enumerate(texts) for token in pieces(text)]
    said = [token for token, _ in tokens]
    items: list[_Item] = []
    for at, (token, place) in enumerate(tokens):
        if not is_number(said, at):
            items.append(_Item(token, (token,), place, place))
        elif items and items[-1].key == _NUMBER and at and is_number(said, at - 1):
            last = items[-1]
            items[-1] = _Item(_NUMBER, (*last.tokens, token), last.first, place)
        else:
            items.append(_Item(_NUMBER, (token,), place, place))
    return items


def _pairs(ours: Sequence[_Item], theirs: Sequence[_Item]) -> Iterator[_Pair]:
    """Lay two hearings side by side; yield the places where either has a number."""
    keys = [item.key for item in ours], [item.key for item in theirs]
    for tag, a, b, c, d in SequenceMatcher(None, *keys, autojunk=False).get_opcodes():
        before = ours[a - 1].last if a else min(0, len(ours) - 1)
        if tag != "equal":
            yield _Pair(ours[a:b], theirs[c:d], before)
        else:
            for n in range(b - a):
                if keys[0][a + n] == _NUMBER:
                    yield _Pair(ours[a + n : a + n + 1], theirs[c + n : c + n + 1], before)


def _number(items: Sequence[_Item]) -> tuple[str, ...]:
    return tuple(token for item in items if item.key == _NUMBER for token in item.tokens)


def _weigh(done: list[Word], pair: _Pair, opinion: Sequence[Said]) -> None:
    """Give an agreed number the higher of its two probabilities."""
    if not _number(pair.ours):
        return
    theirs = fmean(said.probability for item in pair.theirs for said in _of(opinion, item))
    for place in pair.places:
        done[place] = done[place].having(probability=max(done[place].probability, theirs))


def _compare(margins: dict[int, list[float]], pair: _Pair, opinion: Sequence[Said]) -> None:
    """Note, at the first word of a number, how clearly it was told from what sounds like it."""
    found = [said.margin for item in pair.theirs for said in _of(opinion, item)]
    if len(pair.ours) == 1 and min(found, default=inf) < inf:
        margins.setdefault(pair.ours[0].first, []).append(min(found))


def _of(opinion: Sequence[Said], item: _Item) -> Sequence[Said]:
    return opinion[item.first : item.last + 1]


def _doubt_alike(done: list[Word], ours: Sequence[_Item], margins: dict[int, list[float]]) -> None:
    """Flag the fifteen that could as well have been fifty."""
    for item in ours:
        words = done[item.first : item.last + 1]
        alike = " ".join(other for token in item.tokens for other in near(token)[:1])
        if item.key == _NUMBER and fmean(margins.get(item.first, [inf])) < _ALIKE:
            _flag(done, range(item.first, item.last + 1), _unsure(_said(words), alike))


def _doubt_unsure(done: list[Word], words: Sequence[Word], ours: Sequence[_Item]) -> None:
    """Flag numbers of low probability, and those beside a word that may hide a part of them.

    The mean of its words counts: the first of many figures is always less sure, as they can be
    grouped in many ways.
    """
    for item in ours:
        places = range(item.first, item.last + 1)
        sure = fmean(done[place].probability for place in places)
        if item.key == _NUMBER and (sure < _UNSURE or _is_beside_mumbling(words, item, sure)):
            _flag(done, places, _unsure(_said(done[item.first : item.last + 1]), ""))


def _is_beside_mumbling(words: Sequence[Word], item: _Item, sure: float) -> bool:
    around = words[max(0, item.first - 1) : item.last + 2]
    beside = {0, len(around) - 2} if item.first else {len(around) - 2}
    return sure < _CLEAR and any(
        min(around[n].probability, around[n + 1].probability) < _MUMBLED
        and around[n + 1].start_s - around[n].end_s < _BESIDE_S
        for n in beside
        if 0 <= n < len(around) - 1
    )


def _flag(done: list[Word], places: Sequence[int], flag: Flag) -> None:
    """Flag words; the first doubt about a word is enough."""
    for place in places:
        if not done[place].flags:
            done[place] = done[place].having(flags=(flag,))


def _text(words: Sequence[Word] | Sequence[Said], items: Sequence[_Item]) -> str:
    return _said(words[items[0].first : items[-1].last + 1]) if items else ""


def _said(words: Sequence[Word] | Sequence[Said]) -> str:
    return " ".join(word.text for word in words)


def _two_ways(one: str, other: str) -> Flag:
    return Flag(
        by="speech",
        code="heard-two-ways",
        why=f"Heard as '{one or 'nothing'}' and, listening again, as '{other or 'nothing'}'.",
        options=(one, other),
    )


def _unsure(said: str, alike: str) -> Flag:
    perhaps = f" It could be '{alike}'." if alike else ""
    return Flag(
        by="speech",
        code="unsure-number",
        why=f"The recogniser was not sure of '{said}'.{perhaps}",
        options=(said, alike) if alike else (said,),
    )

"""Second opinions: the numbers of one hearing compared with those of others of the same speech."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from statistics import fmean

from jobnotes.record import Flag, Word
from jobnotes.speech.alike import sounds_like
from jobnotes.speech.figures import is_number, pieces, same_number

_NUMBER = "#"  # stands for any number when two hearings are laid side by side
_UNSURE = 0.5  # of a number, as the model itself has it; most that were heard right lie above 0.8


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
    words: Sequence[Word], figures: Sequence[Word], other: Sequence[Word] = ()
) -> list[Word]:
    """Return the words, flagged wherever a number in them is in doubt.

    `figures` is the same speech with numbers in figures; `other` what another model heard, or
    nothing. A number that is written both ways shares its probability between the two, so each of
    its words gets the higher one.
    """
    done = list(words)
    for pair in _pairs(_items(words), _items(figures)):
        if pair.agrees:
            _weigh(done, pair, figures)
        else:
            _flag(
                done, pair.places, _two_ways(_text(words, pair.ours), _text(figures, pair.theirs))
            )
    for pair in _pairs(_items(words), _items(other)) if other else ():
        if not pair.agrees:
            _flag(done, pair.places, _two_ways(_text(words, pair.ours), _text(other, pair.theirs)))
    for first, last, alike in sounds_like(done):
        _flag(done, range(first, last + 1), _unsure(_said(words[first : last + 1]), alike))
    return done


def _items(words: Sequence[Word]) -> list[_Item]:
    tokens = [(token, n) for n, word in enumerate(words) for token in pieces(word.text)]
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


def _weigh(done: list[Word], pair: _Pair, figures: Sequence[Word]) -> None:
    """Give an agreed number the higher of its two probabilities, and flag it if that is low.

    The mean of its words counts: the first of many figures is always less sure, as they can be
    grouped in many ways.
    """
    if not _number(pair.ours):
        return
    theirs = min(figures[n].probability for i in pair.theirs for n in range(i.first, i.last + 1))
    for place in pair.places:
        done[place] = done[place].having(probability=max(done[place].probability, theirs))
    if fmean(done[place].probability for place in pair.places) < _UNSURE:
        _flag(done, pair.places, _unsure(_text(done, pair.ours), ""))


def _flag(done: list[Word], places: Sequence[int], flag: Flag) -> None:
    """Flag words; the first doubt about a word is enough."""
    for place in places:
        if not done[place].flags:
            done[place] = done[place].having(flags=(flag,))


def _text(words: Sequence[Word], items: Sequence[_Item]) -> str:
    return _said(words[items[0].first : items[-1].last + 1]) if items else ""


def _said(words: Sequence[Word]) -> str:
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

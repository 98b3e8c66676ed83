"""Second opinions: the numbers of one hearing compared with those of others of the same speech."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from math import inf
from statistics import fmean

from jobnotes.record import Flag, Word
from jobnotes.speech.alike import near, sounds_like
from jobnotes.speech.doubt import Evidence, Opinion, is_doubtful
from jobnotes.speech.engine import Said
from jobnotes.speech.figures import is_number, pieces, same_number, written_alike

_NUMBER = "#"  # stands for any number when two hearings are laid side by side
_ALIKE = 2.5  # the margin of fifteen over fifty, below which a flag names the other
_UNCLEAR = 0.5  # the mean probability of a number that only one hearing has
_WORDS_BETWEEN = 2  # two numbers further apart are not run together
_BESIDE_S = 0.3  # between a number and a word that may hide a part of it


@dataclass(frozen=True)
class _Item:
    """One token, or the tokens of a whole number; `first` and `last` are positions of words."""

    key: str
    tokens: tuple[str, ...]
    first: int
    last: int


@dataclass(frozen=True)
class _Pair:
    """What stands in the same place in two hearings; `before` is our word before it.

    `alike` when its numbers have the same figures, although one hearing ran them together.
    """

    ours: Sequence[_Item]
    theirs: Sequence[_Item]
    before: int
    alike: bool = False

    @property
    def agrees(self) -> bool:
        """Whether the numbers on both sides can be the same."""
        return self.alike or same_number(_number(self.ours), _number(self.theirs))

    def runs_into(self, other: "_Pair") -> bool:
        """Tell whether the numbers of two neighbours have the same figures on both sides."""
        ours, theirs = _numbers(self.ours, other.ours), _numbers(self.theirs, other.theirs)
        if not (len(ours) > 1 and theirs) or ours[-1].first - ours[0].last > _WORDS_BETWEEN:
            return False
        return written_alike([one.tokens for one in ours], [one.tokens for one in theirs])

    @property
    def places(self) -> list[int]:
        """Our words in doubt: the numbers; else all of the block; else the word before it."""
        doubtful = [item for item in self.ours if item.key == _NUMBER] or list(self.ours)
        places = {n for item in doubtful for n in range(item.first, item.last + 1)}
        return sorted(places) or [self.before][: self.before + 1]


@dataclass(frozen=True)
class _Found:
    """A place in two hearings, and the words of the other one."""

    pair: _Pair
    words: Sequence[Said]

    @property
    def opinion(self) -> Opinion:
        """What the other hearing has there."""
        said = [one for item in _numbers(self.pair.theirs) for one in _of(self.words, item)]
        alone = len(self.pair.ours) == 1
        margin = min((one.margin for one in said), default=inf) if alone else inf
        sure = fmean(one.probability for one in said) if said else None
        return Opinion(self.pair.agrees, sure, margin)


def doubted(words: Sequence[Word], figures: Sequence[Said], other: Sequence[Said]) -> list[Word]:
    """Return the words, flagged wherever a number in them is in doubt.

    `figures` is the same speech with numbers in figures; `other` what another model heard. A number
    that all heard alike gets the highest probability that any gave it.
    """
    done, ours = list(words), _items([word.text for word in words])
    found: list[dict[int, _Found]] = []
    for opinion in (figures, other):
        found.append({})
        for pair in _joined(list(_pairs(ours, _items([said.text for said in opinion])))):
            found[-1] |= {item.first: _Found(pair, opinion) for item in _numbers(pair.ours)}
            if pair.agrees:
                _weigh(done, pair, opinion)
            elif not _numbers(pair.ours):
                _flag(done, pair.places, _two_ways(words, _Found(pair, opinion)))
    for item in _numbers(ours):
        opinions = [of[item.first] for of in found]
        if is_doubtful(_evidence(words, item, *opinions)):
            places = range(item.first, item.last + 1)
            _flag(done, places, _why(words, item, opinions))
    for first, last, alike in sounds_like(done):
        _flag(done, range(first, last + 1), _unsure(_said(words[first : last + 1]), alike))
    return done


def _evidence(words: Sequence[Word], item: _Item, figures: _Found, other: _Found) -> Evidence:
    """Gather what is known of one of our numbers; a neighbour counts where there is no pause."""
    inside = words[item.first : item.last + 1]
    before, after = words[: item.first][-1:], words[item.last + 1 :][:1]
    return Evidence(
        tuple(word.probability for word in inside),
        figures.opinion,
        other.opinion,
        min(
            (w.probability for w in before if inside[0].start_s - w.end_s < _BESIDE_S), default=1.0
        ),
        min(
            (w.probability for w in after if w.start_s - inside[-1].end_s < _BESIDE_S), default=1.0
        ),
    )


def _why(words: Sequence[Word], item: _Item, found: Sequence[_Found]) -> Flag:
    """Say what is most telling against a number: another hearing, else what sounds like it."""
    if otherwise := [one for one in found if not one.pair.agrees]:
        return _two_ways(words, otherwise[0])
    alike = " ".join(other for token in item.tokens for other in near(token)[:1])
    clear = min(one.opinion.margin for one in found) > _ALIKE
    return _unsure(_said(words[item.first : item.last + 1]), "" if clear else alike)


def doubted_alone(words: Sequence[Word], flag: Flag) -> list[Word]:
    """Return words that were heard once, their numbers flagged as unsure or else with `flag`."""
    done = list(words)
    for item in _numbers(_items([word.text for word in words])):
        inside = words[item.first : item.last + 1]
        unclear = fmean(word.probability for word in inside) < _UNCLEAR
        why = _unsure(_said(inside), "") if unclear else flag
        _flag(done, range(item.first, item.last + 1), why)
    return done


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


def _joined(pairs: Sequence[_Pair]) -> Iterator[_Pair]:
    """Yield the pairs; two numbers that one hearing ran together, "sixty to 64", as one pair."""
    rest = list(pairs)
    while rest:
        pair, *rest = rest
        if rest and not (pair.agrees and rest[0].agrees) and pair.runs_into(rest[0]):
            after, *rest = rest
            both = (*pair.ours, *after.ours), (*pair.theirs, *after.theirs)
            pair = _Pair(*both, pair.before, alike=True)
        yield pair


def _numbers(*parts: Sequence[_Item]) -> list[_Item]:
    return [item for items in parts for item in items if item.key == _NUMBER]


def _number(items: Sequence[_Item]) -> tuple[str, ...]:
    return tuple(token for item in _numbers(items) for token in item.tokens)


def _weigh(done: list[Word], pair: _Pair, opinion: Sequence[Said]) -> None:
    """Give an agreed number the higher of its two probabilities."""
    if not _number(pair.ours):
        return
    theirs = fmean(said.probability for item in pair.theirs for said in _of(opinion, item))
    for place in pair.places:
        done[place] = done[place].having(probability=max(done[place].probability, theirs))


def _of(opinion: Sequence[Said], item: _Item) -> Sequence[Said]:
    return opinion[item.first : item.last + 1]


def _flag(done: list[Word], places: Sequence[int], flag: Flag) -> None:
    """Flag words; the first doubt about a word is enough."""
    for place in places:
        if not done[place].flags:
            done[place] = done[place].having(flags=(flag,))


def _text(words: Sequence[Word] | Sequence[Said], items: Sequence[_Item]) -> str:
    return _said(words[items[0].first : items[-1].last + 1]) if items else ""


def _said(words: Sequence[Word] | Sequence[Said]) -> str:
    return " ".join(word.text for word in words)


def _two_ways(words: Sequence[Word], found: _Found) -> Flag:
    one, other = _text(words, found.pair.ours), _text(found.words, found.pair.theirs)
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

"""Figures taken back as soon as they are said: "twelve nine, no wait, eleven six"."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure
from jobnotes.extract.items import (
    Item,
    alike,
    first_after,
    items_in,
    last_before,
    same_earlier,
    same_value,
)
from jobnotes.extract.measures import cues_between
from jobnotes.extract.spelled import Spelled, last_group
from jobnotes.extract.takeback import TakeBack, listed, word_set
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import words
from jobnotes.numbers.units import codes

REACH = 10  # tokens between a cue and the figure on either side of it
REASON = 16  # tokens in which the reason for a correction is given
BROKEN = 5  # tokens between a figure and the cue at which its sentence is given up
SIZE = 2  # times by which a figure put right over a reason may differ from the first
LISTING = frozenset({",", "and", "then", "again"})
MARKS = frozenset({",", ".", "...", "…", "-", ";"})


def spoken_at_once(talk: Talk, utterance: int, before: Sequence[TakeBack]) -> Iterator[TakeBack]:
    """Give what an utterance takes back at once; `before` is what was taken back earlier."""
    said = bounds(talk, utterance)
    gone = {back.old.start for back in before}
    place = said.start
    tokens, first_words = words(talk), _first_words()
    while place < said.end:
        if tokens[place] not in first_words:
            place += 1
            continue
        back = _at_cue(talk, said.start, said.end, place) or _trailing(talk, said.end, place)
        if back is not None and back.old.start not in gone:
            for one in (back, *_with_its_list(talk, back, said.start)):
                gone.add(one.old.start)
                yield one
            place = max(place + 1, back.new.start if back.new else back.stop)
            continue
        place += 1


def _with_its_list(talk: Talk, back: TakeBack, start: int) -> Iterator[TakeBack]:
    """Give up the rest of a list too: "it was eighty, seventy and eighty psi, wait, I forgot"."""
    last = back.old
    if back.rule != "given-up" or isinstance(last, Spelled):
        return
    for old in reversed(items_in(talk, start, last.start)):
        if isinstance(old, Spelled) or not set(words(talk)[old.stop : last.start]) <= LISTING:
            return
        yield TakeBack(old, None, back.start, back.stop, back.rule)
        last = old


@cache
def _first_words() -> frozenset[str]:
    names = ("strong", "weak", "erase", "trailing", "head")
    return frozenset(word for name in names for word in listed("cues", name).first_words)


@dataclass(frozen=True, slots=True)
class _Cue:
    """A phrase of taking back at tokens `place` to `stop`, in the utterance `start` to `end`."""

    start: int
    end: int
    place: int
    stop: int
    strong: bool
    erases: bool


def _at_cue(talk: Talk, start: int, end: int, place: int) -> TakeBack | None:
    strong, weak, erase = (
        listed("cues", name).end(words(talk), place) for name in ("strong", "weak", "erase")
    )
    stop = max(strong, weak, erase)
    old = last_before(talk, place) if stop > place else None
    if old is None:
        return None
    cue = _Cue(start, end, place, stop, strong > place, erase > place)
    new = first_after(talk, stop, end)
    if isinstance(old, Spelled) and isinstance(new, Figure):
        again = first_after(talk, new.stop, end)
        new = again if isinstance(again, Spelled) else new
    if words(talk)[place] == "not" and new is not None:
        return _not_that(talk, old, new, place, end)
    return _replaced(talk, old, new, cue) or _erased(talk, old, new, cue)


def _replaced(talk: Talk, old: Item, new: Item | None, cue: _Cue) -> TakeBack | None:
    """Read a better figure after the cue: at once, after a reason, or at the head of a breath."""
    if cue.erases and new and (named := _named_here(talk, new, cue.stop, cue.end)):
        return TakeBack(named[0], named[1], cue.place, cue.stop, "earlier", new)
    close = _is_close(talk, old, cue.place, cue.start, cue.strong or cue.erases)
    if new is not None and close and _replaces(talk, old, new, cue.stop):
        rule = "at-once" if cue.strong else "weak"
        return TakeBack(old, new, cue.place, cue.stop, rule)
    if cue.strong and close and old.start >= cue.start:
        explained = _with_reason(talk, old, new, cue.stop, cue.end)
        if explained:
            return TakeBack(old, explained[0], cue.place, cue.stop, "reason")
        if new and _near_in_size(old, new) and _goes_on_to(talk, old, new, cue.stop):
            return TakeBack(old, new, cue.place, cue.stop, "reason")
    if new is not None and _at_head(talk, old, new, cue.place, cue.start):
        return TakeBack(old, new, cue.place, cue.stop, "at-head")
    return None


def _erased(talk: Talk, old: Item, new: Item | None, cue: _Cue) -> TakeBack | None:
    """Read a cue after which no better figure follows at once."""
    if _is_given_up(talk, old, cue) or (new is None and _explains(talk, old, cue)):
        return TakeBack(old, None, cue.place, cue.stop, "given-up")
    close = _is_close(talk, old, cue.place, cue.start, cue.strong or cue.erases)
    only = new is None and talk.utterance_of[old.start] == talk.utterance_of[cue.place] - 1
    if cue.erases and (close or only) and (new is None or new.start - cue.stop > REACH):
        return TakeBack(old, None, cue.place, cue.stop, "erased")
    if new is not None and _interjects(talk, old, cue) and _goes_on_to(talk, old, new, cue.stop):
        return TakeBack(old, new, cue.place, cue.stop, "interjected")
    return _at_head_with_reason(talk, new, cue)


def _is_given_up(talk: Talk, old: Item, cue: _Cue) -> bool:
    """Tell "ninety newton metres on the, no, cables have a gap": a sentence broken off."""
    tokens = words(talk)
    last = cue.place - 2
    near = old.start >= cue.start and 0 < last + 1 - old.stop <= BROKEN
    said = tokens[cue.place - 1] in MARKS and tokens[cue.place] in word_set("interjections")
    return near and said and tokens[last] in word_set("unfinished")


def _explains(talk: Talk, old: Item, cue: _Cue) -> bool:
    """Tell "eighty psi I think, wait, I forgot to hold the throttle open"."""
    told = words(talk)[cue.stop : min(cue.end, cue.stop + REASON)]
    said = words(talk)[cue.place] in word_set("interjections")
    near = old.start >= cue.start and cue.place - old.stop <= BROKEN
    return near and said and told[:1] in (("i",), (",",)) and bool(set(told) & word_set("reason"))


def _at_head_with_reason(talk: Talk, new: Item | None, cue: _Cue) -> TakeBack | None:
    """Read "no, I had the old meter on it, the good one says fourteen three" after a figure."""
    led = set(words(talk)[cue.start : cue.place]) <= word_set("lead")
    if not led or not isinstance(new, Figure) or not _takes_up(talk, cue):
        return None
    before = talk.starts[max(talk.utterance_of[cue.start] - 1, 0)]
    for old in reversed(items_in(talk, before, cue.start)):
        if _near_in_size(old, new) and _goes_on_to(talk, old, new, cue.stop):
            return TakeBack(old, new, cue.place, cue.stop, "at-head")
    return None


def _near_in_size(old: Item, new: Item) -> bool:
    if isinstance(old, Spelled) or isinstance(new, Spelled):
        return False
    one, two = abs(old.quantity.low.value), abs(new.quantity.low.value)
    return min(one, two) > 0 and max(one, two) <= SIZE * min(one, two)


def _takes_up(talk: Talk, cue: _Cue) -> bool:
    """Tell a "no" that takes back from the one of "no cracks" by the word that follows it."""
    tokens = words(talk)
    said = tokens[cue.place] in word_set("interjections")
    return said and cue.stop < len(tokens) and tokens[cue.stop] in word_set("interjected")


def _interjects(talk: Talk, old: Item, cue: _Cue) -> bool:
    """Tell the "no" and "well" of "thirty-five, no, that's the other size, forty"."""
    tokens = words(talk)
    before = tokens[cue.place - 1] in MARKS | word_set("lead")
    said = tokens[cue.place] in word_set("interjections")
    if before and said and _bare_next(talk, old, cue):
        return True
    apart = set(tokens[old.stop : cue.place]) <= MARKS | word_set("hedges") | word_set("lead")
    return before and apart and _takes_up(talk, cue)


def _bare_next(talk: Talk, old: Item, cue: _Cue) -> bool:
    """Tell "four tenths over the switch, no, three tenths": nothing but the figure follows."""
    new, tokens = first_after(talk, cue.stop, cue.end), words(talk)
    if new is None or not _near_in_size(old, new) or old.start < cue.start:
        return False
    closed = new.stop >= cue.end or tokens[new.stop] in MARKS
    return closed and set(tokens[cue.stop : new.start]) <= MARKS


def _goes_on_to(talk: Talk, old: Item, new: Item, stop: int) -> bool:
    """Tell that a better figure of the same kind follows, with no quantity named in between."""
    near = (
        new.start - stop <= REASON and talk.utterance_of[new.start] == talk.utterance_of[stop - 1]
    )
    clause = _clause_before(talk, new, stop)
    named = any(not cue.hint for cue in cues_between(talk, clause, new.start))
    return near and isinstance(new, Figure) and alike(talk, old, new) and not named


def _clause_before(talk: Talk, new: Item, stop: int) -> int:
    """Return where the clause of a figure begins, at the earliest at token `stop`."""
    tokens = words(talk)
    commas = (place for place in range(new.start - 2, stop - 1, -1) if tokens[place] == ",")
    return next(commas, stop)


def _named_here(talk: Talk, mention: Item, stop: int, end: int) -> tuple[Item, Item | None] | None:
    """Read "scratch that ninety-five, it's ninety-two": the figure is named on taking it back."""
    old = same_earlier(talk, mention) if mention.start - stop <= 1 else None
    if old is None:
        return None
    better = first_after(talk, mention.stop, end)
    fits = better is not None and alike(talk, old, better) and not same_value(old, better)
    return old, better if fits else None


def _with_reason(talk: Talk, old: Item, new: Item | None, stop: int, end: int) -> list[Item | None]:
    """Read "forty, no, sorry, I had it shut, with it open it's ninety", also over a pause.

    Returns a list with the better figure, or with None when none is said; nothing without a reason.
    """
    following = new or first_after(talk, end, min(end + REACH, len(words(talk))))
    reach = following.start if new is not None and following is not None else end
    told = words(talk)[stop : min(reach, stop + REASON)]
    if isinstance(old, Spelled) or not set(told) & word_set("reason") or reach - stop > REASON:
        return []
    if any(not cue.hint for cue in cues_between(talk, stop, reach)):
        return []
    return [following if following is not None and alike(talk, old, following) else None]


def _trailing(talk: Talk, end: int, place: int) -> TakeBack | None:
    """Read "nine hundred, nine fifty actually": the cue comes after the better figure."""
    tokens = words(talk)
    stop = listed("cues", "trailing").end(tokens, place)
    if stop == place or (stop < end and tokens[stop] not in (",", ".")):
        return None
    new = last_before(talk, place)
    old = last_before(talk, new.start) if new is not None else None
    if new is None or old is None or new.stop != place or new.utterance != old.utterance:
        return None
    if tokens[old.stop : new.start] != (",",) or not alike(talk, old, new):
        return None
    return TakeBack(old, new, place, stop, "trailing")


def _not_that(talk: Talk, old: Item, new: Item, place: int, end: int) -> TakeBack | None:
    """Read "one forty, not one forty, one twenty" and "fourteen, not twelve"."""
    if not set(words(talk)[place + 1 : new.start]) <= word_set("between"):
        return None
    if alike(talk, old, new) and same_value(old, new):
        third = first_after(talk, new.stop, end)
        right = third is not None and third.start - new.stop <= 3 and alike(talk, old, third)
        return TakeBack(old, third if right else None, place, new.stop, "not-that", new)
    earlier = same_earlier(talk, new)
    if earlier is None or not alike(talk, old, new) or earlier is old:
        return None
    return TakeBack(earlier, old, place, new.stop, "not-that", new)


def _at_head(talk: Talk, old: Item, new: Item, place: int, start: int) -> bool:
    """Tell a breath that begins "no, twelve six" right after one that ended with a figure."""
    tokens = words(talk)
    head = listed("cues", "head").end(tokens, place)
    if head == place or not set(tokens[start:place]) <= word_set("lead"):
        return False
    next_one = talk.utterance_of[old.start] == talk.utterance_of[place] - 1
    ended = start - old.stop <= 3 or isinstance(old, Spelled)
    return next_one and ended and _replaces(talk, old, new, head)


def _is_close(talk: Talk, old: Item, cue: int, start: int, strong: bool) -> bool:
    """Tell whether a cue follows its figure: right after, or at the head of the next utterance."""
    tokens = words(talk)
    if old.start >= start:
        between = tokens[old.stop : cue]
        if strong:
            return len(between) <= REACH
        return len(between) <= 2 and all(t in word_set("between") for t in between)
    next_one = talk.utterance_of[old.start] == talk.utterance_of[cue] - 1
    lead = tokens[start:cue]
    return strong and next_one and set(lead) <= word_set("between") | word_set("lead")


def _replaces(talk: Talk, old: Item, new: Item, cue_stop: int) -> bool:
    """Tell whether the figure after a cue can stand for the one before: alike, and next to it."""
    between = words(talk)[cue_stop : new.start]
    if isinstance(old, Spelled) and isinstance(new, Spelled) and _puts_right(old, new):
        return len(between) <= REASON
    allowed = word_set("between")
    if words(talk)[cue_stop - 1] in ("wait", "on") and _both_have_units(old, new):
        allowed = allowed | word_set("pauses") | frozenset(codes())
    return len(between) <= REACH and set(between) <= allowed and alike(talk, old, new)


def _puts_right(old: Spelled, new: Spelled) -> bool:
    """Tell a part number that puts a letter or two of another right, or its last figures."""
    if new.number.plain and last_group(old.number.text, new.number.text):
        return True
    one, two = old.number.text, new.number.text
    wrong = sum(a != b for a, b in zip(one, two, strict=False))
    return one != two and len(one) == len(two) >= 5 and wrong <= 2


def _both_have_units(old: Item, new: Item) -> bool:
    return all(isinstance(item, Figure) and bool(item.quantity.units) for item in (old, new))

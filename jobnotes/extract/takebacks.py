"""Which figure or part number was taken back, where, and what was said in its place."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure
from jobnotes.extract.items import (
    BACK,
    Item,
    alike,
    first_after,
    item_starts,
    items,
    items_in,
    last_before,
    same_earlier,
    same_value,
)
from jobnotes.extract.measures import cues_between
from jobnotes.extract.private import private_utterances
from jobnotes.extract.spelled import Spelled
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, singular_of, words
from jobnotes.numbers.phrases import Phrases
from jobnotes.numbers.units import codes

REACH = 10  # tokens between a cue and the figure on either side of it
MARKS = frozenset({",", ".", "...", "…", "-", ";"})
SIZE = 2  # times by which a figure put right over a reason may differ from the first
REASON = 16  # tokens in which the reason for a correction is given


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


@once_a_talk
def takebacks(talk: Talk) -> tuple[TakeBack, ...]:
    """Return what was taken back, in order; a correction may be corrected again."""
    found: list[TakeBack] = []
    for utterance in range(len(talk.starts)):
        if utterance in private_utterances(talk):
            continue
        if _stays(talk, utterance):
            continue
        back = _earlier(talk, utterance)
        found += [back] if back else _spoken_at_once(talk, utterance, found)
    return tuple(found)


@cache
def _phrases(section: str, name: str) -> Phrases:
    said: list[str] = rules("corrections")[section][name]
    return Phrases([*said, *(p.replace(" ", ", ", 1) for p in said if " " in p)])


@cache
def _firsts(section: str, name: str) -> frozenset[str]:
    return _phrases(section, name).first_words


@cache
def _set(section: str) -> frozenset[str]:
    return frozenset(rules("corrections")[section]["words"])


# --- "twelve nine, no wait, eleven six" ---


def _spoken_at_once(talk: Talk, utterance: int, before: Sequence[TakeBack]) -> Iterator[TakeBack]:
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
            gone.add(back.old.start)
            yield back
            place = max(place + 1, back.new.start if back.new else back.stop)
            continue
        place += 1


@cache
def _first_words() -> frozenset[str]:
    names = ("strong", "weak", "erase", "trailing", "head")
    return frozenset(word for name in names for word in _phrases("cues", name).first_words)


def _at_cue(talk: Talk, start: int, end: int, place: int) -> TakeBack | None:
    tokens = words(talk)
    strong = _phrases("cues", "strong").end(tokens, place)
    weak = _phrases("cues", "weak").end(tokens, place)
    erase = _phrases("cues", "erase").end(tokens, place)
    if max(strong, weak, erase) == place:
        return None
    old = last_before(talk, place)
    if old is None:
        return None
    stop = max(strong, weak, erase)
    new = first_after(talk, stop, end)
    if isinstance(old, Spelled) and isinstance(new, Figure):
        again = first_after(talk, new.stop, end)
        new = again if isinstance(again, Spelled) else new
    rule = "at-once" if strong > place else "weak"
    close = _is_close(talk, old, place, start, max(strong, erase) > place)
    if erase > place and new is not None and (named := _named_here(talk, new, erase, end)):
        return TakeBack(named[0], named[1], place, erase, "earlier", new)
    if tokens[place] == "not" and new is not None:
        return _not_that(talk, old, new, place, end)
    if new is not None and close and _replaces(talk, old, new, stop):
        return TakeBack(old, new, place, stop, rule)
    if strong > place and close and old.start >= start:
        explained = _with_reason(talk, old, new, stop, end)
        if explained:
            return TakeBack(old, explained[0], place, stop, "reason")
    if new is not None and _at_head(talk, old, new, place, start):
        return TakeBack(old, new, place, stop, "at-head")
    only = new is None and talk.utterance_of[old.start] == talk.utterance_of[place] - 1
    if erase > place and (close or only) and (new is None or new.start - erase > REACH):
        return TakeBack(old, None, place, erase, "erased")
    if new is not None and _interjects(talk, old, place, stop) and _goes_on_to(talk, old, new, stop):
        return TakeBack(old, new, place, stop, "interjected")
    return _at_head_with_reason(talk, new, place, start, stop)


def _at_head_with_reason(
    talk: Talk, new: Item | None, place: int, start: int, stop: int
) -> TakeBack | None:
    """Read "no, I had the old meter on it, the good one says fourteen three" after a figure."""
    led = set(words(talk)[start:place]) <= _set("lead")
    if not led or not isinstance(new, Figure) or not _takes_up(talk, place, stop):
        return None
    for old in reversed(items_in(talk, talk.starts[max(talk.utterance_of[start] - 1, 0)], start)):
        if _near_in_size(old, new) and _goes_on_to(talk, old, new, stop):
            return TakeBack(old, new, place, stop, "at-head")
    return None


def _near_in_size(old: Item, new: Item) -> bool:
    if isinstance(old, Spelled) or isinstance(new, Spelled):
        return False
    one, two = abs(old.quantity.low.value), abs(new.quantity.low.value)
    return min(one, two) > 0 and max(one, two) <= SIZE * min(one, two)


def _takes_up(talk: Talk, place: int, stop: int) -> bool:
    """Tell a "no" that takes back from the one of "no cracks" by the word that follows it."""
    tokens = words(talk)
    said = tokens[place] in ("no", "nah", "nope", "well", "wait", "hang", "hold", "sorry", "oops")
    return said and stop < len(tokens) and tokens[stop] in _set("interjected")


def _interjects(talk: Talk, old: Item, place: int, stop: int) -> bool:
    """Tell the "no" and "well" of "thirty-five, no, that's the other size, forty"."""
    tokens = words(talk)
    before = tokens[place - 1] in MARKS or tokens[place - 1] in _set("lead")
    apart = set(tokens[old.stop : place]) <= MARKS | _set("hedges") | _set("lead")
    return before and apart and _takes_up(talk, place, stop)


def _goes_on_to(talk: Talk, old: Item, new: Item, stop: int) -> bool:
    """Tell that a better figure of the same kind follows, with no quantity named in between."""
    near = new.start - stop <= REASON and talk.utterance_of[new.start] == talk.utterance_of[stop - 1]
    named = any(not cue.hint for cue in cues_between(talk, stop, new.start))
    return near and isinstance(new, Figure) and alike(talk, old, new) and not named


def _named_here(
    talk: Talk, mention: Item, stop: int, end: int
) -> tuple[Item, Item | None] | None:
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
    if isinstance(old, Spelled) or not set(told) & _set("reason") or reach - stop > REASON:
        return []
    if any(not cue.hint for cue in cues_between(talk, stop, reach)):
        return []
    return [following if following is not None and alike(talk, old, following) else None]


def _trailing(talk: Talk, end: int, place: int) -> TakeBack | None:
    """Read "nine hundred, nine fifty actually": the cue comes after the better figure."""
    tokens = words(talk)
    stop = _phrases("cues", "trailing").end(tokens, place)
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
    if not set(words(talk)[place + 1 : new.start]) <= _set("between"):
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
    head = _phrases("cues", "head").end(tokens, place)
    if head == place or not set(tokens[start:place]) <= _set("lead"):
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
        return len(between) <= 2 and all(t in _set("between") for t in between)
    next_one = talk.utterance_of[old.start] == talk.utterance_of[cue] - 1
    lead = tokens[start:cue]
    return strong and next_one and set(lead) <= _set("between") | _set("lead")


def _replaces(talk: Talk, old: Item, new: Item, cue_stop: int) -> bool:
    """Tell whether the figure after a cue can stand for the one before: alike, and next to it."""
    between = words(talk)[cue_stop : new.start]
    if isinstance(old, Spelled) and isinstance(new, Spelled) and _nearly_same(old, new):
        return len(between) <= REASON
    allowed = _set("between")
    if words(talk)[cue_stop - 1] in ("wait", "on") and _both_have_units(old, new):
        allowed = allowed | _set("pauses") | frozenset(codes())
    return len(between) <= REACH and set(between) <= allowed and alike(talk, old, new)


def _nearly_same(old: Spelled, new: Spelled) -> bool:
    """Tell two part numbers of which one puts a letter or two of the other right."""
    one, two = old.number.text, new.number.text
    wrong = sum(a != b for a, b in zip(one, two, strict=False))
    return one != two and len(one) == len(two) >= 5 and wrong <= 2


def _both_have_units(old: Item, new: Item) -> bool:
    return all(isinstance(item, Figure) and bool(item.quantity.units) for item in (old, new))


# --- "that twelve nine I said earlier, make it eleven six" ---


def _earlier(talk: Talk, utterance: int) -> TakeBack | None:
    said = bounds(talk, utterance)
    here = [item for item in items_in(talk, said.start, said.end) if not _counts_cue(talk, item)]
    mention = _phrase_in(talk, "mentions", said.start, said.end)
    about = _phrase_in(talk, "about", said.start, said.end)
    if mention and here:
        back = _denied(talk, here, mention) or _named_again(talk, here, mention)
        if back:
            return back
        about = about or _strong_in(talk, said.start, said.end)
    if about and here and not is_kept(talk, utterance):
        return _denied(talk, here, about) or _by_words(talk, here, about)
    return None


def _counts_cue(talk: Talk, item: Item) -> bool:
    """Tell "one correction" from a figure."""
    return _phrases("cues", "strong").end(words(talk), item.stop) > item.stop


def is_kept(talk: Talk, utterance: int) -> bool:
    """Tell an utterance that looks at a figure again and leaves it ("leave it, eighty stands")."""
    said = bounds(talk, utterance)
    tokens, phrases = words(talk), _phrases("kept", "phrases")
    return any(phrases.end(tokens, at) > at for at in range(said.start, said.end))


def _stays(talk: Talk, utterance: int) -> bool:
    said = bounds(talk, utterance)
    named = _phrase_in(talk, "mentions", said.start, said.end)
    return named is not None and is_kept(talk, utterance)


@once_a_talk
def looked_at_again(talk: Talk) -> frozenset[int]:
    """Return the indices of figures that repeat an earlier one which stays."""
    found: set[int] = set()
    for utterance in range(len(talk.starts)):
        if _stays(talk, utterance):
            said = bounds(talk, utterance)
            here = items_in(talk, said.start, said.end)
            again = [item for item in here if same_earlier(talk, item) is not None]
            found |= {item.index for item in again if isinstance(item, Figure)}
    return frozenset(found)


def _denied(talk: Talk, here: Sequence[Item], cue: tuple[int, int]) -> TakeBack | None:
    """Read "the pressure I gave, make that ninety, not ninety-five" by the figure denied."""
    for place, item in enumerate(here):
        old = same_earlier(talk, item) if words(talk)[item.start - 1] == "not" else None
        if old is not None:
            beside = [*here[max(0, place - 1) : place], *here[place + 1 : place + 2]]
            better = [new for new in beside if new.start > cue[0] and alike(talk, old, new)]
            return TakeBack(old, better[0] if better else None, *cue, "denied", item)
    return None


def _strong_in(talk: Talk, start: int, end: int) -> tuple[int, int] | None:
    tokens = words(talk)
    for place in range(start, end):
        stop = _phrases("cues", "strong").end(tokens, place)
        if stop > place:
            return place, stop
    return None


def _phrase_in(talk: Talk, name: str, start: int, end: int) -> tuple[int, int] | None:
    tokens, phrases = words(talk), _phrases("back", name)
    if _firsts("back", name).isdisjoint(tokens[start:end]):
        return None
    for place in range(start, end):
        stop = phrases.end(tokens, place)
        if place < stop <= end:
            return place, stop
    return None


def _named_again(talk: Talk, here: Sequence[Item], cue: tuple[int, int]) -> TakeBack | None:
    """Match a figure said again ("I said eighty-five") with the one it was, and its new value."""
    mention = here[0]
    old = same_earlier(talk, mention)
    if old is None:
        return None
    for new in here[1:]:
        if alike(talk, old, new) and not same_value(old, new):
            return TakeBack(old, new, cue[0], cue[1], "earlier", mention)
    tokens = words(talk)
    end = bounds(talk, talk.utterance_of[cue[0]]).end
    for place in range(mention.stop, end):
        stop = _phrases("cues", "erase").end(tokens, place)
        if stop > place or _phrases("cues", "strong").end(tokens, place) > place:
            return TakeBack(old, None, place, max(stop, place + 1), "earlier", mention)
    return None


def _by_words(talk: Talk, here: Sequence[Item], cue: tuple[int, int]) -> TakeBack | None:
    """Find the figure meant by "correction on the battery resting" from the words they share."""
    new = next((item for item in here if item.start >= cue[1]), None)
    if new is None:
        return None
    start = talk.starts[talk.utterance_of[cue[0]]]
    told = _content(talk, start, new.start)
    named = _measured(talk, start, new.start)
    index = bisect_left(item_starts(talk), start)
    best: tuple[int, Item] | None = None
    for item in items(talk)[max(0, index - BACK) : index]:
        around = _surroundings(talk, item)
        if named and not named & (_measured(talk, *around) or named):
            continue
        shared = len(told & _content(talk, *around))
        if alike(talk, item, new) and shared >= (best[0] if best else 1):
            best = shared, item
    return TakeBack(best[1], new, cue[0], cue[1], "by-words") if best else None


def _measured(talk: Talk, start: int, stop: int) -> set[str]:
    """Return what the words name that can be measured: a correction speaks of the same."""
    return {cue.measure.id for cue in cues_between(talk, start, stop) if not cue.hint}


def _surroundings(talk: Talk, item: Item) -> tuple[int, int]:
    """Return the words that belong to a figure: back to the one before it in its utterance."""
    start = talk.starts[item.utterance]
    index = bisect_left(item_starts(talk), item.start)
    if index and items(talk)[index - 1].utterance == item.utterance:
        start = items(talk)[index - 1].stop
    return max(start, item.start - 30), item.start


def _content(talk: Talk, start: int, stop: int) -> set[str]:
    said = {t for t in words(talk)[start:stop] if t.isalpha() and t not in _set("empty")}
    return {singular_of(word) for word in said}

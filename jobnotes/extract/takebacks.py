"""Which figure or part number was taken back, where, and what was said in its place."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.measures import cues_between
from jobnotes.extract.private import private_utterances
from jobnotes.extract.spelled import Spelled, spelled
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, singular_of, words
from jobnotes.numbers.phrases import Phrases
from jobnotes.numbers.units import codes, same_dimension

REACH = 10  # tokens between a cue and the figure on either side of it
REASON = 16  # tokens in which the reason for a correction is given
BACK = 60  # figures that an earlier statement may lie back

Item = Figure | Spelled


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
        back = _earlier(talk, utterance)
        found += [back] if back else _spoken_at_once(talk, utterance, found)
    return tuple(found)


@once_a_talk
def items(talk: Talk) -> tuple[Item, ...]:
    """Return figures that measure something and part numbers, in the order said."""
    told = [figure for figure in figures(talk) if figure.quantity.role in ("", "price")]
    numbers = [number for number in spelled(talk) if number.is_part]
    return tuple(sorted([*told, *numbers], key=lambda item: item.start))


@once_a_talk
def _starts(talk: Talk) -> tuple[int, ...]:
    return tuple(item.start for item in items(talk))


@cache
def _phrases(section: str, name: str) -> Phrases:
    said: list[str] = rules("corrections")[section][name]
    return Phrases([*said, *(p.replace(" ", ", ", 1) for p in said if " " in p)])


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
    old = _last_before(talk, place)
    if old is None:
        return None
    stop = max(strong, weak, erase)
    new = _first_after(talk, stop, end)
    rule = "at-once" if strong > place else "weak"
    close = _is_close(talk, old, place, start, max(strong, erase) > place)
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
    if erase > place and close and (new is None or new.start - erase > REACH):
        return TakeBack(old, None, place, erase, "erased")
    return None


def _with_reason(talk: Talk, old: Item, new: Item | None, stop: int, end: int) -> list[Item | None]:
    """Read "forty, no, sorry, I had it shut, with it open it's ninety", also over a pause.

    Returns a list with the better figure, or with None when none is said; nothing without a reason.
    """
    following = new or _first_after(talk, end, min(end + REACH, len(words(talk))))
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
    new = _last_before(talk, place)
    old = _last_before(talk, new.start) if new is not None else None
    if new is None or old is None or new.stop != place or new.utterance != old.utterance:
        return None
    if tokens[old.stop : new.start] != (",",) or not alike(talk, old, new):
        return None
    return TakeBack(old, new, place, stop, "trailing")


def _not_that(talk: Talk, old: Item, new: Item, place: int, end: int) -> TakeBack | None:
    """Read "one forty, not one forty, one twenty" and "fourteen, not twelve"."""
    if not set(words(talk)[place + 1 : new.start]) <= _set("between"):
        return None
    if alike(talk, old, new) and _same_value(old, new):
        third = _first_after(talk, new.stop, end)
        right = third is not None and third.start - new.stop <= 3 and alike(talk, old, third)
        return TakeBack(old, third if right else None, place, new.stop, "not-that", new)
    earlier = _same_earlier(talk, new)
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


def _last_before(talk: Talk, place: int) -> Item | None:
    index = bisect_left(_starts(talk), place)
    while index:
        index -= 1
        item = items(talk)[index]
        if item.stop <= place:
            return item
    return None


def _first_after(talk: Talk, stop: int, end: int) -> Item | None:
    index = bisect_left(_starts(talk), stop)
    if index == len(items(talk)):
        return None
    item = items(talk)[index]
    return item if item.start < end else None


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
    allowed = _set("between")
    if words(talk)[cue_stop - 1] in ("wait", "on") and _both_have_units(old, new):
        allowed = allowed | _set("pauses") | frozenset(codes())
    return len(between) <= REACH and set(between) <= allowed and alike(talk, old, new)


def _both_have_units(old: Item, new: Item) -> bool:
    return all(isinstance(item, Figure) and bool(item.quantity.units) for item in (old, new))


def alike(talk: Talk, old: Item, new: Item) -> bool:
    """Tell whether two items are of a kind: both part numbers, or figures whose units agree."""
    if isinstance(old, Spelled) or isinstance(new, Spelled):
        return isinstance(old, Spelled) and isinstance(new, Spelled)
    one, two = old.quantity, new.quantity
    if (one.role == "price") != (two.role == "price"):
        return False
    if one.units and two.units:
        return same_dimension(one.units[0], two.units[0])
    if two.units or two.is_range or two.low.form != "plain" or two.low.value > 12:
        return True
    return not _counts(talk, new)


def _counts(talk: Talk, figure: Figure) -> bool:
    """Tell "no, two of them" from a figure: a small number that counts what follows it."""
    tokens = words(talk)
    if figure.stop >= len(tokens):
        return False
    return tokens[figure.stop] in ("of", "more", "times") or (
        tokens[figure.stop].endswith("s") and len(tokens[figure.stop]) > 3
    )


# --- "that twelve nine I said earlier, make it eleven six" ---


def _earlier(talk: Talk, utterance: int) -> TakeBack | None:
    said = bounds(talk, utterance)
    here = _items_in(talk, said.start, said.end)
    mention = _phrase_in(talk, "mentions", said.start, said.end)
    about = _phrase_in(talk, "about", said.start, said.end)
    if mention and here and not is_kept(talk, utterance):
        back = _named_again(talk, here, mention)
        if back:
            return back
        about = about or _strong_in(talk, said.start, said.end)
    if about and here and not is_kept(talk, utterance):
        return _denied(talk, here, about) or _by_words(talk, here, about)
    return None


def is_kept(talk: Talk, utterance: int) -> bool:
    """Tell an utterance that looks at a figure again and leaves it ("leave it, eighty stands")."""
    said = talk.utterance(utterance)
    tokens, phrases = words(talk), Phrases(rules("corrections")["kept"]["phrases"])
    return any(phrases.end(tokens, at) > at for at in range(said.start, said.end))


@once_a_talk
def looked_at_again(talk: Talk) -> frozenset[int]:
    """Return the indices of figures that repeat an earlier one which stays."""
    found: set[int] = set()
    for utterance in range(len(talk.starts)):
        said = talk.utterance(utterance)
        if _phrase_in(talk, "mentions", said.start, said.end) and is_kept(talk, utterance):
            here = _items_in(talk, said.start, said.end)
            again = [item for item in here if _same_earlier(talk, item) is not None]
            found |= {item.index for item in again if isinstance(item, Figure)}
    return frozenset(found)


def _denied(talk: Talk, here: Sequence[Item], cue: tuple[int, int]) -> TakeBack | None:
    """Read "the pressure I gave, make that ninety, not ninety-five" by the figure denied."""
    for item in here:
        old = _same_earlier(talk, item) if words(talk)[item.start - 1] == "not" else None
        if old is not None:
            better = [new for new in here if new is not item and alike(talk, old, new)]
            return TakeBack(old, better[0] if better else None, *cue, "denied", item)
    return None


def _strong_in(talk: Talk, start: int, end: int) -> tuple[int, int] | None:
    tokens = words(talk)
    for place in range(start, end):
        stop = _phrases("cues", "strong").end(tokens, place)
        if stop > place:
            return place, stop
    return None


def _items_in(talk: Talk, start: int, end: int) -> Sequence[Item]:
    first, last = bisect_left(_starts(talk), start), bisect_left(_starts(talk), end)
    return items(talk)[first:last]


def _phrase_in(talk: Talk, name: str, start: int, end: int) -> tuple[int, int] | None:
    tokens, phrases = words(talk), _phrases("back", name)
    for place in range(start, end):
        stop = phrases.end(tokens, place)
        if place < stop <= end:
            return place, stop
    return None


def _named_again(talk: Talk, here: Sequence[Item], cue: tuple[int, int]) -> TakeBack | None:
    """Match a figure said again ("I said eighty-five") with the one it was, and its new value."""
    mention = here[0]
    old = _same_earlier(talk, mention)
    if old is None:
        return None
    for new in here[1:]:
        if alike(talk, old, new) and not _same_value(old, new):
            return TakeBack(old, new, cue[0], cue[1], "earlier", mention)
    tokens = words(talk)
    end = bounds(talk, talk.utterance_of[cue[0]]).end
    for place in range(mention.stop, end):
        stop = _phrases("cues", "erase").end(tokens, place)
        if stop > place or _phrases("cues", "strong").end(tokens, place) > place:
            return TakeBack(old, None, place, max(stop, place + 1), "earlier", mention)
    return None


def _same_earlier(talk: Talk, mention: Item) -> Item | None:
    index = bisect_right(_starts(talk), mention.start) - 1
    for item in reversed(items(talk)[max(0, index - BACK) : index]):
        if alike(talk, item, mention) and _same_value(item, mention):
            return item
    return None


def _same_value(one: Item, two: Item) -> bool:
    if isinstance(one, Spelled) or isinstance(two, Spelled):
        return (
            isinstance(one, Spelled)
            and isinstance(two, Spelled)
            and (one.number.text == two.number.text)
        )
    values = {o.value for o in one.quantity.low.options}
    return bool(values & {o.value for o in two.quantity.low.options})


def _by_words(talk: Talk, here: Sequence[Item], cue: tuple[int, int]) -> TakeBack | None:
    """Find the figure meant by "correction on the battery resting" from the words they share."""
    new = next((item for item in here if item.start >= cue[1]), None)
    if new is None:
        return None
    start = talk.starts[talk.utterance_of[cue[0]]]
    told = _content(talk, start, new.start)
    index = bisect_left(_starts(talk), start)
    best: tuple[int, Item] | None = None
    for item in items(talk)[max(0, index - BACK) : index]:
        shared = len(told & _content(talk, *_surroundings(talk, item)))
        if alike(talk, item, new) and shared >= (best[0] if best else 1):
            best = shared, item
    return TakeBack(best[1], new, cue[0], cue[1], "by-words") if best else None


def _surroundings(talk: Talk, item: Item) -> tuple[int, int]:
    """Return the words that belong to a figure: back to the one before it in its utterance."""
    start = talk.starts[item.utterance]
    index = bisect_left(_starts(talk), item.start)
    if index and items(talk)[index - 1].utterance == item.utterance:
        start = items(talk)[index - 1].stop
    return max(start, item.start - 30), item.start


def _content(talk: Talk, start: int, stop: int) -> set[str]:
    said = {t for t in words(talk)[start:stop] if t.isalpha() and t not in _set("empty")}
    return {singular_of(word) for word in said}

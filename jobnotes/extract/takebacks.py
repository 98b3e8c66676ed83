"""Which figure or part number was taken back, where, and what was said in its place."""

from bisect import bisect_left
from collections.abc import Sequence

from jobnotes.extract.at_once import spoken_at_once
from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure
from jobnotes.extract.items import (
    BACK,
    Item,
    alike,
    item_starts,
    items,
    items_in,
    same_earlier,
    same_value,
)
from jobnotes.extract.measures import cues_between
from jobnotes.extract.private import private_utterances
from jobnotes.extract.takeback import TakeBack, firsts, listed, word_set
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, singular_of, words


@once_a_talk
def takebacks(talk: Talk) -> tuple[TakeBack, ...]:
    """Return what was taken back, in order; a correction may be corrected again."""
    found: list[TakeBack] = []
    for utterance in range(len(talk.starts)):
        if utterance in private_utterances(talk):
            continue
        if _stays(talk, utterance):
            continue
        at_once = list(spoken_at_once(talk, utterance, found))
        back = None if at_once and _reads_on(talk, utterance) else _earlier(talk, utterance)
        found += [back] if back else at_once
    return tuple(found)


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


def _reads_on(talk: Talk, utterance: int) -> bool:
    """Tell "twenty-six, no, I had it on the wrong, uh, twenty-one", put right in one breath."""
    said = bounds(talk, utterance)
    cues = [_phrase_in(talk, name, said.start, said.end) for name in ("about", "mentions")]
    here = items_in(talk, said.start, said.end)
    new = bool(here) and same_earlier(talk, here[0]) is None
    return new and all(cue is None or here[0].stop <= cue[0] for cue in cues)


def _counts_cue(talk: Talk, item: Item) -> bool:
    """Tell "one correction" from a figure."""
    return listed("cues", "strong").end(words(talk), item.stop) > item.stop


def is_kept(talk: Talk, utterance: int) -> bool:
    """Tell an utterance that looks at a figure again and leaves it ("leave it, eighty stands")."""
    said = bounds(talk, utterance)
    tokens, phrases = words(talk), listed("kept", "phrases")
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
        stop = listed("cues", "strong").end(tokens, place)
        if stop > place:
            return place, stop
    return None


def _phrase_in(talk: Talk, name: str, start: int, end: int) -> tuple[int, int] | None:
    tokens, phrases = words(talk), listed("back", name)
    if firsts("back", name).isdisjoint(tokens[start:end]):
        return None
    for place in range(start, end):
        stop = phrases.end(tokens, place)
        if place < stop <= end:
            return place, stop
    return None


def _named_again(talk: Talk, here: Sequence[Item], cue: tuple[int, int]) -> TakeBack | None:
    """Match a figure said again ("I said eighty-five") with the one it was, and its new value."""
    place = next((n for n, item in enumerate(here) if same_earlier(talk, item)), None)
    if place is None or (old := same_earlier(talk, mention := here[place])) is None:
        return None
    for new in here[place + 1 :]:
        if alike(talk, old, new) and not same_value(old, new):
            return TakeBack(old, new, cue[0], cue[1], "earlier", mention)
    tokens = words(talk)
    end = bounds(talk, talk.utterance_of[cue[0]]).end
    for place in range(mention.stop, end):
        stop = listed("cues", "erase").end(tokens, place)
        if stop > place or listed("cues", "strong").end(tokens, place) > place:
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
    said = {t for t in words(talk)[start:stop] if t.isalpha() and t not in word_set("empty")}
    return {singular_of(word) for word in said}

"""The spoken photo marks of a job ("photo of the scored piston"), and what each one shows."""

from collections.abc import Iterator
from dataclasses import dataclass

from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import words
from jobnotes.photos.captions import Said, is_break, named_before, target_of
from jobnotes.photos.rules import section, word_set

_AHEAD = 30  # tokens after a mark within which it may be put off until later


@dataclass(frozen=True)
class Cue:
    """A spoken mark: tokens `start` to `stop` (stop excluded), and what it says the photo shows."""

    start: int
    stop: int
    said: Said | None


def cues(talk: Talk) -> tuple[Cue, ...]:
    """Return the spoken photo marks in order."""
    return tuple(cue for number in range(len(talk.starts)) for cue in _in_utterance(talk, number))


def _in_utterance(talk: Talk, number: int) -> Iterator[Cue]:
    first, end = talk.utterance(number).start, talk.utterance(number).end
    at = first
    while at < end:
        cue = _cue_at(talk, at, first, end) if _means_a_photo(talk, at, first, end) else None
        if cue:
            yield cue
        at = cue.stop if cue else at + 1


def _cue_at(talk: Talk, at: int, first: int, end: int) -> Cue | None:
    after = at + 1
    while after < end and words(talk)[after] in word_set("mark", "fillers"):
        after += 1
    if after < end and words(talk)[after] in word_set("mark", "of"):
        return _named(talk, at, after + 1, end)
    if words(talk)[at] in word_set("mark", "verbs"):
        return _named(talk, at, at + 1, end)
    bare = is_break(talk, after, end) or words(talk)[after] in word_set("mark", "goes_on")
    if not bare or _follows(talk, at, first, 1, "not_bare_after"):
        return None
    return Cue(at, after, named_before(talk, at, talk.utterance_of[at]))


def _named(talk: Talk, at: int, start: int, end: int) -> Cue | None:
    if start < end and words(talk)[start] in word_set("mark", "never_of"):
        return None
    stop, said = target_of(talk, start, end)
    return Cue(at, stop, said or named_before(talk, at, talk.utterance_of[at]))


def _means_a_photo(talk: Talk, at: int, first: int, end: int) -> bool:
    word = words(talk)[at]
    if word in word_set("mark", "other_nouns"):
        meant = _follows(talk, at, first, 3, "leads", "mark")
    else:
        meant = word in word_set("mark", "nouns") or word in word_set("mark", "verbs")
    return meant and not _is_spoken_about(talk, at, first, end)


def _is_spoken_about(talk: Talk, at: int, first: int, end: int) -> bool:
    reach = section("not_a_mark")["reach"]
    return (
        _follows(talk, at, first, reach, "before")
        or _follows(talk, at, first, 2, "directly_before")
        or not word_set("not_a_mark", "after").isdisjoint(words(talk)[at : min(end, at + _AHEAD)])
    )


def _follows(
    talk: Talk, at: int, first: int, reach: int, key: str, part: str = "not_a_mark"
) -> bool:
    """Tell whether a word of a list stands within `reach` tokens before, in the same clause."""
    for place in range(at - 1, max(first, at - reach) - 1, -1):
        if is_break(talk, place, at):
            return False
        if words(talk)[place] in word_set(part, key):
            return True
    return False

"""Readings put in doubt by a correction that does not show which one it means."""

from collections.abc import Iterator
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure
from jobnotes.extract.measures import cues_between
from jobnotes.extract.private import private_utterances
from jobnotes.extract.takeback import TakeBack
from jobnotes.extract.takebacks import is_kept, takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.numbers.phrases import Phrases
from jobnotes.record import Flag

FAR = 2  # times by which a better figure seldom differs from the one taken back


def doubts(talk: Talk, figure: Figure, measure: str) -> tuple[Flag, ...]:
    """Return the flags that later corrections put on a figure of a measure (by its id)."""
    if figure.index in _far_off(talk):
        why = "It is far from the figure that it stands for."
        return (Flag(by="numbers", code="correction-far", why=why),)
    if figure.utterance <= _unresolved(talk).get(measure, -1):
        why = "A correction names this quantity without showing which figure it means."
        return (Flag(by="numbers", code="correction-unclear", why=why),)
    return ()


@cache
def _phrases() -> Phrases:
    return Phrases(rules("corrections")["doubt"]["phrases"])


@once_a_talk
def _unresolved(talk: Talk) -> dict[str, int]:
    """Return the last utterance with such a correction, by the measure that it names."""
    settled = {talk.utterance_of[back.start] for back in takebacks(talk)}
    found: dict[str, int] = {}
    for utterance in range(len(talk.starts)):
        if utterance not in settled | private_utterances(talk) and _takes_back(talk, utterance):
            found.update((name, utterance) for name in _measures(talk, utterance))
    return found


def _takes_back(talk: Talk, utterance: int) -> bool:
    said, tokens = bounds(talk, utterance), words(talk)
    told = any(_phrases().end(tokens, at) > at for at in range(said.start, said.end))
    return told and not is_kept(talk, utterance)


def _measures(talk: Talk, utterance: int) -> Iterator[str]:
    said = bounds(talk, utterance)
    return (cue.measure.id for cue in cues_between(talk, said.start, said.end) if not cue.hint)


@once_a_talk
def _far_off(talk: Talk) -> frozenset[int]:
    backs = [back for back in takebacks(talk) if back.rule in ("by-words", "denied", "earlier")]
    return frozenset(b.new.index for b in backs if isinstance(b.new, Figure) and _is_far(b))


def _is_far(back: TakeBack) -> bool:
    if not (isinstance(back.old, Figure) and isinstance(back.new, Figure)):
        return False
    old, new = abs(back.old.quantity.low.value), abs(back.new.quantity.low.value)
    return max(old, new) > FAR * min(old, new)

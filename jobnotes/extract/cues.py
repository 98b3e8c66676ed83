"""Fixed phrases that announce a fact ("customer says", "labour"), found in one pass over a talk."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc
from spacy.vocab import Vocab

from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, spelled_out
from jobnotes.numbers.tokens import split

FILES = (
    "sections",
    "private",
    "complaints",
    "symptoms",
    "tests_done",
    "wiring",
    "findings",
    "causes",
    "actions",
    "decisions",
    "recommendations",
    "verifications",
    "cautions",
    "labour",
)


@dataclass(frozen=True, slots=True)
class Cue:
    """A phrase as found: tokens `start` to `stop` (stop excluded) and the rule that lists it."""

    start: int
    stop: int
    rule: str


@dataclass(frozen=True, slots=True)
class Announced:
    """Tokens `start` to `stop` that tell something; `lead` is where the words before it begin."""

    lead: int
    start: int
    stop: int
    rule: str


def cues(talk: Talk, rule: str, start: int = 0, stop: int | None = None) -> tuple[Cue, ...]:
    """Return the phrases of one rule ("complaints.says") that lie within the given tokens."""
    found = _all(talk).get(rule)
    if found is None:
        return ()
    starts, listed = found
    first = bisect_left(starts, start)
    if stop is None:
        return listed[first:]
    if first == len(starts) or starts[first] >= stop:
        return ()
    within = listed[first : bisect_left(starts, stop, first)]
    return within if within[-1].stop <= stop else tuple(c for c in within if c.stop <= stop)


@once_a_talk
def _all(talk: Talk) -> dict[str, tuple[list[int], tuple[Cue, ...]]]:
    """Return the cues of every rule in order; of overlapping ones of a rule the longest stays."""
    strings = talk.doc.vocab.strings
    by_rule: dict[str, list[Cue]] = {}
    for key, start, stop in _matcher(talk.doc.vocab)(talk.doc):
        by_rule.setdefault(strings[key], []).append(Cue(start, stop, strings[key]))
    kept = {rule: tuple(_longest(found)) for rule, found in by_rule.items()}
    return {rule: ([cue.start for cue in found], found) for rule, found in kept.items()}


def _longest(found: list[Cue]) -> Iterator[Cue]:
    end = -1
    for cue in sorted(found, key=lambda cue: (cue.start, -cue.stop)):
        if cue.start >= end:
            yield cue
            end = cue.stop


@cache
def _matcher(vocab: Vocab) -> PhraseMatcher:
    matcher = PhraseMatcher(vocab)
    for file in FILES:
        for name, phrases in rules(file).get("cues", {}).items():
            docs = [Doc(vocab, words=tokens) for tokens in _expanded(file, phrases)]
            matcher.add(f"{file}.{name}", docs)
    return matcher


def _expanded(file: str, phrases: list[str]) -> Iterator[list[str]]:
    """Spell out the sets in braces: "{person} says" for every person of the file's [sets]."""
    sets = rules("sections")["sets"] | rules(file).get("sets", {})
    for phrase in spelled_out(phrases, sets):
        yield [token for word in phrase.split() for token in split(word)]

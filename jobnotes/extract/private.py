"""Remarks that the speaker keeps from the customer: their utterances, and what follows."""

from bisect import bisect_left
from collections.abc import Iterator

from spacy.tokens import Span

from jobnotes.extract.concealing import concealments, resumptions, word_set
from jobnotes.extract.cues import Cue, cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.sections import sections
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, words
from jobnotes.record import AnyFact, Audience, Private

FARTHEST = 12  # utterances; a "back on the record" later than this closes nothing
BETWEEN = 9  # tokens from "leave" within which "off the invoice" must end
CONTENT = 3  # words; an utterance with fewer besides the cue says nothing of its own


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the private remarks, each with the utterances it spans."""
    return tuple(_remark(talk, rule, span) for rule, span in _remarks(talk))


@once_a_talk
def private_utterances(talk: Talk) -> frozenset[int]:
    """Return the numbers of the utterances that the customer must not read."""
    return frozenset(number for _, span in _remarks(talk) for number in span)


def office_only(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the facts with those said in private utterances kept for the office."""
    hidden = _private_words(talk)
    return tuple(
        fact.having(audience=Audience.OFFICE) if hidden & _words_of(fact) else fact
        for fact in facts
    )


def _private_words(talk: Talk) -> frozenset[tuple[str, int]]:
    utterances = [talk.job.utterances[number] for number in private_utterances(talk)]
    return frozenset((u.recording, n) for u in utterances for n in range(u.first, u.last + 1))


def _words_of(fact: AnyFact) -> set[tuple[str, int]]:
    return {(e.recording, n) for e in fact.evidence for n in range(e.first, e.last + 1)}


def _remark(talk: Talk, rule: str, span: tuple[int, ...]) -> Private:
    spoken = [talk.utterance(number) for number in span]
    text = " / ".join(talk.text(said.start, said.end) for said in spoken)
    evidence = tuple(talk.evidence(said.start, said.end) for said in spoken)
    return Private(text=text, utterances=span, evidence=evidence, rule=rule)


@once_a_talk
def _remarks(talk: Talk) -> tuple[tuple[str, tuple[int, ...]], ...]:
    found: list[tuple[str, tuple[int, ...]]] = []
    taken: set[int] = set()
    for cue in _openings(talk):
        span = tuple(n for n in _span(talk, cue) if n not in taken)
        taken.update(span)
        if span:
            found.append((cue.rule, span))
    return tuple(found)


def _openings(talk: Talk) -> list[Cue]:
    """Return the cues that open a remark, the first of each utterance."""
    headed = [
        Cue(s.start, s.start + 1, "sections.private")
        for s in sections(talk)
        if s.role == "private" and s.start < len(talk.doc)
    ]
    ended = {n for back in _backs(talk) for n in range(back.start, back.stop)}
    opened = [*cues(talk, "private.opens"), *concealments(talk)]
    said = [*(cue for cue in opened if cue.start not in ended), *_kept_off(talk)]
    first: dict[int, Cue] = {}
    for cue in sorted([*headed, *said], key=lambda cue: cue.start):
        first.setdefault(talk.utterance_of[min(cue.start, len(talk.doc) - 1)], cue)
    return list(first.values())


@once_a_talk
def _backs(talk: Talk) -> tuple[Cue, ...]:
    """Return the words that go back to what the customer may read, in order."""
    said = (*cues(talk, "private.back"), *resumptions(talk))
    return tuple(sorted(said, key=lambda cue: cue.start))


def _kept_off(talk: Talk) -> Iterator[Cue]:
    """Give "leave ... off the invoice" and the like, where only a few words stand between."""
    for keep in cues(talk, "private.keeps"):
        stop = talk.utterance(talk.utterance_of[keep.start]).end
        for off in cues(talk, "private.off", keep.stop, min(keep.stop + BETWEEN, stop)):
            yield Cue(keep.start, off.stop, "private.keeps")
            break


def _span(talk: Talk, cue: Cue) -> tuple[int, ...]:
    """Return the utterances of a remark: itself, those up to its end, or those it points to."""
    here = min(talk.utterance_of[cue.start], len(talk.starts) - 1)
    closed = _closed_at(talk, cue)
    if closed is not None:
        return tuple(range(here, closed))
    said = talk.utterance(here)
    if _says_more(talk, here, cue):
        return (here,)
    on = cues(talk, "private.looks_on", said.start, said.end) or _points(said, "on")
    back = cues(talk, "private.looks_back", said.start, said.end) or _points(said, "back")
    if back and not on:
        return tuple(range(max(here - 1, 0), here + 1))
    return tuple(range(here, min(here + 2, len(talk.starts))))


def _points(said: Span, way: str) -> bool:
    """Tell "that one" from "the next one" by the pointing words of an utterance."""
    pointing = word_set(f"pointing_{way}")
    return any(token.text in pointing for token in said)


def _closed_at(talk: Talk, cue: Cue) -> int | None:
    """Return the utterance that ends the remark, if one does so soon enough."""
    here = talk.utterance_of[cue.start]
    backs = _backs(talk)
    for back in backs[bisect_left(backs, cue.stop, key=lambda back: back.start) :]:
        number = talk.utterance_of[back.start]
        if number - here > FARTHEST:
            return None
        if number > here and not _denied(talk, back):
            return number + _ends(talk, number, back)
    return None


def _denied(talk: Talk, back: Cue) -> bool:
    """Tell "this isn't for the invoice" from the words that end a remark."""
    before = tags(talk)[
        max(back.start - 3, talk.starts[talk.utterance_of[back.start]]) : back.start
    ]
    return any(kind & Tag.NEGATION for kind in before)


def _ends(talk: Talk, number: int, back: Cue) -> bool:
    """Tell whether the end is named last in an utterance, which is then part of the remark."""
    said = talk.utterance(number)
    light = Tag.PUNCTUATION | Tag.FILLER
    rest = [n for n in range(back.stop, said.end) if not tags(talk)[n] & light]
    ends = words(talk)[back.start] == "end"
    return (ends or back.start - said.start > CONTENT) and len(rest) <= 1


def _says_more(talk: Talk, number: int, cue: Cue) -> bool:
    """Tell whether an utterance holds a statement besides the words that make it private."""
    said = talk.utterance(number)
    marked = {
        token
        for rule in ("opens", "keeps", "off", "looks_back", "looks_on")
        for other in cues(talk, f"private.{rule}", said.start, said.end)
        for token in range(other.start, other.stop)
    } | set(range(cue.start, cue.stop))
    kinds = tags(talk)
    plain = Tag.FILLER | Tag.PUNCTUATION | Tag.DETERMINER | Tag.PREPOSITION | Tag.COPULA
    said_to = word_set("address")
    rest = [
        t
        for t in range(said.start, said.end)
        if t not in marked and not kinds[t] & plain and words(talk)[t] not in said_to
    ]
    apart = words(talk)[cue.stop : cue.stop + 1] == (",",)
    return len(rest) >= CONTENT - apart

"""Measured values, each with what, where and under which condition it was measured."""

from collections.abc import Iterator

from jobnotes.extract.doubted import doubts
from jobnotes.extract.judging import Judged, judged
from jobnotes.extract.lending import beside
from jobnotes.extract.surroundings import phase_in, when_in, where_in
from jobnotes.extract.talk import Talk
from jobnotes.extract.values import Value
from jobnotes.extract.vocabulary import words
from jobnotes.extract.windows import neighbour
from jobnotes.record import AnyFact, Evidence, Flag, Reading

LATELY = 6  # readings looked back on when "still" tells that one has not changed


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the readings of a talk; one said twice running is one reading with two evidences."""
    found: list[Reading] = []
    for one in judged(talk):
        if one.role in ("reading", "both") and not one.taken_back:
            for reading in _readings(talk, one):
                place = _said_before(talk, found, reading, one)
                if place is None:
                    found.append(reading)
                else:
                    found[place] = _merged(found[place], reading)
    return tuple(found)


def _readings(talk: Talk, one: Judged) -> Iterator[Reading]:
    values = [one.choice.low]
    if one.figure.quantity.is_range:
        values.append(one.choice.high)
    for value in values:
        changed = one.figure.quantity.change
        phase = ("before", "after")[value is one.choice.high] if changed else None
        yield _reading(talk, one, value, phase)


def _reading(talk: Talk, one: Judged, value: Value, phase: str | None) -> Reading:
    here, choice = one.window, one.choice
    where = [p.text for p in where_in(talk, here.left, here.first)[-1:]]
    where += [p.text for p in where_in(talk, here.stop, here.right)[:1]]
    said = (*when_in(talk, here.begin, here.first), *when_in(talk, here.stop, here.right))
    cue = choice.cue
    when = [p.text for p in said if cue is None or not cue.start <= p.start < cue.stop]
    return Reading(
        what=one.what,
        value=value.value,
        unit=choice.unit,
        as_said=("about " if one.figure.quantity.about else "") + value.as_said,
        where=", ".join(dict.fromkeys(where)),
        when=", ".join(dict.fromkeys(when)),
        phase=phase or phase_in(talk, here.left, here.right),
        evidence=evidence_of(talk, one),
        rule=f"measures.{choice.measure.id}",
        confidence=_confidence(one),
        flags=(*choice.flags, *_bound_flags(one), *doubts(talk, one.figure, choice.measure.id)),
    )


def evidence_of(talk: Talk, one: Judged) -> tuple[Evidence, ...]:
    """Return the words that carry a figure: those naming the quantity, and the figure itself."""
    figure, cue = one.figure, one.choice.cue
    if cue is None or talk.utterance_of[cue.start] != figure.utterance:
        return (talk.evidence(figure.start, figure.stop),)
    if cue.stop <= figure.start and figure.start - cue.stop <= 6:
        return (talk.evidence(cue.start, figure.stop),)
    if cue.start >= figure.stop and cue.start - figure.stop <= 3:
        return (talk.evidence(figure.start, cue.stop),)
    return talk.evidence(cue.start, cue.stop), talk.evidence(figure.start, figure.stop)


def _bound_flags(one: Judged) -> tuple[Flag, ...]:
    bound = one.figure.quantity.bound
    if bound not in ("over", "under"):
        return ()
    why = f"Said only as {bound} {one.choice.low.as_said}, not as a value."
    return (Flag(by="numbers", code="not-exact", why=why),)


def _confidence(one: Judged) -> float:
    """Grade by what was said: quantity and unit, one of them, or neither."""
    said = bool(one.figure.quantity.units) + one.choice.announced
    return (0.7, 0.85, 0.95)[said]


def _said_before(talk: Talk, found: list[Reading], new: Reading, one: Judged) -> int | None:
    """Return the place of the reading that a figure only confirms, if it does."""
    still = "still" in words(talk)[one.window.left : one.window.first]
    for place in range(len(found) - 1, max(-1, len(found) - 1 - (LATELY if still else 1)), -1):
        before = found[place]
        same = (before.value, before.unit) == (new.value, new.unit)
        alike = before.rule == new.rule and (not new.where or new.where == before.where)
        if same and alike and (still or _straight_after(talk, before, new, one)):
            return place
    return None


def _straight_after(talk: Talk, before: Reading, new: Reading, one: Judged) -> bool:
    said = talk.job.utterances[one.figure.utterance]
    earlier = talk.job.utterances[max(0, one.figure.utterance - 1)]
    last = before.evidence[-1]
    near = last.recording == said.recording and last.first >= earlier.first
    previous = neighbour(talk, one.figure, -1)
    listed = previous is not None and beside(talk, previous, one.figure)
    return near and before.what == new.what and not one.choice.announced and not listed


def _merged(before: Reading, again: Reading) -> Reading:
    return before.having(evidence=(*before.evidence, *again.evidence))

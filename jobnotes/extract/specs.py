"""What values should be, as the speaker gave them: floors, ceilings, ranges and set values."""

from jobnotes.extract.bounds import bounds
from jobnotes.extract.judging import Judged, judged
from jobnotes.extract.readings import evidence_of
from jobnotes.extract.spec_cues import also_spec, is_negated, source_in
from jobnotes.extract.talk import Talk
from jobnotes.record import AnyFact, Flag, Spec


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the specs of a talk in order."""
    found: list[Spec] = []
    last: Judged | None = None
    for one in judged(talk):
        if one.role not in ("spec", "both") or one.taken_back:
            continue
        spec = _spec(talk, one)
        if last is not None and _goes_up_to(last, found[-1], one, spec):
            found[-1] = _joined(found[-1], spec)
        else:
            found.append(spec)
        last = one
    return tuple(found)


def _goes_up_to(last: Judged, low: Spec, one: Judged, high: Spec) -> bool:
    """Tell "should be thirty, thirty-four at the outside": one range in two figures."""
    same = (
        last.figure.utterance == one.figure.utterance and last.choice.measure is one.choice.measure
    )
    open_ends = low.low is not None and low.high in (None, low.low) and high.low is None
    rises = open_ends and high.high is not None and low.low is not None and low.low < high.high
    return same and rises and low.unit == high.unit and last.figure.index == one.figure.index - 1


def _joined(low: Spec, high: Spec) -> Spec:
    said = (
        f"{low.as_said.removeprefix('at least ')} to {high.as_said.removeprefix('no more than ')}"
    )
    flags = tuple(dict.fromkeys((*low.flags, *high.flags)))
    both = (*low.evidence, *high.evidence)
    return low.having(high=high.high, as_said=said, evidence=both, flags=flags)


def _spec(talk: Talk, one: Judged) -> Spec:
    choice, figure = one.choice, one.figure
    direction = _direction(talk, one)
    low = None if direction == "high" else choice.low.value
    high = None if direction == "low" else choice.high.value
    cue = one.cue or also_spec(talk, figure.stop, one.window.right + 2)
    evidence = evidence_of(talk, one)
    if cue is not None:
        evidence = (talk.evidence(min(cue.start, figure.start), max(cue.stop, figure.stop)),)
    return Spec(
        what=one.what,
        low=low,
        high=high,
        unit=choice.unit,
        as_said=_as_said(one, direction),
        source=source_in(talk, one.window.left, _end_of_source(talk, one)),
        evidence=evidence,
        rule=f"specs.{cue.rule if cue else 'range'}",
        confidence=0.95 if figure.quantity.units else 0.85,
        flags=(*choice.flags, *_limit_flag(one)),
    )


def _end_of_source(talk: Talk, one: Judged) -> int:
    """Return how far after a figure its source may be named ("that's what the sticker says")."""
    return min(one.window.right + 8, bounds(talk, one.figure.utterance).end)


def _direction(talk: Talk, one: Judged) -> str:
    """Return "low", "high" or nothing (both ends given, or one value)."""
    if one.figure.quantity.is_range:
        return ""
    bound = one.figure.quantity.bound
    if bound in ("least", "most"):
        return "low" if bound == "least" else "high"
    said = one.cue.direction if one.cue else ""
    if said == "limit":
        fine = one.choice.measure.id == "measurement" and one.choice.unit == "thou"
        return "high" if fine else one.choice.measure.limit
    if said == "" and bound in ("over", "under"):
        return "low" if (bound == "over") != is_negated(talk, one.figure) else "high"
    return said


def _limit_flag(one: Judged) -> tuple[Flag, ...]:
    """Flag a bare "limit" on a size: wear can make a part smaller or a bore wider."""
    bare = one.cue is not None and one.cue.direction == "limit"
    if not bare or one.figure.quantity.is_range or one.choice.measure.limit == "high":
        return ()
    why = "The speaker said limit; that it is the least allowed is a guess."
    return (Flag(by="numbers", code="limit-side", why=why),)


def _as_said(one: Judged, direction: str) -> str:
    low, high = one.choice.low.as_said, one.choice.high.as_said
    if one.figure.quantity.is_range:
        return one.figure.quantity.said or f"{low} to {high}"
    return {"low": f"at least {low}", "high": f"no more than {low}"}.get(direction, low)

"""Figures and part numbers that were said and taken back, so that they reach nobody."""

from collections.abc import Iterator

from jobnotes.extract.figures import Figure
from jobnotes.extract.judging import Judged, judged
from jobnotes.extract.takeback import TakeBack
from jobnotes.extract.takebacks import takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, words
from jobnotes.numbers.units import measures
from jobnotes.record import AnyFact, Evidence, Withdrawn


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return one withdrawn fact for everything that was taken back."""
    by_figure = {one.figure.index: one for one in judged(talk)}
    return tuple(fact for back in takebacks(talk) for fact in _withdrawn(talk, back, by_figure))


def _withdrawn(talk: Talk, back: TakeBack, by_figure: dict[int, Judged]) -> Iterator[Withdrawn]:
    rule, evidence = f"corrections.{back.rule}", _evidence(talk, back)
    if not isinstance(back.old, Figure):
        yield Withdrawn(of="part", text=back.old.number.text, evidence=evidence, rule=rule)
        return
    one = by_figure.get(back.old.index)
    text = talk.text(back.old.start, back.old.stop)
    quantity = back.old.quantity
    yield Withdrawn(
        of=_kind(talk, back.old, one),
        text=text,
        value=one.choice.low.value if one else quantity.low.value,
        unit=one.choice.unit if one else next(iter(quantity.units), ""),
        evidence=evidence,
        rule=rule,
    )


def _kind(talk: Talk, figure: Figure, one: Judged | None) -> str:
    if one is not None:
        return "spec" if one.role == "spec" else "reading"
    units = figure.quantity.units
    timed = bool(units) and measures(units[0]) == "time"
    return "labour" if timed and figure.utterance in _of_labour(talk) else "figure"


@once_a_talk
def _of_labour(talk: Talk) -> frozenset[int]:
    """Return the utterances that speak of labour."""
    told = ("labour", "labor", "time", "hours")
    return frozenset(talk.utterance_of[n] for n, word in enumerate(words(talk)) if word in told)


def _evidence(talk: Talk, back: TakeBack) -> tuple[Evidence, ...]:
    """Point at the words taken back, and at those that took them back."""
    return talk.evidence(back.old.start, back.old.stop), talk.evidence(back.start, back.stop)

"""Values that a person put in, held against the ranges that judged the values as heard."""

from jobnotes.extract.measures import Measure, measure, measure_for
from jobnotes.record import AnyFact, Flag, Reading, State
from jobnotes.review.entering import RULE

_RULES = "measures."


def implausible(facts: tuple[AnyFact, ...]) -> dict[str, Flag]:
    """Return a flag by fact id for each corrected reading outside what is physically likely.

    The ranges are those of extract/rules/measures.toml, by which readings are judged as they are
    heard; a slip of the keyboard ("1240" for "12.40") is found in the same way.
    """
    return {
        fact.id: _flag(fact)
        for fact in facts
        if isinstance(fact, Reading) and fact.state is State.CORRECTED and not _likely(fact)
    }


def _likely(reading: Reading) -> bool:
    known = _measure(reading)
    return known is None or known.likely(reading.value, reading.unit)


def _measure(reading: Reading) -> Measure | None:
    if reading.rule == RULE:
        return measure_for(reading.what, reading.unit)
    rule = reading.rule.removeprefix(_RULES)
    return measure(rule) if reading.rule.startswith(_RULES) else None


def _flag(reading: Reading) -> Flag:
    said = f"{reading.as_said} {reading.unit}"
    why = f"{said} is outside what is physically likely for {reading.what}."
    return Flag(by="checks", code="unlikely", why=why, options=(said,))

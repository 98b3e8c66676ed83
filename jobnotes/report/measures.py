"""What was measured: readings of one thing together, held against what they should be."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobnotes.checks.names import key_words
from jobnotes.checks.verdict import Verdict
from jobnotes.numbers.convert import convert
from jobnotes.record import Reading, Spec
from jobnotes.report.english import capital, clean
from jobnotes.report.figures import number, reading_figure, spec_figure, with_unit
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.tongue import Tongue
from jobnotes.report.limits import comparable
from jobnotes.report.story import Limits, Measure, Point

AGAIN = 4  # readings of one thing as a line holds without getting crowded


@dataclass(frozen=True)
class _Judged:
    reading: Reading
    verdict: Verdict | None

    @property
    def spec(self) -> Spec | None:
        return self.verdict.spec if self.verdict else None


def measures(
    readings: Sequence[Reading], verdicts: Mapping[str, Verdict], tongue: Tongue = ENGLISH
) -> tuple[Measure, ...]:
    """Return one measure a thing, in the order said.

    A before and its after share one, and so do readings taken again and those of the same thing in
    several places, as long as the same limits hold for all.
    """
    groups: list[list[_Judged]] = []
    for reading in readings:
        entry = _Judged(reading, verdicts.get(reading.id))
        group = next((group for group in groups if _belongs(entry, group)), None)
        if group is None:
            groups.append([entry])
        else:
            group.append(entry)
    return tuple(_measure(group, tongue) for group in groups)


def _belongs(entry: _Judged, group: Sequence[_Judged]) -> bool:
    reading, first = entry.reading, group[0].reading
    return (
        key_words(first.what) == key_words(reading.what)
        and comparable(first.unit, reading.unit)
        and entry.spec == group[0].spec
        and (
            _is_pair(reading, group) or _is_again(reading, group) or _is_other_place(reading, group)
        )
    )


def _is_pair(reading: Reading, group: Sequence[_Judged]) -> bool:
    first = group[0].reading
    phases = {first.phase, reading.phase}
    same_where = key_words(first.where) == key_words(reading.where)
    return len(group) == 1 and phases == {"before", "after"} and same_where


def _is_again(reading: Reading, group: Sequence[_Judged]) -> bool:
    """Say whether the same was measured again in the same place under the same conditions."""
    told = {(key_words(one.where), one.when, one.setting) for one in (reading, *_readings(group))}
    return len(told) == 1 and len(group) < AGAIN


def _readings(group: Sequence[_Judged]) -> list[Reading]:
    return [entry.reading for entry in group]


def _is_other_place(reading: Reading, group: Sequence[_Judged]) -> bool:
    first = group[0].reading
    taken = [key_words(entry.reading.where) for entry in group]
    alike = (first.phase, first.when) == (reading.phase, reading.when) and not first.phase
    return alike and all(taken) and key_words(reading.where) not in [frozenset(), *taken]


def _measure(group: Sequence[_Judged], tongue: Tongue) -> Measure:
    readings = _readings(group)
    first, spec = readings[0], group[0].spec
    points = tuple(_point(entry, readings, tongue) for entry in group)
    ids = tuple(reading.id for reading in readings) + ((spec.id,) if spec and spec.id else ())
    name = capital(tongue.name(first.what))
    limits = _limits(group[0].verdict, tongue)
    return Measure(name, _context(readings, tongue), points, limits, ids, tongue.code)


def _point(entry: _Judged, readings: Sequence[Reading], tongue: Tongue) -> Point:
    reading, unit, code = entry.reading, readings[0].unit, tongue.code
    moved = reading.value if reading.unit == unit else convert(reading.value, reading.unit, unit)
    return Point(
        name=_name(reading, readings, tongue),
        said=with_unit(number(reading.value, reading.as_said, code), reading.unit, code),
        text=reading_figure(reading, code),
        value=float(moved),
        verdict=_words(entry.verdict, tongue),
        hollow=reading.phase == "before",
    )


def _name(reading: Reading, readings: Sequence[Reading], tongue: Tongue) -> str:
    """Tell a reading from the others of its measure: by phase, by place, by moment."""
    moment = reading.when if len({other.when for other in readings}) > 1 else ""
    place = reading.where if len({other.where for other in readings}) > 1 else ""
    phase = say(tongue.code, f"phase-{reading.phase}") if reading.phase else ""
    told = (phase, tongue.words(place), tongue.words(moment))
    return ", ".join(text for text in told if text)


def _words(found: Verdict | None, tongue: Tongue) -> str:
    """Judge by limits in words; beside one stated value only equality is worth a word."""
    if found is None:
        return ""
    if found.low != found.high:
        return say(tongue.code, found.side)
    return say(tongue.code, "equal") if found.side == "within" else ""


def _limits(found: Verdict | None, tongue: Tongue) -> Limits | None:
    """Return the limits in the unit of the measure's first reading, which `found` judges."""
    if found is None:
        return None
    spec = found.spec
    low, high = (None if end is None else float(end) for end in (found.low, found.high))
    low_said, high_said = (_end(end, spec.unit, tongue) for end in (spec.low, spec.high))
    return Limits(_should(spec, tongue), low, high, low_said, high_said)


def _end(end: Decimal | None, unit: str, tongue: Tongue) -> str:
    if end is None:
        return ""
    return with_unit(number(end, language=tongue.code), unit, tongue.code)


def _should(spec: Spec, tongue: Tongue) -> str:
    """Say what a reading should be, and by whom if that was said."""
    source, limits = tongue.words(spec.source), spec_figure(spec, tongue.code)
    message = "should-be-by" if source else "should-be"
    return say(tongue.code, message, limits=limits, source=source)


def _context(readings: Sequence[Reading], tongue: Tongue) -> str:
    """Say where, when and with which setting, as far as that is the same for all."""
    first = readings[0]
    told = {
        first.where: {reading.where for reading in readings},
        first.when: {reading.when for reading in readings},
        first.setting: {reading.setting for reading in readings},
    }
    return ", ".join(
        tongue.words(text) for text, all_of in told.items() if len(all_of) == 1 and clean(text)
    )

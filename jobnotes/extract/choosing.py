"""The quantity, the unit and the value of a figure, chosen from the words around it."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.accepting import accepted
from jobnotes.extract.continuing import continued, told_around
from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.lending import UNLENT, lent_units, listed_units, partner_units
from jobnotes.extract.measures import Measure, MeasureCue, default_for
from jobnotes.extract.measures import measure as measure_of
from jobnotes.extract.memory import Memory, Remembered
from jobnotes.extract.naming_cues import hints_for, lost_thousandths, strong_cue
from jobnotes.extract.talk import Talk
from jobnotes.extract.unsure import SURE, Grounds, unsure
from jobnotes.extract.values import Value, options_of, value_of
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.extract.windows import Window, neighbour
from jobnotes.numbers.units import measures
from jobnotes.record import Flag

JUST = 2  # utterances after a figure within which its limit is told without naming it
SCALES = {
    "degC": frozenset({"celsius", "centigrade"}),
    "degF": frozenset({"fahrenheit"}),
}  # what speakers name once for all of a job's temperatures
OF_A_SIZE = 12  # times by which such a limit may differ from the figure


@dataclass(frozen=True, slots=True)
class Choice:
    """What a figure measures, in which unit, and its value or values.

    `announced`: the utterance names the quantity. `accepted`: enough was said for a reading.
    """

    measure: Measure
    unit: str
    low: Value
    high: Value
    name: str
    cue: MeasureCue | None
    recalled: Remembered | None
    announced: bool
    accepted: bool
    flags: tuple[Flag, ...]


def choose(
    talk: Talk, memory: Memory, figure: Figure, here: Window, is_spec: bool
) -> Choice | None:
    """Return what a figure measures, or None when nothing tells."""
    said = figure.quantity.units or partner_units(talk, figure) or listed_units(talk, figure)
    cue = strong_cue(talk, figure, here, said)
    units = said or _units_meant(talk, figure, here, cue)
    if cue is not None and cue.kind == "verb" and not figure.quantity.units:
        before = neighbour(talk, figure, -1)
        lent = before.quantity.units if before is not None else ()
        cue = cue if not lent or set(lent) & set(cue.measure.units) else None
    listed = _goes_on(memory, figure, here, cue, is_spec) or _just_read(
        talk, memory, figure, units, cue, is_spec
    )
    cue = None if listed or _is_apart_from(figure, here, cue) else cue
    found = None if cue or listed else continued(talk, memory, figure, here, units, is_spec)
    recalled = found.item if found else listed
    measure = _measure(talk, figure, here, units, cue, recalled)
    if measure is None and is_spec and units:
        measure = default_for(units[0])
    if measure is None or _is_vague(figure, measure, units, cue, is_spec):
        return None
    unit, doubts = _unit(talk, memory, figure, here, measure, units, recalled)
    if not unit:
        return None
    low, high, more = _values(memory, figure, measure, unit)
    lead = found.lead if found else SURE
    grounds = Grounds(figure, here, measure, cue, recalled, lead, units, is_spec)
    return Choice(
        measure, unit, low, high, _name(measure, cue, recalled), cue, recalled, cue is not None,
        accepted(talk, figure, here, measure, cue, recalled),
        _once(*more, *unsure(talk, grounds), *doubts),
    )  # fmt: skip


def _once(*flags: Flag) -> tuple[Flag, ...]:
    """Leave out a flag that a nearer one says already."""
    return tuple({flag.code: flag for flag in reversed(flags)}.values())[::-1]


def _is_vague(
    figure: Figure, measure: Measure, units: tuple[str, ...], cue: MeasureCue | None, is_spec: bool
) -> bool:
    """Tell a bare number of which no word says what was measured."""
    return measure.id == "measurement" and not units and cue is None and not is_spec


def _just_read(
    talk: Talk,
    memory: Memory,
    figure: Figure,
    units: tuple[str, ...],
    cue: MeasureCue | None,
    is_spec: bool,
) -> Remembered | None:
    """Return the figure said just before, which a limit without words of its own is for."""
    if not is_spec or units or cue is not None or not memory.kept:
        return None
    last = memory.kept[-1]
    if last.value is None or figure.utterance - last.utterance > JUST:
        return None
    values = [o.value for end in (figure.quantity.low, figure.quantity.high) for o in end.options]
    near = any(v and last.value / OF_A_SIZE <= v <= last.value * OF_A_SIZE for v in values)
    likely = any(last.measure.likely(value, last.unit) for value in values)
    return last if likely and (near or not last.value) else None


def _goes_on(
    memory: Memory, figure: Figure, here: Window, cue: MeasureCue | None, is_spec: bool
) -> Remembered | None:
    """Return the figure before in the breath, where this one has no unit or words of its own."""
    if figure.quantity.units or cue is None or cue.start >= here.left or not memory.kept:
        return None
    last = memory.kept[-1]
    if measures(last.unit or "V") in UNLENT and not is_spec:
        return None
    values = [option.value for option in figure.quantity.low.options]
    fits = any(last.measure.likely(value, last.unit) for value in values)
    return last if last.utterance == figure.utterance and fits and last.value else None


def _is_apart_from(figure: Figure, here: Window, cue: MeasureCue | None) -> bool:
    """Tell a figure too far from its cue: "took a quart, thirty two", where a fill ends a list."""
    if figure.quantity.units or cue is None:
        return False
    return cue.start < here.left and measures(next(iter(cue.measure.units))) in UNLENT


def _units_meant(
    talk: Talk, figure: Figure, here: Window, cue: MeasureCue | None
) -> tuple[str, ...]:
    """Return the units of a figure without one: its cue's own ("AC volts"), or a neighbour's."""
    if cue is not None and cue.units:
        return cue.units
    lent = lent_units(talk, figure)
    return lent if cue is None or set(lent) & set(cue.measure.units) else ()


def rating_of(talk: Talk, figure: Figure, here: Window) -> tuple[Measure, str]:
    """Return the quantity and the unit of a rating that was only named ("a thirty amp")."""
    units = figure.quantity.units
    hints = hints_for(talk, figure, here, units)
    return (hints[0].measure if hints else default_for(units[0])), units[0]


# --- which quantity ---


def _measure(
    talk: Talk,
    figure: Figure,
    here: Window,
    units: tuple[str, ...],
    cue: MeasureCue | None,
    recalled: Remembered | None,
) -> Measure | None:
    if cue is not None:
        return cue.measure
    if recalled is not None:
        return recalled.measure
    if "degree" in units and _after_torque(talk, figure):
        return measure_of("angle")
    hints = hints_for(talk, figure, here, units)
    if hints and (units or _only_one(hints)):
        return hints[0].measure
    return default_for(units[0]) if units and units[0] not in _told_by_words() else None


def _after_torque(talk: Talk, figure: Figure) -> bool:
    """Tell the angle of "twenty newton metres then ninety degrees" from a temperature."""
    before = neighbour(talk, figure, -1)
    units = before.quantity.units if before is not None else ()
    return bool(units) and measures(units[0]) == "torque"


@cache
def _told_by_words() -> frozenset[str]:
    """Return the units of which no figure counts unless some word tells what was measured."""
    return frozenset(rules("measures")["none"]["units"])


def _only_one(hints: Sequence[MeasureCue]) -> bool:
    return len({cue.measure.id for cue in hints}) == 1


def _name(measure: Measure, cue: MeasureCue | None, recalled: Remembered | None) -> str:
    if cue is not None:
        return cue.name
    return recalled.name if recalled is not None else measure.name


# --- which unit ---


def _unit(
    talk: Talk,
    memory: Memory,
    figure: Figure,
    here: Window,
    measure: Measure,
    units: tuple[str, ...],
    recalled: Remembered | None,
) -> tuple[str, tuple[Flag, ...]]:
    if units:
        return _said_unit(talk, memory, figure, measure, units, recalled)
    if recalled is not None and recalled.measure is measure:
        return recalled.unit, recalled.doubts
    likely = list(_likely_units(measure, figure))
    if "in" in likely and _is_inch_fraction(figure):
        return "in", ()
    options = tuple(option.value for option in figure.quantity.low.options)
    known = memory.unit_of(measure, options, told_around(talk, here), figure.utterance)
    if known is not None and known.unit in likely and not _too_fine(figure, known.unit):
        return known.unit, (*known.doubts, *_of_another(measure, known, likely))
    likely = _on_scale(talk, likely)
    if not likely:
        return ("thou", ()) if lost_thousandths(measure, figure) else ("", ())
    return _most_said(talk, likely, "unit-not-said", "No unit was said with this figure.")


def _on_scale(talk: Talk, likely: list[str]) -> list[str]:
    """Leave the temperature scale that was named; put one that only other units suggest first."""
    scale = _scale_of(talk) if set(likely) >= set(SCALES) else ""
    if scale and not SCALES[scale].isdisjoint(words(talk)):
        return [scale]
    return sorted(likely, key=lambda unit: unit != scale) if scale else likely


def _said_unit(
    talk: Talk,
    memory: Memory,
    figure: Figure,
    measure: Measure,
    units: tuple[str, ...],
    recalled: Remembered | None,
) -> tuple[str, tuple[Flag, ...]]:
    allowed = [unit for unit in units if unit in measure.units] or list(units)
    values = [option.value for option in figure.quantity.low.options]
    allowed = [u for u in allowed if any(measure.likely(v, u) for v in values)] or allowed
    if "inH2O" in allowed and _has_water_gauge(talk):
        return "inH2O", ()
    if allowed == ["inHg"] and _is_water(talk, figure):
        return "inH2O", ()
    if len(allowed) == 1:
        return allowed[0], ()
    if recalled is not None and recalled.unit in allowed:
        return recalled.unit, ()
    known = memory.units.get(measure.id)
    if known in allowed:
        return known, ()
    why = "The unit said can mean more than one thing here."
    if measures(allowed[0]) == "temperature":
        scale = _scale_of(talk)
        return (scale, ()) if scale else _most_said(talk, allowed, "unit-unclear", why)
    doubt = Flag(by="numbers", code="unit-unclear", why=why, options=tuple(allowed))
    return allowed[0], (doubt,)


def _most_said(
    talk: Talk, units: Sequence[str], code: str, why: str
) -> tuple[str, tuple[Flag, ...]]:
    """Take the one unit that the speaker says elsewhere; flag the choice where nothing tells."""
    said = {unit: _units_said(talk)[unit] for unit in units if _units_said(talk)[unit]}
    if len(said) == 1 or len(units) == 1:
        return next(iter(said or units)), ()
    doubt = Flag(by="numbers", code=code, why=why, options=tuple(units))
    return max(said, key=lambda unit: said[unit], default=units[0]), (doubt,)


def _is_water(talk: Talk, figure: Figure) -> bool:
    """Tell "inches of vacuum" read on a water gauge, which the job names elsewhere."""
    return words(talk)[figure.stop - 1] == "vacuum" and _has_water_gauge(talk)


@once_a_talk
def _has_water_gauge(talk: Talk) -> bool:
    told = set(words(talk))
    water = not told.isdisjoint(rules("measures")["water_gauge"]["words"])
    return water and told.isdisjoint(rules("measures")["water_gauge"]["not"])


@once_a_talk
def _scale_of(talk: Talk) -> str:
    """Return the temperature scale of the other units of a job, or nothing where both are used."""
    named = {unit for unit, names in SCALES.items() if not names.isdisjoint(words(talk))}
    if len(named) == 1:
        return named.pop()
    told = {unit: set(codes) for unit, codes in rules("measures")["system"].items()}
    said = {scale for scale, codes in told.items() if not codes.isdisjoint(_units_said(talk))}
    return said.pop() if len(said) == 1 else ""


@once_a_talk
def _units_said(talk: Talk) -> Counter[str]:
    said = [figure.quantity.units for figure in figures(talk)]
    return Counter(units[0] for units in said if len(units) == 1)


def _too_fine(figure: Figure, unit: str) -> bool:
    """Tell "four point three five", which nobody measures in thousandths of an inch."""
    return unit == "thou" and figure.quantity.low.value * 10 % 1 != 0


def _of_another(measure: Measure, known: Remembered, likely: Sequence[str]) -> tuple[Flag, ...]:
    """Flag a unit taken over from another quantity where a third would fit as well."""
    if known.measure is measure or len(likely) == 1:
        return ()
    why = f"No unit was said; {known.unit} is taken over from the {known.name}."
    return (Flag(by="numbers", code="unit-not-said", why=why, options=tuple(likely)),)


def _is_inch_fraction(figure: Figure) -> bool:
    """Tell eighths to sixty-fourths, in which nothing but inches is told."""
    low = figure.quantity.low
    return low.form == "fraction" and low.value * 4 % 1 != 0 and low.value * 64 % 1 == 0


def _likely_units(measure: Measure, figure: Figure) -> Iterator[str]:
    for unit in measure.elided:
        if any(measure.likely(o.value, unit) for o in options_of(figure.quantity.low, unit)):
            yield unit


# --- which value ---


def _values(
    memory: Memory, figure: Figure, measure: Measure, unit: str
) -> tuple[Value, Value, tuple[Flag, ...]]:
    kept = [k for k in reversed(memory.kept) if k.unit == unit and k.value]
    told = [k.value for k in kept if k.measure is measure and k.value]
    low = value_of(figure.quantity.low, measure, unit, told)
    if not figure.quantity.is_range:
        return low, low, low.flags
    high = value_of(figure.quantity.high, measure, unit, [low.value])
    doubts = dict.fromkeys((*low.flags, *high.flags))
    return low, high, tuple(doubts)

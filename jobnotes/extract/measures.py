"""What can be measured: trade names, likely ranges, and the words that announce each quantity."""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from typing import Literal

from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, spelled_out, words
from jobnotes.numbers.tokens import split
from jobnotes.numbers.unit_joins import unit_at
from jobnotes.numbers.units import measures

KINDS: tuple[Literal["noun", "verb", "hint"], ...] = ("noun", "verb", "hint")
ANY = Decimal("1e30")  # beyond every value that can be said
DEFAULTS = {  # what a unit measures when no word says it
    "V": "voltage", "mV": "voltage-drop", "kV": "voltage", "A": "current", "mA": "current",
    "uA": "current", "ohm": "resistance", "kohm": "resistance", "Mohm": "insulation",
    "psi": "pressure", "bar": "pressure", "kPa": "pressure", "MPa": "pressure",
    "mbar": "pressure", "inHg": "vacuum", "inH2O": "vacuum", "in": "measurement",
    "thou": "measurement", "mm": "measurement", "cm": "measurement", "m": "measurement",
    "um": "measurement", "ft": "measurement", "N.m": "torque", "in.lbf": "torque",
    "ft.lbf": "torque", "rpm": "engine-speed", "degF": "temperature", "degC": "temperature",
    "degree": "angle", "turn": "angle", "h": "time", "min": "time", "s": "time", "ms": "time",
    "percent": "share", "mL": "fill", "cc": "fill", "L": "fill", "floz": "fill", "pt": "fill",
    "qt": "fill", "gal": "fill", "gpm": "volume-flow", "L/min": "volume-flow",
    "cfm": "volume-flow", "Hz": "frequency", "W": "power", "kW": "power", "VA": "power",
    "hp": "power", "lb": "weight", "oz": "weight", "kg": "weight", "g": "weight", "N": "force",
    "uF": "capacitance", "mph": "ground-speed", "km/h": "ground-speed", "dB": "sound",
    "Ah": "capacity-charge",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity: its trade name and the range of each unit that is physically likely.

    No word announces it after one of `unless`; with `strict` its words count only beside a
    likely value. `elided` are the units that can go unsaid; `recalled` tells whether a figure
    without words of its own can be one more of these; with `adjacent` its verbs count only right
    before a figure
    with its unit ("losing two volts").
    """

    id: str
    name: str
    units: dict[str, tuple[Decimal, Decimal]]
    decimals: bool
    limit: str
    named: dict[str, str]
    elided: tuple[str, ...]
    recalled: bool
    adjacent: bool
    zero: bool
    unless: frozenset[str] = frozenset()
    strict: bool = False

    def likely(self, value: Decimal, unit: str) -> bool:
        """Tell whether a value in one of the units lies in its likely range."""
        low, high = self.units.get(unit, (Decimal(1), Decimal(0)))
        return low <= value <= high or (self.zero and value == 0 and unit in self.units)


@dataclass(frozen=True, slots=True)
class MeasureCue:
    """Words at tokens `start` to `stop` that announce a measure.

    A hint only helps to choose; a verb counts only straight before its figure. `units` is set when
    the words are a unit themselves ("AC volts").
    """

    start: int
    stop: int
    measure: Measure
    kind: Literal["noun", "verb", "hint"]
    name: str
    units: tuple[str, ...]

    @property
    def hint(self) -> bool:
        """Tell a hint."""
        return self.kind == "hint"


@cache
def measure(name: str) -> Measure:
    """Return a measure by its id in measures.toml."""
    return _measures()[name]


def default_for(unit: str) -> Measure:
    """Return what a unit measures when no word says it."""
    return measure(DEFAULTS[unit]) if unit in DEFAULTS else _general(unit)


@cache
def _general(unit: str) -> Measure:
    """Build the measure of a unit for which no range is known: its kind, and any value."""
    kind = measures(unit)
    return Measure(
        kind.replace(" ", "-"), kind, {unit: (-ANY, ANY)}, True, "high", {}, (), False, False, True
    )


def measure_for(what: str, unit: str) -> Measure | None:
    """Return what a typed name and unit measure, None where nothing is known of that unit.

    The longest words of a rule that the name holds decide; else what the unit usually measures.
    """
    said = f" {what.casefold()} "
    named = {
        noun: entry["id"]
        for entry in rules("measures")["measure"]
        for noun in (entry["name"], *entry.get("nouns", []))
        if unit in entry["units"] and f" {noun} " in said
    }
    best = named[max(named, key=len)] if named else DEFAULTS.get(unit)
    return measure(best) if best else None


def cues_between(talk: Talk, start: int, stop: int) -> Sequence[MeasureCue]:
    """Return the cues that lie within tokens start to stop, in order of their start."""
    found = _cues(talk)
    first = bisect_left(found, start, key=lambda cue: cue.start)
    last = bisect_left(found, stop, key=lambda cue: cue.start)
    return [cue for cue in found[first:last] if cue.stop <= stop]


@cache
def _measures() -> dict[str, Measure]:
    return {
        entry["id"]: Measure(
            entry["id"],
            entry["name"],
            {
                unit: (Decimal(str(low)), Decimal(str(high)))
                for unit, (low, high) in entry["units"].items()
            },
            entry.get("decimals", False),
            entry.get("limit", "high"),
            entry.get("named", {}),
            tuple(entry.get("elided", entry["units"])),
            entry.get("recalled", True),
            entry.get("adjacent", False),
            entry.get("zero", False),
            frozenset(entry.get("unless", ())),
            entry.get("strict", False),
        )
        for entry in rules("measures")["measure"]
    }


@cache
def _phrases() -> dict[str, tuple[tuple[tuple[str, ...], MeasureCue], ...]]:
    found: dict[str, list[tuple[tuple[str, ...], MeasureCue]]] = {}
    for entry in rules("measures")["measure"]:
        for kind in KINDS:
            for text in spelled_out(entry.get(kind + "s", []), rules("measures")["sets"]):
                tokens = tuple(token for word in text.split() for token in split(word))
                found.setdefault(tokens[0], []).append((tokens, _pattern(entry["id"], kind, text)))
    return {first: tuple(group) for first, group in found.items()}


def _pattern(name: str, kind: Literal["noun", "verb", "hint"], text: str) -> MeasureCue:
    one = measure(name)
    unit = unit_at(text.split(), len(text.split()) - 1)
    units = tuple(code for code in unit.codes if code in one.units) if unit else ()
    return MeasureCue(0, 0, one, kind, one.named.get(text, one.name), units)


def _is_other(cue: MeasureCue, tokens: tuple[str, ...], place: int) -> bool:
    """Tell the valve of "safety valve" from one that has a clearance."""
    return place > 0 and tokens[place - 1] in cue.measure.unless


@once_a_talk
def _cues(talk: Talk) -> tuple[MeasureCue, ...]:
    tokens, index = words(talk), _phrases()
    found: list[MeasureCue] = []
    for place, token in enumerate(tokens):
        for phrase, cue in index.get(token, ()):
            stop = place + len(phrase)
            if tokens[place:stop] == phrase and not _is_other(cue, tokens, place):
                found.append(replace(cue, start=place, stop=stop))
    return tuple(found)

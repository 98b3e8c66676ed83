"""The value meant by a number that can be understood in more than one way."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import log

from jobnotes.extract.measures import Measure
from jobnotes.numbers.number import Number, Spoken, plain
from jobnotes.record import Flag

CLEAR = 1.0  # natural logarithm by which one option must be nearer to the last value than another
SAME, OTHER = 0.25, 0.7  # an option is sure that repeats an earlier value while the other does not
CELL = Decimal("2.5")  # volts; less than a cell holds, "one fifty" is 150
FAR = 50.0  # distance where nothing was said before
WRITTEN = frozenset({"comma", "grouped"})
POINTED = frozenset({"bar", "mm", "in", "cm", "L"})


@dataclass(frozen=True, slots=True)
class Value:
    """The value chosen, how it is printed, and what is in doubt."""

    value: Decimal
    as_said: str
    flags: tuple[Flag, ...] = ()


def value_of(number: Number, measure: Measure, unit: str, told: Sequence[Decimal]) -> Value:
    """Choose among the ways to understand a number by what is measured and what came before.

    `told` are the values in the same unit before it, the last one first. What stays open is
    flagged.
    """
    if number.form in WRITTEN:
        return _as_written(number)
    options = sayable(number, measure, unit)
    likely = [option for option in options if measure.likely(option.value, unit)]
    if not likely:
        return _unlikely(number, options, measure, unit)
    if _against_habit(options, likely, unit):
        return _doubtful(likely[0], options)
    if len(likely) == 1 and likely[0].form != "thousands":
        return Value(likely[0].value, likely[0].as_said)
    nearest = likely[0] if len(likely) == 1 else _nearest(likely, told)
    if nearest is None and measure.id == "voltage" and likely[0].form == "hundreds":
        return Value(likely[0].value, likely[0].as_said)  # "two thirty volts" is said of the mains
    if nearest is not None and (nearest.form != "thousands" or _is_near(nearest, told)):
        return Value(nearest.value, nearest.as_said)
    likely = likely if nearest is None else [nearest]
    return _doubtful(likely[0], likely)


def _against_habit(options: Sequence[Spoken], likely: Sequence[Spoken], unit: str) -> bool:
    """Tell "one thirty millimetres" where only 1.30 is likely, though 130 is what it says."""
    whole = options[0].form == "hundreds" and options[0].value < 1000
    return (
        whole
        and len(likely) == 1
        and likely[0].form == "shorthand"
        and (unit != "V" or likely[0].value < CELL)
    )


def _doubtful(chosen: Spoken, options: Sequence[Spoken]) -> Value:
    why = "This figure can be understood in more than one way."
    doubt = Flag(by="numbers", code="two-readings", why=why, options=_printed(options))
    return Value(chosen.value, chosen.as_said, (doubt,))


def _as_written(number: Number) -> Value:
    """Flag "12,5" and "12 500": one figure in some countries, and in others two."""
    first, last = number.options[0], number.options[-1]
    parts = first.as_said.replace(".", ", ") if number.form == "comma" else last.as_said
    why = "Written so that it can stand for one figure or for two."
    doubt = Flag(by="numbers", code="two-readings", why=why, options=(first.as_said, parts))
    return Value(first.value, first.as_said, (doubt,))


def sayable(number: Number, measure: Measure, unit: str) -> Sequence[Spoken]:
    """Leave out decimals without "point" where nobody says them: "twelve fifty" rpm or thou."""
    first, *others = options_of(number, unit)
    if unit == "rpm":
        return [first, *others]
    if unit == "A" and first.form == "hundreds":
        return [first, *(o for o in others if o.form != "shorthand")]  # nobody says 53.50 A
    if first.form == "shorthand":
        return [first, *(o for o in others if len(number.options) and o.form == "hundreds")]
    pointed = unit in POINTED or (measure.decimals and unit != "thou")
    if pointed and first.form == "digits" and first.value < 100:
        return [o for o in others if measure.likely(o.value, unit)] or [first]
    return [first, *(o for o in others if o.form != "shorthand" or pointed)]


def options_of(number: Number, unit: str) -> Sequence[Spoken]:
    """Return what a number can stand for, with speeds told in thousands ("eight six" for 8600)."""
    found = number.options
    if unit == "rpm":
        short = [o for o in found if o.form in ("shorthand", "decimal") and o.value < 40]
        found += tuple(plain(Decimal(int(o.value * 1000)), "thousands") for o in short)
        whole = [o for o in found if o.form == "plain" and o.value % 1 == 0 and o.value < 100]
        found += tuple(plain(o.value * times, "thousands") for o in whole for times in (100, 1000))
    if unit == "in" and found[0].form == "hundreds" and 100 <= found[0].value < 1000:
        found += (plain(found[0].value / 1000, "thousands"),)
    return found


def _unlikely(number: Number, options: Sequence[Spoken], measure: Measure, unit: str) -> Value:
    first = options[0]
    if unit == "thou" and first.value >= 1000 and measure.likely(first.value / 1000, unit):
        meant = plain(first.value / 1000)
        why = "Written as thousands, but a gap of thousandths is meant, most likely."
        doubt = Flag(by="numbers", code="thousandths", why=why, options=_printed([meant, first]))
        return Value(meant.value, meant.as_said, (doubt,))
    why = f"{first.as_said} {unit} is outside what is likely for {measure.name}."
    doubt = Flag(by="numbers", code="unlikely", why=why, options=_otherwise(number, measure, unit))
    return Value(first.value, first.as_said, (doubt,))


def _otherwise(number: Number, measure: Measure, unit: str) -> tuple[str, ...]:
    """Name the readings of an unlikely figure where one that few would say is likely."""
    likely = [o for o in options_of(number, unit) if measure.likely(o.value, unit)]
    return _printed([number.options[0], *likely]) if likely else ()


def _is_near(option: Spoken, told: Sequence[Decimal]) -> bool:
    """Tell a value of the size of an earlier one, so that a shortened figure is sure."""
    return _distance(option, told) < CLEAR


def _nearest(options: Sequence[Spoken], told: Sequence[Decimal]) -> Spoken | None:
    if any(option.value <= 0 for option in options):
        return None
    near, far = sorted((_distance(option, told), place) for place, option in enumerate(options))[:2]
    sure = far[0] - near[0] >= CLEAR or (near[0] < SAME and far[0] > OTHER)
    return options[near[1]] if sure else None


def _distance(option: Spoken, told: Sequence[Decimal]) -> float:
    """Return how far a value is from the nearest earlier one, as a natural logarithm."""
    sizes = [abs(log(float(option.value / value))) for value in told if value * option.value > 0]
    return min(sizes, default=FAR)


def _printed(options: Sequence[Spoken]) -> tuple[str, ...]:
    return tuple(option.as_said for option in options)

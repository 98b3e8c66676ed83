"""What "mil" means: millimetres, millilitres or thousandths of an inch, told by the talk."""

from functools import cache

from jobnotes.extract.measures import MeasureCue, cues_between
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.numbers.quantity import Quantity

NEAR = 20  # tokens on either side in which a word tells length from volume


def is_mil(units: tuple[str, ...]) -> bool:
    """Tell the unit codes of a spoken "mil"."""
    return units[:2] == ("mm", "mL")


def meant(talk: Talk, start: int, stop: int, quantity: Quantity) -> tuple[str, ...]:
    """Return the codes that "mil" can stand for at tokens start to stop; one when it is sure."""
    said = talk.utterance(talk.utterance_of[start])
    left, right = max(said.start, start - NEAR), min(said.end, stop + NEAR)
    if _is_volume(talk, left, right, quantity):
        return ("mL",)
    if _fine(quantity) or _says(talk, "millimetres"):
        return ("mm",)
    return ("thou", "mm") if _says(talk, "inches") else ("mm", "thou")


def _is_volume(talk: Talk, left: int, right: int, quantity: Quantity) -> bool:
    """Tell a volume by what is named around it, unless a length is named as well."""
    named = cues_between(talk, left, right)
    if any(not cue.hint and _is_length(cue) for cue in named):
        return False
    told = any(_holds(cue) for cue in named) or bool(
        _words("volume") & set(words(talk)[left:right])
    )
    return told and quantity.low.value >= 5


def _is_length(cue: MeasureCue) -> bool:
    """Tell a word for a length; "measured" may as well be said of a volume."""
    return "mm" in cue.measure.units and cue.measure.id != "measurement"


def _holds(cue: MeasureCue) -> bool:
    return "mL" in cue.measure.units


def _fine(quantity: Quantity) -> bool:
    """Tell a value too fine for thousandths of an inch: "fifty-four point oh two"."""
    value = quantity.low.value
    return value != round(value, 1)


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(rules("measures")["mil"][name])


@once_a_talk
def _all_words(talk: Talk) -> frozenset[str]:
    return frozenset(words(talk))


def _says(talk: Talk, name: str) -> bool:
    return bool(_words(name) & _all_words(talk))

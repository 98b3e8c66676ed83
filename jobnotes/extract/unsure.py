"""What is in doubt about the quantity chosen for a figure: flags, each with its reason."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from jobnotes.extract.figures import Figure
from jobnotes.extract.lending import beside
from jobnotes.extract.measures import Measure, MeasureCue
from jobnotes.extract.memory import Remembered
from jobnotes.extract.naming_cues import hints_for
from jobnotes.extract.surroundings import content_words, follows_change
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import thing_in
from jobnotes.extract.windows import Window, neighbour
from jobnotes.record import Flag

TIMES = 4  # by which a figure may differ from what it continues before that is in doubt
LEAD = 0.6  # by which the likeliest quantity must lead, for a figure without words of its own
SURE = 99.0  # the lead of a quantity that was not chosen among several


@dataclass(frozen=True, slots=True)
class Grounds:
    """Why a figure was given its quantity.

    `cue` are the words that name it, `recalled` the figure it continues, `lead` by how much that
    one led the next best, `units` the units said or lent.
    """

    figure: Figure
    window: Window
    measure: Measure
    cue: MeasureCue | None
    recalled: Remembered | None
    lead: float
    units: tuple[str, ...]
    is_spec: bool


def unsure(talk: Talk, grounds: Grounds) -> Iterator[Flag]:
    """Give the flags that a choice earns by its grounds."""
    if grounds.figure.misheard:
        heard = f'"{grounds.figure.misheard}" is no unit'
        yield _flag("unit-misheard", f"{heard}; the one that sounds most like it was taken.")
    if not grounds.units and _is_guessed(talk, grounds):
        name = grounds.recalled.name if grounds.recalled else grounds.measure.name
        yield _flag("which-quantity", f"Neither quantity nor unit was said; {name} is only likely.")
    elif _is_of_nothing(talk, grounds):
        why = "No word says what this length is of; it may only be the size of something."
        yield _flag("which-quantity", why)
    if _has_lent_torque(talk, grounds):
        yield _flag("unit-not-said", "The unit was said only with the next torque.", grounds.units)


def _flag(code: str, why: str, options: tuple[str, ...] = ()) -> Flag:
    return Flag(by="numbers", code=code, why=why, options=options)


def _is_guessed(talk: Talk, grounds: Grounds) -> bool:
    """Tell a bare figure whose quantity no word of its own breath makes sure."""
    last, cue = grounds.recalled, grounds.cue
    if cue is not None:
        return cue.kind == "verb" and not grounds.is_spec and not cue.units
    if last is None:
        return not grounds.is_spec
    if grounds.lead < LEAD or (not grounds.is_spec and _is_far_from(grounds.figure, last)):
        return True
    apart = grounds.figure.utterance - last.utterance
    if grounds.is_spec:
        return apart > 1 and not _told(talk, grounds.window) & last.told
    return apart > 0 and _is_loose(talk, grounds, last, apart)


def _is_loose(talk: Talk, grounds: Grounds, last: Remembered, apart: int) -> bool:
    """Tell a figure that shares no word with the one it seems to continue, or follows from afar."""
    here = grounds.window
    told = _told(talk, here)
    if apart > 1 or _names_new(talk, grounds, last):
        return True
    return not told & last.told and not follows_change(talk, here.first)


def _told(talk: Talk, here: Window) -> frozenset[str]:
    return content_words(talk, here.begin, here.first) | content_words(talk, here.stop, here.right)


def _is_far_from(figure: Figure, last: Remembered) -> bool:
    """Tell a figure several times as much, or as little, as what it seems to continue."""
    value, before = abs(figure.quantity.low.value), abs(last.value or Decimal(0))
    return bool(value and before) and max(value, before) > TIMES * min(value, before)


def _names_new(talk: Talk, grounds: Grounds, last: Remembered) -> bool:
    """Tell a bare figure beside a component that was not named with what it would continue."""
    here = grounds.window
    thing = thing_in(talk, here.left, here.first) or thing_in(talk, here.stop, here.right)
    known = last.told | set(last.what.split())
    return thing is not None and known.isdisjoint(thing.name.split())


def _is_of_nothing(talk: Talk, grounds: Grounds) -> bool:
    """Tell a length of which no word says what was measured."""
    told = grounds.cue is not None or grounds.recalled is not None or grounds.is_spec
    if told or grounds.measure.id != "measurement":
        return False
    return not hints_for(talk, grounds.figure, grounds.window, grounds.figure.quantity.units)


def _has_lent_torque(talk: Talk, grounds: Grounds) -> bool:
    """Tell a torque whose unit was said only with another: bolts differ, and so do their units."""
    figure, units = grounds.figure, grounds.units
    following = neighbour(talk, figure, 1)
    if grounds.measure.id != "torque" or figure.quantity.units or not units or following is None:
        return False
    return not beside(talk, figure, following) and following.quantity.units == units

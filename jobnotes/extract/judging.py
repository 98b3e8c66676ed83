"""Which figures are readings and which are specs, of what, in which unit: one pass over a talk."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from jobnotes.extract.bounds import bounds
from jobnotes.extract.choosing import Choice, choose, rating_of
from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.measures import cues_between, measure
from jobnotes.extract.memory import Memory, Remembered
from jobnotes.extract.naming import name_of, thing_for
from jobnotes.extract.not_readings import is_no_measurement, names_class
from jobnotes.extract.spec_cues import (
    SpecCue,
    also_spec,
    is_negated,
    spec_after,
    spec_before,
    verdict_after,
)
from jobnotes.extract.surroundings import content_words
from jobnotes.extract.takebacks import takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.values import value_of
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.extract.windows import Window, mentioned_again, neighbour, taken_back, window

AGAIN = 2  # utterances after a figure within which a bare range is its limits
INHERITED = frozenset({"unit-not-said", "unit-unclear", "unit-misheard", "which-quantity"})
Role = Literal["reading", "spec", "both"]


@dataclass(frozen=True, slots=True)
class Judged:
    """A figure that measures something: its role, its quantity and unit, and how sure that is."""

    figure: Figure
    window: Window
    role: Role
    choice: Choice
    what: str
    thing: str
    cue: SpecCue | None
    taken_back: bool


@once_a_talk
def judged(talk: Talk) -> tuple[Judged, ...]:
    """Return every figure that is a reading or a spec, those taken back included, in order."""
    memory = Memory()
    found: list[Judged] = []
    utterance = -1
    for figure in figures(talk):
        for passed in range(utterance + 1, figure.utterance):
            _note_announcement(talk, memory, passed)
        utterance = max(utterance, figure.utterance)
        one = _judge(talk, memory, figure, found[-1] if found else None)
        if one is not None:
            found.append(one)
            _remember(talk, memory, one)
    return tuple(found)


def _judge(talk: Talk, memory: Memory, figure: Figure, before: Judged | None) -> Judged | None:
    here = window(talk, figure)
    if figure.quantity.role == "times":
        return _counted(talk, figure, here)
    if figure.quantity.role or figure.index in mentioned_again(talk):
        return None
    cue = _spec_cue(talk, figure, here, before)
    if is_no_measurement(talk, figure, here, cue is not None):
        if figure.quantity.units and names_class(talk, figure, here):
            _note_class(memory, talk, figure, here)
        return None
    choice = choose(talk, memory, figure, here, cue is not None)
    if choice is None:
        return None
    role = _role(talk, figure, here, cue, choice)
    if role is None:
        return None
    thing = thing_for(talk, here, choice)
    what = name_of(choice, thing)
    return Judged(figure, here, role, choice, what, thing, cue, figure.index in taken_back(talk))


def _counted(talk: Talk, figure: Figure, here: Window) -> Judged | None:
    """Read "flashes four times": the one count that is a reading."""
    flashes = measure("flashes")
    cues = cues_between(talk, here.left, here.first)
    cue = next((cue for cue in cues if cue.measure is flashes), None)
    if cue is None:
        return None
    value = value_of(figure.quantity.low, flashes, "count", ())
    choice = Choice(flashes, "count", value, value, cue.name, cue, None, True, True, ())
    thing = thing_for(talk, here, choice)
    return Judged(figure, here, "reading", choice, name_of(choice, thing), thing, None, False)


def _spec_cue(talk: Talk, figure: Figure, here: Window, before: Judged | None) -> SpecCue | None:
    bound = figure.quantity.bound
    loose = bound in ("over", "under") or _up_to(talk, figure)
    verdict = verdict_after(talk, figure) if loose else ""
    if figure.quantity.is_range and verdict_after(talk, figure) == "good":
        return SpecCue(figure.start, figure.stop, "", "verdict")
    if verdict:
        low = ((bound == "over") == (verdict == "good")) != is_negated(talk, figure)
        return SpecCue(figure.start, figure.stop, "low" if low else "high", "verdict")
    cue, after = spec_before(talk, here.left, here.first), spec_after(talk, figure.stop, here.right)
    if cue is None or (after is not None and not cue.direction and after.direction):
        cue = after  # "wants a hundred, minimum"
    if cue is not None:
        return cue
    if bound in ("least", "most"):
        return SpecCue(figure.start, figure.stop, "low" if bound == "least" else "high", "bound")
    if figure.quantity.said:
        return SpecCue(figure.start, figure.stop, "", "tolerance")
    return _carried_cue(talk, figure, here, before)


def _up_to(talk: Talk, figure: Figure) -> bool:
    return words(talk)[max(figure.start - 2, 0) : figure.start] == ("up", "to")


def _carried_cue(talk: Talk, figure: Figure, here: Window, before: Judged | None) -> SpecCue | None:
    """Carry a cue on to the next range of a list: "front should be 4 to 6, rear 2 to 5"."""
    if before is None or before.cue is None or before is not None and before.role != "spec":
        return None
    same = before.figure is neighbour(talk, figure, -1)
    if same and words(talk)[before.figure.stop : figure.start] == ("and",):
        return before.cue
    if (
        same
        and figure.quantity.is_range == before.figure.quantity.is_range
        and (figure.quantity.is_range)
    ):
        return before.cue
    return None


def _role(
    talk: Talk, figure: Figure, here: Window, cue: SpecCue | None, choice: Choice
) -> Role | None:
    if cue is not None:
        return "spec"
    if choice.measure.id in ("fill", "drained") and _capacity(talk, figure):
        return "spec"
    if also_spec(talk, figure.stop, here.right + 2):
        return "both"
    if figure.quantity.is_range and not figure.quantity.change:
        if _wanders(talk, figure):
            return "reading" if choice.accepted else None
        again = choice.recalled is not None and (
            figure.utterance - choice.recalled.utterance <= AGAIN
        )
        return "spec" if choice.announced or again else None
    return "reading" if choice.accepted else None


def _wanders(talk: Talk, figure: Figure) -> bool:
    """Tell "hunting between thirty and thirty-four hundred", which was seen and not asked for."""
    before = words(talk)[max(talk.starts[figure.utterance], figure.start - 4) : figure.start]
    return not set(rules("measures")["none"]["wanders"]).isdisjoint(before)


def _capacity(talk: Talk, figure: Figure) -> bool:
    """Tell "takes one eighty" and "holds a quart", which say what a thing holds."""
    return words(talk)[figure.start - 1 : figure.start] in (("takes",), ("holds",))


# --- what later figures look back on ---


def _remember(talk: Talk, memory: Memory, one: Judged) -> None:
    told = content_words(talk, one.window.begin, one.window.first)
    told |= content_words(talk, one.window.stop, one.window.right)
    told |= frozenset(one.what.split())
    value = None if _soon_gone(talk, one) else one.choice.low.value
    value = value if one.role != "spec" or not one.figure.quantity.is_range else None
    memory.add(
        Remembered(
            one.choice.measure,
            one.choice.unit,
            one.thing,
            one.what,
            one.choice.name,
            value if value is None or value else Decimal(0),
            one.figure.utterance,
            told,
            tuple(flag for flag in one.choice.flags if flag.code in INHERITED),
        )
    )


def _soon_gone(talk: Talk, one: Judged) -> bool:
    """Tell a figure replaced in the same breath; one corrected later still tells the size."""
    return one.taken_back and any(
        talk.utterance_of[back.start] <= one.figure.utterance + 1
        for back in takebacks(talk)
        if back.old is one.figure
    )


def _note_announcement(talk: Talk, memory: Memory, utterance: int) -> None:
    """Remember what an utterance without figures announces ("now voltage drops, all cranking")."""
    said = bounds(talk, utterance)
    for cue in cues_between(talk, said.start, min(said.end, said.start + 40)):
        if not cue.hint:
            unit = memory.units.get(cue.measure.id) or next(iter(cue.measure.units))
            told = content_words(talk, said.start, min(said.end, said.start + 40))
            memory.kept.append(
                Remembered(cue.measure, unit, "", cue.name, cue.name, None, utterance, told)
            )
            return


def _note_class(memory: Memory, talk: Talk, figure: Figure, here: Window) -> None:
    """Remember a rating that was named ("the fuse is a thirty amp, should be a fifteen")."""
    end = bounds(talk, figure.utterance).end
    if figure.stop < end and words(talk)[figure.stop] not in (",", "."):
        return
    rated, unit = rating_of(talk, figure, here)
    told = content_words(talk, here.begin, here.first)
    value = figure.quantity.low.value
    memory.add(Remembered(rated, unit, "", rated.name, rated.name, value, figure.utterance, told))

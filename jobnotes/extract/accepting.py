"""Whether enough was said of a figure for a reading, and whether a time was taken or passed."""

from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.lending import lent_units, listed_units
from jobnotes.extract.measures import Measure, MeasureCue
from jobnotes.extract.memory import Remembered
from jobnotes.extract.spec_cues import spec_after, spec_before
from jobnotes.extract.surroundings import unexplained
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import rules, words
from jobnotes.extract.windows import Window, figure_tokens, neighbour
from jobnotes.numbers.units import measures

HOURS_RUN = 100  # hours; so many are on a machine's meter, not on a job
TIMED = frozenset({"time", "hour-meter"})


def accepted(
    talk: Talk,
    figure: Figure,
    here: Window,
    measure: Measure,
    cue: MeasureCue | None,
    recalled: Remembered | None,
) -> bool:
    """Tell whether a figure with this measure is a reading."""
    if measure.id in TIMED:
        if figure.quantity.units[:1] == ("h",) and figure.quantity.low.value >= HOURS_RUN:
            return True
        return _was_timed(talk, figure, here, cue, recalled)
    if measure.id == "power" and cue is None and figure.quantity.low.form == "plain":
        return _is_read(talk, figure)
    if figure.quantity.units or recalled is not None:
        return True
    if cue is not None or lent_units(talk, figure) or listed_units(talk, figure):
        return True
    form = figure.quantity.low.form
    if measure.id == "engine-speed" and figure.quantity.low.value >= 1000:
        return True
    pointed = form in ("decimal", "shorthand") or figure.quantity.low.value < 0
    taken = figure_tokens(talk, here.left, here.first)
    return pointed and unexplained(talk, here.left, here.first, taken) <= 1


def _is_read(talk: Talk, figure: Figure) -> bool:
    """Tell "panel reads twenty-two kilowatts" from "eight kilowatts on", which is a condition."""
    before = words(talk)[max(talk.starts[figure.utterance], figure.start - 2) : figure.start]
    return not set(before).isdisjoint(rules("measures")["none"]["reads"])


def _was_timed(
    talk: Talk,
    figure: Figure,
    here: Window,
    cue: MeasureCue | None,
    recalled: Remembered | None,
) -> bool:
    """Tell a time that was taken from one that only says how long something was done."""
    before = words(talk)[figure.start - 1] if figure.start > talk.starts[figure.utterance] else ""
    if _ends_then(talk, figure, before):
        return True
    adjacent = cue is not None and cue.stop == here.first
    if before in rules("measures")["none"]["every"] and not adjacent:
        return False
    if before in ("me", "us", "him", "her", "you"):
        return False
    if cue is not None and cue.kind == "verb" and figure.quantity.units[:1] == ("h",):
        return False
    if cue is not None or (recalled is not None and recalled.measure.id in TIMED):
        return True
    following = neighbour(talk, figure, 1)
    if following is None or (following.quantity.units and not _same_kind(figure, following)):
        return False
    return spec_before(talk, figure.stop, following.first) is not None or (
        spec_after(talk, following.stop, following.stop + 4) is not None
    )


def _ends_then(talk: Talk, figure: Figure, before: str) -> bool:
    """Tell "caught in six seconds" and "died at seventeen minutes"."""
    earlier = (
        words(talk)[figure.start - 2] if figure.start - 2 >= talk.starts[figure.utterance] else ""
    )
    if figure.index and figures(talk)[figure.index - 1].stop == figure.start - 1:
        return False  # "down to two in ten seconds"
    none = rules("measures")["none"]
    seconds = figure.quantity.units[:1] == ("s",)
    if before in ("in", "within", "what", ",") and seconds and _in_before(talk, figure):
        return earlier not in none["waits"]
    return (before == "in" and seconds and earlier in none["timed"]) or (
        before == "at" and earlier in none["events"]
    )


def _in_before(talk: Talk, figure: Figure) -> bool:
    """Tell "in nine seconds" and "in, what, nine seconds"."""
    near = words(talk)[max(talk.starts[figure.utterance], figure.start - 4) : figure.start]
    return "in" in near


def _same_kind(one: Figure, two: Figure) -> bool:
    kinds = [measures(f.quantity.units[0]) for f in (one, two) if f.quantity.units]
    return len(set(kinds)) == 1

"""The words that name what a figure measures: the nearest that reach it and fit it."""

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure
from jobnotes.extract.measures import Measure, MeasureCue, cues_between
from jobnotes.extract.surroundings import says_nothing, unexplained, when_in
from jobnotes.extract.takeback import word_set
from jobnotes.extract.talk import Talk
from jobnotes.extract.values import options_of
from jobnotes.extract.vocabulary import rules, words
from jobnotes.extract.windows import Window, figure_tokens, neighbour

REACH = 8  # tokens after a figure, within which what it measures is named


def strong_cue(
    talk: Talk, figure: Figure, here: Window, units: tuple[str, ...]
) -> MeasureCue | None:
    """Return the words that name the quantity: right after the figure, else nearest before it."""
    adjacent = [
        cue
        for cue in cues_between(talk, figure.stop, min(here.right, figure.stop + 5))
        if not cue.hint and _next_to(talk, figure, cue) and _fits(cue, figure, units)
    ]
    if adjacent:
        return max(adjacent, key=lambda cue: cue.stop)
    named = _named_after(talk, figure, here, units)
    if named is not None:
        return named
    taken = figure_tokens(talk, here.begin, here.first)
    before = [
        cue
        for cue in cues_between(talk, here.begin, here.first)
        if not cue.hint and cue.start not in taken and _fits(cue, figure, units)
        if cue.stop - cue.start > 1
        or words(talk)[cue.start] not in rules("measures")["follows"]["only"]
        if _reaches(talk, cue, here, bool(units), taken)
    ]
    before = [cue for cue in before if _fits_as_said(cue, figure, units)] or before
    own = [cue for cue in before if cue.start >= here.left and cue.measure.id != "measurement"]
    if own or before:
        before = own or before
        return max(before, key=lambda cue: (cue.stop, cue.stop - cue.start))
    after = [
        cue
        for cue in cues_between(talk, figure.stop, here.right)
        if cue.kind == "noun" and (units or _on_it(talk, cue)) and _fits(cue, figure, units)
    ]
    return after[0] if after else None


def _named_after(
    talk: Talk, figure: Figure, here: Window, units: tuple[str, ...]
) -> MeasureCue | None:
    """Return what "five thou, intake lash" and "forty percent, that's the leak-down" name."""
    start, tokens = talk.starts[figure.utterance], words(talk)
    comma = tokens[figure.stop : figure.stop + 1] == (",",)
    if not comma or not says_nothing(talk, start, figure.start):
        return None
    end = min(bounds(talk, figure.utterance).end, figure.stop + REACH)
    following = neighbour(talk, figure, 1)
    end = min(end, following.start) if following is not None else end
    if not word_set("interjections").isdisjoint(tokens[figure.stop : figure.stop + 3]):
        return None
    for cue in cues_between(talk, figure.stop + 1, end):
        own = following is None or "," in tokens[cue.stop : following.start]
        if cue.kind == "noun" and own and _fits(cue, figure, units):
            return cue if unexplained(talk, figure.stop, cue.start, set()) <= 1 else None
    return None


def _reaches(talk: Talk, cue: MeasureCue, here: Window, has_unit: bool, taken: set[int]) -> bool:
    """Tell whether a cue still speaks of the figure: a verb only of the one straight after it."""
    between = unexplained(talk, cue.stop, here.first, taken)
    if cue.kind == "verb" and cue.measure.adjacent:
        return has_unit and cue.stop == here.first
    if cue.kind == "verb":
        moved = {"to", "down", "up", "at", "under", "over"} & set(
            words(talk)[cue.stop : here.first]
        ) - {words(talk)[cue.stop - 1]}
        return not moved and says_nothing(talk, cue.stop, here.first)
    return has_unit or between <= 2


def _on_it(talk: Talk, cue: MeasureCue) -> bool:
    """Tell the instrument of "eighteen hundred on the tacho"."""
    return words(talk)[cue.start - 2 : cue.start] in (("on", "the"), ("by", "the"), ("on", "a"))


def _next_to(talk: Talk, figure: Figure, cue: MeasureCue) -> bool:
    if words(talk)[cue.start] not in rules("measures")["follows"]["words"]:
        return False
    if any(place.start == cue.start for place in when_in(talk, cue.start, cue.start + 3)):
        return False
    return all(token in ("of", "the", "on") for token in words(talk)[figure.stop : cue.start])


def _fits(cue: MeasureCue, figure: Figure, units: tuple[str, ...]) -> bool:
    measure = cue.measure
    if units and measure.strict:
        values = [option.value for option in figure.quantity.low.options]
        return any(measure.likely(value, unit) for value in values for unit in units)
    if units:
        return any(unit in measure.units for unit in units)
    could = cue.units or measure.units
    return any(
        measure.likely(option.value, unit)
        for unit in could
        for option in options_of(figure.quantity.low, unit)
        if option.form != "thousands" or figure.quantity.low.form != "plain"
    ) or lost_thousandths(measure, figure)


def _fits_as_said(cue: MeasureCue, figure: Figure, units: tuple[str, ...]) -> bool:
    """Tell a quantity that fits without taking "fourteen one" for thousands."""
    values = [option.value for option in figure.quantity.low.options]
    return bool(units) or any(cue.measure.likely(v, u) for v in values for u in cue.measure.units)


def lost_thousandths(measure: Measure, figure: Figure) -> bool:
    """Tell "gap 30,000", as recognisers write thirty thousandths."""
    value = figure.quantity.low.value
    return value >= 1000 and value % 1000 == 0 and measure.likely(value / 1000, "thou")


def hints_for(talk: Talk, figure: Figure, here: Window, units: tuple[str, ...]) -> list[MeasureCue]:
    """Return the words around a figure that only help to choose, those before it nearest first."""
    before = neighbour(talk, figure, -1)
    apart = not units and before is not None and bool(before.quantity.units)
    start = here.left if apart else here.begin
    around = [
        *reversed(cues_between(talk, start, here.first)),
        *cues_between(talk, figure.stop, here.right),
    ]
    return [cue for cue in around if cue.hint and _fits(cue, figure, units)]

"""The unit that a figure without one has from its neighbour: in a list, or across a correction."""

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure
from jobnotes.extract.measures import cues_between, default_for
from jobnotes.extract.surroundings import unexplained
from jobnotes.extract.takebacks import takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.extract.windows import neighbour
from jobnotes.numbers.unit_joins import unit_at
from jobnotes.numbers.units import measures

UNLENT = frozenset({"time", "volume", "weight"})  # a second figure is seldom one more of these
TIMES = 8  # a member of a list is seldom that many times another
LINKS = frozenset({",", ";", "and", "then", "again", "or", "by"})
LISTED = 4  # figures of a list that may wait for the unit said with the last


def lent_units(talk: Talk, figure: Figure) -> tuple[str, ...]:
    """Return the unit of the figure that this one replaces or stands in a list with."""
    partner = partner_units(talk, figure)
    if partner:
        return partner
    return _units_along(talk, figure, 1, LISTED) or _units_along(talk, figure, -1, 1)


def listed_units(talk: Talk, figure: Figure) -> tuple[str, ...]:
    """Return the unit said once for a bare list ("four hundred, three ninety-nine volts").

    Only commas and the like stand between the figures, so that no word can name another quantity.
    """
    return _units_of_list(talk, figure, 1) or _units_of_list(talk, figure, -1)


def _units_of_list(talk: Talk, figure: Figure, step: int) -> tuple[str, ...]:
    one = figure
    for _ in range(LISTED):
        other = neighbour(talk, one, step)
        if other is None or not beside(talk, one, other):
            return _unit_of_all(talk, one) if step > 0 and _is_listed(talk, one) else ()
        if other.quantity.units:
            sized = measures(other.quantity.units[0]) not in UNLENT and _of_a_size(figure, other)
            return other.quantity.units if sized else ()
        one = other
    return ()


def _is_listed(talk: Talk, figure: Figure) -> bool:
    before = neighbour(talk, figure, -1)
    return before is not None and beside(talk, before, figure)


def _unit_of_all(talk: Talk, last: Figure) -> tuple[str, ...]:
    """Read the unit that comes a comma after a list: "four fourteen, four fifteen, volts"."""
    end = bounds(talk, last.utterance).end
    place = last.stop
    while place < end and words(talk)[place] in LINKS:
        place += 1
    unit = unit_at(words(talk), place) if last.stop < place < end else None
    return unit.codes if unit is not None and unit.stop == end else ()


def beside(talk: Talk, one: Figure, other: Figure) -> bool:
    """Tell whether nothing but commas and "and" stands between two figures."""
    first, second = sorted((one, other), key=lambda figure: figure.start)
    return set(words(talk)[first.stop : second.start]) <= LINKS


def partner_units(talk: Talk, figure: Figure) -> tuple[str, ...]:
    """Return the unit of the figure that this one replaces, or by which it is replaced."""
    return _partner_units(talk).get(figure.index, ())


def _units_along(talk: Talk, figure: Figure, step: int, most: int) -> tuple[str, ...]:
    """Follow a list from a figure until one of it says its unit ("top 196, bottom 188 degrees")."""
    for _ in range(most):
        other = neighbour(talk, figure, step)
        if other is None or not _in_list(talk, figure, other):
            return ()
        units = other.quantity.units
        if units and _sizes_something(talk, other):
            return ()
        if units:
            lendable = measures(units[0]) not in UNLENT and _of_a_size(figure, other)
            return units if lendable else ()
        figure = other
    return ()


def _sizes_something(talk: Talk, figure: Figure) -> bool:
    """Tell the size of a tool or a part, as in "an eight mil spanner"."""
    following = words(talk)[figure.stop : figure.stop + 1]
    return bool(following) and following[0] in rules("measures")["none"]["stuff"]


def _of_a_size(figure: Figure, other: Figure) -> bool:
    """Tell whether a bare figure can be one more of its neighbour's: alike in size, and likely."""
    theirs = abs(other.quantity.low.value)
    measure = default_for(other.quantity.units[0])
    options = figure.quantity.low.options[: None if measure.decimals else 1]
    values = [abs(option.value) for option in options]
    times = TIMES * (3 if figure.quantity.low.form == "decimal" else 1)
    return any(
        measure.likely(value, other.quantity.units[0])
        and (not value or not theirs or max(value, theirs) <= times * min(value, theirs))
        for value in values
    )


@once_a_talk
def _partner_units(talk: Talk) -> dict[int, tuple[str, ...]]:
    """Return the units that the two sides of a correction lend each other."""
    lent: dict[int, tuple[str, ...]] = {}
    for back in takebacks(talk):
        old, new = back.old, back.new
        if isinstance(old, Figure) and isinstance(new, Figure):
            units = new.quantity.units or old.quantity.units or lent.get(old.index, ())
            lent[old.index] = lent[new.index] = units
    return lent


def _in_list(talk: Talk, figure: Figure, other: Figure) -> bool:
    first, second = sorted((figure, other), key=lambda one: one.start)
    if second.start - first.stop > 12:
        return False
    own = [cue for cue in cues_between(talk, first.stop, second.start) if not cue.hint]
    return not own and unexplained(talk, first.stop, second.start, set()) <= 1

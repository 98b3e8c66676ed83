"""Figures that measure nothing: sizes, ratings, conditions, intervals, counts, advice."""

from bisect import bisect_left
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.itemised import item_numbers
from jobnotes.extract.lending import partner_units
from jobnotes.extract.lexicon import FUNCTION, Tag, tag_of
from jobnotes.extract.measures import cues_between
from jobnotes.extract.naming_cues import strong_cue
from jobnotes.extract.spec_cues import spec_after, spec_before
from jobnotes.extract.spelled import spelled
from jobnotes.extract.surroundings import when_in, where_in
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, plural, rules, words
from jobnotes.extract.windows import LEFT, Window, neighbour
from jobnotes.numbers.lexicon import words as number_words
from jobnotes.numbers.phrases import Phrases
from jobnotes.numbers.units import measures

_LEADS = frozenset(("to", "at", "is", "was", "'s", "of", "reads", "about"))
SPEED = 300  # a bare figure from here on is a speed where another figure was read at it
LENT = 6  # tokens to the figure that lends its unit
GOES_ON = FUNCTION | Tag.ADVERB | Tag.FILLER


@cache
def _phrases(name: str) -> Phrases:
    return Phrases(rules("measures")["none"][name])


@cache
def _stuff() -> frozenset[str]:
    return frozenset(rules("measures")["none"]["stuff"])


def is_no_measurement(talk: Talk, figure: Figure, here: Window, is_spec: bool) -> bool:
    """Tell whether a figure is certainly neither a reading nor (with `is_spec`) a spec."""
    if _is_advice(talk, figure, here) or (not is_spec and _is_told(talk, figure, here)):
        return True
    if words(talk)[figure.start - 1 : figure.start] == ("not",):
        return True
    if figure.index in item_numbers(talk) or partner_units(talk, figure)[:1] == ("hp",):
        return True
    if figure.quantity.units:
        if is_spec:
            return names_class(talk, figure, here) or _is_interval(talk, figure)
        return (
            names_class(talk, figure, here)
            or _is_apart(talk, figure)
            or _is_condition(talk, figure, here)
        )
    return (
        _is_rated(talk, figure)
        or _counts_something(talk, figure, is_spec)
        or _is_below_another(talk, figure)
        or _is_next_size(talk, figure)
        or _is_one_wanted(talk, figure)
        or _is_price(talk, figure)
        or _is_dated(talk, figure)
        or (not is_spec and (_is_apart(talk, figure) or _is_bare_condition(talk, figure, here)))
    )


def _is_interval(talk: Talk, figure: Figure) -> bool:
    """Tell "every fifty hours", which is advice, and "an hour" of somebody's time."""
    before = words(talk)[figure.start - 1] if figure.start else ""
    timed = measures(figure.quantity.units[0]) == "time"
    return timed and (before in ("every", "each", "take", "takes") or "h" in figure.quantity.units)


def _is_advice(talk: Talk, figure: Figure, here: Window) -> bool:
    return _is_near(talk, figure, here, _advice(talk))


def _is_told(talk: Talk, figure: Figure, here: Window) -> bool:
    return _is_near(talk, figure, here, _told(talk))


def _is_near(talk: Talk, figure: Figure, here: Window, places: tuple[int, ...]) -> bool:
    end = min(bounds(talk, figure.utterance).end, here.right + 3)
    index = bisect_left(places, max(here.begin, figure.first - LEFT))
    return index < len(places) and places[index] < end


@once_a_talk
def _advice(talk: Talk) -> tuple[int, ...]:
    """Return where words of advice begin."""
    return _where(talk, "advice")


@once_a_talk
def _told(talk: Talk) -> tuple[int, ...]:
    """Return where words begin that report what somebody else says."""
    return _where(talk, "told")


def _where(talk: Talk, name: str) -> tuple[int, ...]:
    tokens, phrases = words(talk), _phrases(name)
    first = phrases.first_words
    return tuple(
        at for at, token in enumerate(tokens) if token in first and phrases.end(tokens, at) > at
    )


def names_class(talk: Talk, figure: Figure, here: Window) -> bool:
    """Tell "a twelve volt battery" and "the thirty amp", which name a class, from a measurement."""
    tokens = words(talk)
    following = tokens[figure.stop] if figure.stop < bounds(talk, figure.utterance).end else ""
    quantity = figure.quantity
    if quantity.low.form == "fraction" and quantity.low.value < 1 and following not in _stuff():
        return False
    limit = spec_before(talk, here.left, here.first)
    if _measured_next(talk, figure) or (limit is not None and limit.stop == here.first):
        return False
    if following in ("feeler", "feelers") and _feels(talk, figure):
        return False
    if following in _stuff() and not tokens[figure.stop - 1].endswith("s"):
        return True
    if following == "of" and figure.stop + 1 < len(tokens):
        stuff = tokens[figure.stop + 1 : figure.stop + 3]
        return measures(quantity.units[0]) == "length" and bool(_stuff() & set(stuff))
    before = tokens[figure.first - 1] if figure.first else ""
    if quantity.units[0] == "hp":
        return True
    named = quantity.singular and abs(quantity.low.value) > 1
    cue = strong_cue(talk, figure, here, quantity.units)
    told = cue is not None and (before in _LEADS or cue.stop == here.first)
    dialect = measures(quantity.units[0]) == "torque"
    loose = not told and quantity.low.form != "decimal"
    return named and not dialect and (before in ("a", "an", "the") or loose)


def _feels(talk: Talk, figure: Figure) -> bool:
    """Tell "got a six thou feeler under it", a measurement, from a feeler that only lies there."""
    said = bounds(talk, figure.utterance)
    near = words(talk)[max(said.start, figure.start - 5) : min(said.end, figure.stop + 5)]
    return not set(near).isdisjoint(rules("measures")["none"]["feels"])


def _measured_next(talk: Talk, figure: Figure) -> bool:
    near = cues_between(talk, figure.stop, figure.stop + 4)
    follows = rules("measures")["follows"]["words"]
    return any(
        not cue.hint and cue.start == figure.stop and words(talk)[cue.start] in follows
        for cue in near
    )


def _may_follow(talk: Talk, place: int, token: str) -> bool:
    """Tell a word that goes on with the sentence from a noun that the figure belongs to."""
    if not token or not token.isalpha() or tag_of(token) & GOES_ON:
        return True
    near = min(place + 4, len(words(talk)))
    return any(
        p.start == place for p in (*where_in(talk, place, near), *when_in(talk, place, near))
    )


def _is_apart(talk: Talk, figure: Figure) -> bool:
    """Tell how far two figures are apart ("four psi below the top") from a figure."""
    if any(p.start <= figure.stop + 1 for p in when_in(talk, figure.stop, figure.stop + 5)):
        return False
    after = words(talk)[figure.stop : bounds(talk, figure.utterance).end]
    volume = bool(figure.quantity.units) and measures(figure.quantity.units[0]) == "volume"
    if volume and _phrases("short").end(after, 0):
        return True
    stop = _phrases("apart").end(after, 0)
    if not stop or _lies_across(after, stop):
        return False
    units = figure.quantity.units
    if units and measures(units[0]) == "length":
        return _phrases("off").end(after, stop) > stop
    return True


def _lies_across(after: tuple[str, ...], stop: int) -> bool:
    """Tell "four tenths of a volt over the switch": measured across it."""
    return after[stop - 1] == "over" and after[stop : stop + 1] in (("the",), ("a",), ("that",))


def _is_condition(talk: Talk, figure: Figure, here: Window) -> bool:
    """Tell under which speed, pressure or height something else was measured."""
    kind = measures(figure.quantity.units[0])
    cue = strong_cue(talk, figure, here, figure.quantity.units)
    if cue is not None or kind == "torque":
        return False
    others = [neighbour(talk, figure, step) for step in (1, -1)]
    other = any(
        o is not None
        and not o.quantity.is_range
        and (not o.quantity.units or measures(o.quantity.units[0]) != kind)
        and (o.start < figure.start or spec_before(talk, figure.stop, o.first) is None)
        for o in others
    )
    before = words(talk)[figure.start - 1] if figure.start > here.begin else ""
    if _from_empty(talk, figure):
        return other
    if before == "at" and _happens(words(talk)[figure.start - 2]):
        return False
    if before in ("at", "with") or (before in ("a", "an") and kind == "length"):
        return other
    return kind == "speed" and other


def _from_empty(talk: Talk, figure: Figure) -> bool:
    """Tell "empty to, uh, one fifty psi", over which something was timed."""
    start = max(talk.starts[figure.utterance], figure.start - 6)
    told = [word for word in words(talk)[start : figure.start] if not tag_of(word) & Tag.FILLER]
    told = [word for word in told if word != ","]
    return told[-1:] == ["to"] and bool({"empty", "zero", "nothing", "scratch"} & set(told[-2:]))


def _happens(word: str) -> bool:
    """Tell the verb of "cuts in at" and "floating at", whose figure is what was read."""
    progressive = word.endswith("ing") and word not in rules("measures")["none"]["conditions"]
    return progressive or word in rules("measures")["none"]["events"]


def _is_bare_condition(talk: Talk, figure: Figure, here: Window) -> bool:
    """Tell "at fifteen hundred, twelve point three": a speed without its unit, before a figure."""
    tokens = words(talk)
    before = tokens[figure.start - 1] if figure.start > here.begin else ""
    previous, following = neighbour(talk, figure, -1), neighbour(talk, figure, 1)
    if before != "at":
        return False
    if previous is not None and not {",", "and", "then"} & set(
        tokens[previous.stop : figure.start]
    ):
        near = strong_cue(talk, figure, here, ())
        return near is None or near.stop < previous.stop
    if following is None or figure.quantity.low.value < SPEED:
        return False
    cue = strong_cue(talk, figure, here, ())
    return cue is None or bool(set(following.quantity.units) & set(cue.measure.units))


def _counts_something(talk: Talk, figure: Figure, is_spec: bool) -> bool:
    """Tell "four of its ten blades" and "two new pins" from a figure without a unit."""
    tokens, end = words(talk), bounds(talk, figure.utterance).end
    following = tokens[figure.stop] if figure.stop < end else ""
    before = tokens[figure.first - 1] if figure.first else ""
    if following in ("of", "times", "more") or following in _plurals() or following in _stuff():
        return True
    if before == "the" and not is_spec:
        return True
    low = figure.quantity.low
    if figure.stop - figure.first == 1 and low.form == "fraction":
        lent = is_lent(talk, figure) and _may_follow(talk, figure.stop, following)
        return tokens[figure.first].isalpha() and not lent
    if low.form not in ("plain", "digits"):
        return False
    if _is_few(figure) and _is_counted(talk, figure, before, following, is_spec):
        return True
    return _counts_what_follows(talk, figure, before, following, is_spec)


def _is_rated(talk: Talk, figure: Figure) -> bool:
    """Tell "new battery, six fifty cold crank" from what was measured."""
    after = words(talk)[figure.stop : bounds(talk, figure.utterance).end]
    return _phrases("rated").end(after, 0) > 0


def _is_few(figure: Figure) -> bool:
    low = figure.quantity.low
    return low.form == "plain" and low.value <= 12 and not figure.quantity.is_range


def _is_counted(talk: Talk, figure: Figure, before: str, following: str, is_spec: bool) -> bool:
    """Tell a small number that counts or names: "all four", "took two", "head four", "a two"."""
    if before in ("all", "these", "those", "other", "them", "both", "the") or following == "for":
        return True
    if not is_spec and (before in ("a", "an") or _names_one(talk, figure)):
        return True
    return _phrases("taken").begin(words(talk), figure.first) < figure.first


def _counts_what_follows(
    talk: Talk, figure: Figure, before: str, following: str, is_spec: bool
) -> bool:
    end = bounds(talk, figure.utterance).end
    if _measured_next(talk, figure) or spec_after(talk, figure.stop, end):
        return False
    if _is_few(figure) and not is_spec and following in ("'s", "'re", "is", "has"):
        return True
    said = is_spec or before in ("at", "to", "is", "was", "be", "'s")
    if _is_lone_one(talk, figure) and not said:
        return True
    return not _may_follow(talk, figure.stop, following)


def _names_one(talk: Talk, figure: Figure) -> bool:
    """Tell "swapped it onto head four", where a component has a number and no quantity is named."""
    before = figure.first - 1
    if figure.quantity.is_range or before < talk.starts[figure.utterance]:
        return False
    named = tag_of(words(talk)[before]) & Tag.HEAD
    return bool(named) and not cues_between(talk, max(0, before - 2), figure.first)


@cache
def _plurals() -> frozenset[str]:
    """Return "fives" and the like: "two sixty-fives" are two things of that size."""
    counted = [word for name in ("digits", "teens", "tens") for word in number_words(name)]
    return frozenset(plural(word) for word in counted)


def is_lent(talk: Talk, figure: Figure) -> bool:
    """Tell a bare "half" that stands in a list with a figure that has its unit."""
    others = [neighbour(talk, figure, step) for step in (1, -1)]
    return any(
        o is not None and bool(o.quantity.units) and o.start - figure.stop <= LENT for o in others
    )


def _is_below_another(talk: Talk, figure: Figure) -> bool:
    """Tell "two under the cut-in", which is how far apart two figures are."""
    after = words(talk)[figure.stop : figure.stop + 2]
    small = figure.quantity.low.form == "plain" and figure.quantity.low.value <= 20
    return small and after in tuple((word, "the") for word in ("under", "over", "below", "above"))


def _is_one_wanted(talk: Talk, figure: Figure) -> bool:
    """Tell "it needs one", where "one" stands for a thing."""
    wanted = ("needs", "need", "wants", "want", "got", "have")
    before = words(talk)[figure.first - 1] if figure.first else ""
    return _is_lone_one(talk, figure) and before in wanted


def _is_next_size(talk: Talk, figure: Figure) -> bool:
    """Tell the second size of "one twenty grit and then four hundred"."""
    before = figures(talk)[figure.index - 1] if figure.index else figure
    between = words(talk)[before.stop : figure.start]
    sized = before.quantity.role == "size" and before.utterance == figure.utterance
    return sized and bool(between) and set(between) <= {"and", "then", ",", "to", "the", "a"}


def _is_lone_one(talk: Talk, figure: Figure) -> bool:
    """Tell "the center one" from the figure one."""
    return words(talk)[figure.first : figure.stop] == ("one",)


def _is_dated(talk: Talk, figure: Figure) -> bool:
    """Tell "the stamp says twenty nineteen" and "a twenty sixteen model": a year."""
    told = words(talk)[max(talk.starts[figure.utterance], figure.start - LEFT) : figure.stop + 3]
    year = any(o.form == "hundreds" and 1950 <= o.value < 2050 for o in figure.quantity.low.options)
    return year and not set(told).isdisjoint(rules("measures")["none"]["dated"])


def _is_price(talk: Talk, figure: Figure) -> bool:
    """Tell the price said right after a part number."""
    stop = figure.start
    tokens = words(talk)
    while stop and tokens[stop - 1] in (",", "at", "for", "is"):
        stop -= 1
    return stop in _number_stops(talk)


@once_a_talk
def _number_stops(talk: Talk) -> frozenset[int]:
    return frozenset(number.stop for number in spelled(talk))

"""What can be taken back: figures and part numbers, in order, and which of them are alike."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from jobnotes.extract.figures import Figure, figures
from jobnotes.extract.spelled import Spelled, spelled
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, words
from jobnotes.numbers.units import same_dimension

BACK = 60  # figures that an earlier statement may lie back


Item = Figure | Spelled


@once_a_talk
def items(talk: Talk) -> tuple[Item, ...]:
    """Return figures that measure something and part numbers, in the order said."""
    told = [f for f in figures(talk) if f.quantity.role in ("", "price") and not _is_per(talk, f)]
    numbers = [number for number in spelled(talk) if number.is_part]
    return tuple(sorted([*told, *numbers], key=lambda item: item.start))


def _is_per(talk: Talk, figure: Figure) -> bool:
    """Tell "two hundred mil in a minute", where the minute is no figure of its own."""
    timed = figure.quantity.units[:1] in (("min",), ("s",), ("h",))
    return timed and words(talk)[figure.start] in ("a", "an")


@once_a_talk
def item_starts(talk: Talk) -> tuple[int, ...]:
    """Return the first token of each item."""
    return tuple(item.start for item in items(talk))


def last_before(talk: Talk, place: int) -> Item | None:
    """Return the last item that ends before a token."""
    index = bisect_left(item_starts(talk), place)
    while index:
        index -= 1
        item = items(talk)[index]
        if item.stop <= place:
            return item
    return None


def first_after(talk: Talk, stop: int, end: int) -> Item | None:
    """Return the first item from token `stop` on that begins before `end`."""
    index = bisect_left(item_starts(talk), stop)
    if index == len(items(talk)):
        return None
    item = items(talk)[index]
    return item if item.start < end else None


def alike(talk: Talk, old: Item, new: Item) -> bool:
    """Tell whether two items are of a kind: both part numbers, or figures whose units agree."""
    if isinstance(old, Spelled) or isinstance(new, Spelled):
        return isinstance(old, Spelled) and isinstance(new, Spelled)
    one, two = old.quantity, new.quantity
    if (one.role == "price") != (two.role == "price"):
        return False
    if one.units and two.units:
        return same_dimension(one.units[0], two.units[0])
    if two.units or two.is_range or two.low.form != "plain" or two.low.value > 12:
        return True
    return not _counts(talk, new)


def _counts(talk: Talk, figure: Figure) -> bool:
    """Tell "no, two of them" from a figure: a small number that counts what follows it."""
    tokens = words(talk)
    if figure.stop >= len(tokens):
        return False
    return tokens[figure.stop] in ("of", "more", "times") or (
        tokens[figure.stop].endswith("s") and len(tokens[figure.stop]) > 3
    )


def items_in(talk: Talk, start: int, end: int) -> Sequence[Item]:
    """Return the items that begin within tokens start to end."""
    first, last = bisect_left(item_starts(talk), start), bisect_left(item_starts(talk), end)
    return items(talk)[first:last]


def same_earlier(talk: Talk, mention: Item) -> Item | None:
    """Return the last earlier item with the same value."""
    index = bisect_right(item_starts(talk), mention.start) - 1
    for item in reversed(items(talk)[max(0, index - BACK) : index]):
        if alike(talk, item, mention) and same_value(item, mention):
            return item
    return None


def same_value(one: Item, two: Item) -> bool:
    """Tell whether two items are the same number."""
    if isinstance(one, Spelled) or isinstance(two, Spelled):
        return (
            isinstance(one, Spelled)
            and isinstance(two, Spelled)
            and (one.number.text == two.number.text)
        )
    values = {o.value for o in one.quantity.low.options}
    return bool(values & {o.value for o in two.quantity.low.options})

"""Where a new statement begins although nothing marks it: "drained the oil it's milky"."""

from jobnotes.extract.lexicon import NONE, Tag
from jobnotes.extract.vocabulary import group

PREDICATE = Tag.VERB | Tag.COPULA | Tag.HAVE | Tag.MODAL | Tag.FAULT | Tag.LINKING | Tag.NEGATION
CLOSED = Tag.HEAD | Tag.STATE | Tag.UNIT  # kinds of words that can end a statement
NAMING = Tag.HEAD | Tag.MODIFIER
FAR = 4  # words of a name before its verb
PRONOUNS = group("running_on", "pronouns")


def runs_on(
    texts: tuple[str, ...], kinds: tuple[int, ...], first: int, place: int, stop: int, seen: int
) -> bool:
    """Tell whether a statement begins at `place`, after the one that began at `first`."""
    if place + 1 >= stop or not kinds[place - 1] & CLOSED:
        return False
    after = kinds[place + 1]
    if texts[place] in PRONOUNS:
        return bool(seen & PREDICATE and after & Tag.COPULA)
    if texts[place] == "new":
        return texts[first] == "new"
    if texts[place] == "no":
        return bool(seen & (PREDICATE | Tag.BEHAVIOUR)) and place - first > 1
    if kinds[place] & Tag.VERB and not kinds[place] & Tag.STATE:
        return bool(seen & Tag.VERB and after & Tag.DETERMINER)
    return bool(kinds[place - 1] & Tag.STATE) and _stated_anew(kinds, place, stop, seen)


def _stated_anew(kinds: tuple[int, ...], place: int, stop: int, seen: int) -> bool:
    """Tell "rings are" of "piston's scored rings are stuck"."""
    if not seen & Tag.COPULA or not kinds[place] & NAMING:
        return False
    end = place
    while end < min(place + FAR, stop) and kinds[end] & NAMING:
        end += 1
    following = kinds[end] if end < stop else NONE
    return bool(kinds[end - 1] & Tag.HEAD and following & Tag.COPULA)

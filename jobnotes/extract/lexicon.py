"""What each token can be: one set of flags a token, looked up in the rule files."""

from collections.abc import Iterable, Iterator
from functools import cache

from jobnotes.extract import verbs
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import head_words, once_a_talk, rules, words


class Tag:
    """What a word can be, as bits; a word may be several things at once.

    Plain numbers, because these are tested millions of times and `enum.IntFlag` costs tenfold.
    """

    DETERMINER = 1 << 0
    PREPOSITION = 1 << 1
    PRONOUN = 1 << 2
    CONJUNCTION = 1 << 3
    COPULA = 1 << 4
    LINKING = 1 << 5
    HAVE = 1 << 6
    NEGATION = 1 << 7
    MODAL = 1 << 8
    ADVERB = 1 << 9
    FILLER = 1 << 10
    OTHER_VERB = 1 << 11
    UNIT = 1 << 12
    NUMBER = 1 << 13
    US = 1 << 14
    PERSON = 1 << 15
    HEAD = 1 << 16
    MODIFIER = 1 << 17
    ASPECT = 1 << 18
    NOT_THING = 1 << 19
    VERB = 1 << 20
    STATE = 1 << 21
    GOOD = 1 << 22
    WEAK = 1 << 23
    DEFECT = 1 << 24
    FAULT = 1 << 25
    BEHAVIOUR = 1 << 26
    PHOTO = 1 << 27
    PUNCTUATION = 1 << 28
    UNKNOWN = 1 << 29


NONE = 0
FUNCTION = (
    Tag.DETERMINER
    | Tag.PREPOSITION
    | Tag.PRONOUN
    | Tag.CONJUNCTION
    | Tag.COPULA
    | Tag.LINKING
    | Tag.HAVE
    | Tag.NEGATION
    | Tag.MODAL
    | Tag.PUNCTUATION
)
NAMING = Tag.HEAD | Tag.MODIFIER | Tag.ASPECT | Tag.UNKNOWN


@once_a_talk
def tags(talk: Talk) -> tuple[int, ...]:
    """Return the tags of every token."""
    return tuple(map(tag_of, words(talk)))


@cache
def tag_of(word: str) -> int:
    """Return all that a word can be; a word of no list is UNKNOWN, an adverb, or punctuation."""
    found = _known().get(word)
    if found is not None:
        return found
    if word[0].isdigit() or word[0] == "$":
        return Tag.NUMBER
    if not word[0].isalpha():
        return Tag.PUNCTUATION
    return Tag.ADVERB if word.endswith("ly") else Tag.UNKNOWN


@cache
def _known() -> dict[str, int]:
    known: dict[str, int] = {}
    for tag, listed in _lists():
        for word in listed:
            known[word] = known.get(word, NONE) | tag
    return known


def _lists() -> Iterator[tuple[int, Iterable[str]]]:
    """Give each tag with its words; a tag of grammar.toml is named as its list is."""
    for name, listed in rules("grammar")["classes"].items():
        yield int(getattr(Tag, name.upper())), listed.split()
    yield Tag.HEAD, head_words()
    for name, tag in (
        ("modifiers", Tag.MODIFIER),
        ("aspects", Tag.ASPECT),
        ("not_things", Tag.NOT_THING),
    ):
        yield tag, rules("things")[name]["words"].split()
    yield Tag.VERB, verbs.past_forms()
    states = rules("findings")
    yield Tag.STATE, " ".join([*states["states"].values(), states["good"]["words"]]).split()
    yield Tag.GOOD, states["good"]["words"].split()
    yield Tag.WEAK, states["weak"]["words"].split()
    yield Tag.DEFECT, states["defects"]["words"].split()
    yield Tag.PHOTO, states["photo"]["words"].split()
    yield Tag.FAULT, verbs.all_forms(states["faults"]["words"].split())
    yield Tag.BEHAVIOUR, verbs.all_forms(states["behaviours"]["words"].split())

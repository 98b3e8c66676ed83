"""What a statement is about: a named thing, a pronoun, "the right one", or the topic before it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import Tag, tag_of, tags
from jobnotes.extract.nouns import Noun, antecedent, noun_at, nouns_from, with_whole
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import heard
from jobnotes.extract.vocabulary import group, rules, singular_of, words

PRONOUNS = group("subjects", "pronouns")
SELECTORS = group("subjects", "selectors")
ONES = group("subjects", "ones")
OF = group("subjects", "of")
LONGEST = 4  # tokens of the numbers of pieces: "groups eight to fourteen"


@dataclass(frozen=True, slots=True)
class Subject:
    """The subjects of a clause, and the token after them; `own` if the clause names them itself."""

    nouns: tuple[Noun, ...]
    stop: int
    own: bool


def subject_of(talk: Talk, clause: Clause, topic: Noun | None) -> Subject | None:
    """Return what a clause is about; nothing if it begins with neither a name nor a pronoun."""
    return (
        _pieces(talk, clause, topic) or _named(talk, clause, topic) or _pronoun(talk, clause, topic)
    )


def _named(talk: Talk, clause: Clause, topic: Noun | None) -> Subject | None:
    found = list(nouns_from(talk, clause.start, clause.stop))
    if not found:
        return None
    found[-1] = _short_of_verb(talk, _owned(talk, found[-1], clause), clause)
    stop = found[-1].stop
    found[-1], stop = _numbered(talk, found[-1], stop, clause)
    where, stop = _place_after(talk, stop, clause)
    if where:
        found = [replace(n, where=where) if not n.where else n for n in found]
    return Subject(tuple(_under(talk, topic, n) for n in found), stop, own=True)


def _short_of_verb(talk: Talk, what: Noun, clause: Clause) -> Noun:
    """Leave "leaks" off "relief valve leaks", where it is what the valve does."""
    last = what.stop - 1
    does = tags(talk)[last] & Tag.FAULT and words(talk)[last].endswith("s")
    fluid = words(talk)[last - 1] in rules("actions")["fluids"]["words"].split()
    if not does or fluid or what.stop < clause.stop or last - what.start < 1:
        return what
    if not tags(talk)[last - 1] & Tag.HEAD or tags(talk)[last] & Tag.HEAD:
        return what
    return noun_at(talk, what.start, last) or what


def _numbered(talk: Talk, what: Noun, stop: int, clause: Clause) -> tuple[Noun, int]:
    """Take in the number of a piece before its verb: "cylinder two is low"."""
    end = stop
    texts = words(talk)
    while end < clause.stop and (
        (tags(talk)[end] & Tag.NUMBER and end - stop < LONGEST)
        or (texts[end] in ("to", "and") and end > stop and tags(talk)[end - 1] & Tag.NUMBER)
    ):
        end += 1
    verb = end < clause.stop and tags(talk)[end] & (Tag.COPULA | Tag.HAVE | Tag.FAULT)
    if end == stop or not verb:
        return what, stop
    number = heard(talk, stop, end)
    return replace(what, stop=end, name=f"{what.name} {number}"), end


def _owned(talk: Talk, what: Noun, clause: Clause) -> Noun:
    """Read on over a possessive: "right battery's case is swollen"."""
    if what.stop + 1 >= clause.stop or words(talk)[what.stop] != "'s":
        return what
    part = noun_at(talk, what.stop + 1, clause.stop)
    if part is None or part.start != what.stop + 1 or part.stop >= clause.stop:
        return what
    if not tags(talk)[part.stop - 1] & (Tag.HEAD | Tag.ASPECT):
        return what  # "hopper's split wide open"
    verb = tags(talk)[part.stop] & (Tag.COPULA | Tag.HAVE | Tag.LINKING | Tag.STATE)
    return replace(what, stop=part.stop, name=f"{what.name} {part.name}") if verb else what


def _place_after(talk: Talk, stop: int, clause: Clause) -> tuple[str, int]:
    """Pass over "on the left" or "at the tank" between a name and its verb."""
    kinds, texts = tags(talk), words(talk)
    while stop < clause.stop and texts[stop] in (
        "itself",
        "themselves",
        "here",
        "there",
        "both",
        "all",
        "each",
    ):
        stop += 1
    if stop >= clause.stop or texts[stop] not in OF:
        return "", stop
    end = stop + 1
    while end < clause.stop and not _ends_place(kinds, end, clause.stop):
        end += 1
    named = end < clause.stop and end > stop + 1
    return (talk.text(stop, end), end) if named else ("", stop)


def _ends_place(kinds: tuple[int, ...], place: int, stop: int) -> bool:
    """Tell the verb or state after "on the left"; the state of "on the slack tube" ends nothing."""
    verbal = Tag.COPULA | Tag.HAVE | Tag.LINKING | Tag.FAULT | Tag.PREPOSITION
    numbered = place + 1 < stop and kinds[place] & Tag.PREPOSITION and kinds[place + 1] & Tag.NUMBER
    if kinds[place] & verbal and not (numbered and kinds[place - 1] & Tag.NUMBER):
        return True
    after = kinds[place + 1] if place + 1 < stop else 0
    return bool(kinds[place] & Tag.STATE) and not after & Tag.HEAD


def _under(talk: Talk, topic: Noun | None, what: Noun) -> Noun:
    """Name a piece by the whole it belongs to: "unloader piston, o-ring torn"."""
    words_of = set(what.name.split())
    if topic is None:
        return with_whole(talk, what, what.start)
    if len(words_of) > 2 or words_of & set(topic.name.split()):
        return what
    whole = singular_of(topic.name) if " " not in topic.name else topic.name
    return replace(what, name=f"{whole} {what.name}")


def _pieces(talk: Talk, clause: Clause, topic: Noun | None) -> Subject | None:
    """Read "the right one", "number three", "left and right", "one and two", "the other"."""
    kinds, texts = tags(talk), words(talk)
    place = clause.start
    light = Tag.DETERMINER | Tag.NUMBER
    while place < clause.stop and (
        (
            kinds[place] & light
            and not kinds[place] & Tag.HEAD
            and texts[place] not in ("this", "that", "these", "those")
        )
        or texts[place] in SELECTORS
        or texts[place] in ONES | {"number", "and", "of", "them", "'em", "side", "pair", "set"}
        or texts[place] in ("numbers",)
    ):
        place += 1
    said = [
        t for t in texts[clause.start : place] if t not in ("the", "a", "of", "them", "'em", "my")
    ]
    alike = place < clause.stop and (
        texts[place] == "same" or texts[place : place + 2] == ("the", "same")
    )
    if (
        said == ["half"]
        or not said
        or place >= clause.stop
        or not (alike or _ends_subject(kinds[place]))
    ):
        return None
    meant = topic or antecedent(talk, clause.start)
    if meant is None:
        return None
    told = " ".join(t for t in said if t not in ("ones", "pair", "set"))
    head = meant.name.split()
    many = bool({"and", "both", "pair", "set"} & set(said))
    name = f"{_without_one(told)} {_told_apart(head, many)}".strip()
    return Subject((Noun(clause.start, place, name, told),), place, own=True)


def _ends_subject(kind: int) -> bool:
    return (
        bool(
            kind
            & (
                Tag.COPULA
                | Tag.HAVE
                | Tag.LINKING
                | Tag.FAULT
                | Tag.BEHAVIOUR
                | Tag.STATE
                | Tag.NEGATION
            )
        )
        and not kind & Tag.HEAD
    )


def _without_one(told: str) -> str:
    return (
        told if told in ("one", "other") or told.startswith("number") else told.removesuffix(" one")
    )


def _told_apart(head: list[str], many: bool) -> str:
    """Drop the side from the name before, and its plural unless many are meant."""
    sides = {"left", "right", "front", "rear", "upper", "lower", "top", "bottom", "inner", "outer"}
    kept = [word for word in head if word not in sides] or head
    return " ".join(kept if many else [*kept[:-1], singular_of(kept[-1])])


def _pronoun(talk: Talk, clause: Clause, topic: Noun | None) -> Subject | None:
    place = clause.start
    if words(talk)[place] not in PRONOUNS:
        return None
    while place < clause.stop and words(talk)[place] in PRONOUNS | {"of", "three", "four", "two"}:
        place += 1
    meant = topic or antecedent(talk, clause.start)
    if meant is None:
        return None
    return Subject((Noun(meant.start, meant.stop, meant.name),), place, own=False)


def topics(talk: Talk, clause: Clause) -> Iterator[Noun]:
    """Give the name that makes up a whole clause: the topic of what follows."""
    found = list(nouns_from(talk, clause.start, clause.stop))
    pieces = None if found else _pieces(talk, clause, None)
    if pieces:
        yield from pieces.nouns
    if not found or _names_limit(found[-1]) or len(found[-1].name) == 1:
        return
    kind = tags(talk)[found[-1].stop] if found[-1].stop < clause.stop else Tag.NUMBER
    if kind & (Tag.NUMBER | Tag.WEAK):
        yield found[-1]


def measurements(talk: Talk, clause: Clause) -> Iterator[Noun]:
    """Give the name that a figure is said of: "belt deflection three eighths"."""
    found = list(nouns_from(talk, clause.start, clause.stop))
    if not found or _names_limit(found[-1]):
        return
    if any(kind & Tag.NUMBER for kind in tags(talk)[found[-1].stop : clause.stop]):
        yield found[-1]


def _names_limit(what: Noun) -> bool:
    """Tell "minimum" and "book", which name no thing measured."""
    return bool(tag_of(what.name.split()[-1]) & Tag.NOT_THING)

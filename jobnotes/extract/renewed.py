"""Parts told to be new: "so that's new", "it got a new belt", "with new bolts", "so new ones"."""

from collections.abc import Iterator

from jobnotes.extract.clauses import Clause
from jobnotes.extract.fills import VOLUMES, poured
from jobnotes.extract.lexicon import NONE, Tag, tags
from jobnotes.extract.nouns import Noun, antecedent, last_bad, noun_at, nouns_from, plain
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words
from jobnotes.extract.worked import Done, smeared

NEW = group("placed", "new")
OWNING = group("renewed", "owning")
OWNERS = group("renewed", "owners")
TAIL = group("renewed", "tail")
ONES = ("one", "ones")


def renewed(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Give the fitting of what a clause calls new, without a verb of work."""
    if clause.link in ("when", "if"):
        return
    start = _past_owner(talk, clause)
    found = list(_named_new(talk, clause, start)) or list(_is_new(talk, clause))
    for what, stop in found:
        if plain(talk, what) and not _is_measure(talk, what):
            verb = _new_verb(talk, clause, what)
            yield Done(verb, what, clause.start, stop, "actions.new", weak=True)


def _past_owner(talk: Talk, clause: Clause) -> int:
    """Pass over "she got a", "gave it a", "now has a" and over "two" before "new"."""
    texts, kinds = words(talk), tags(talk)
    start = clause.start
    while start < clause.stop and (texts[start] in OWNERS or texts[start] in OWNING):
        start += 1
    if start > clause.start and not OWNING & set(texts[clause.start : start]):
        start = clause.start
    light = Tag.DETERMINER | Tag.NUMBER | Tag.ADVERB
    while start < clause.stop and kinds[start] & light and not kinds[start] & Tag.HEAD:
        start += 1
    return start


def _named_new(talk: Talk, clause: Clause, start: int) -> Iterator[tuple[Noun, int]]:
    """Give what follows "new" at `start`, and where it ends: "new plug as well", "new ones"."""
    texts, kinds = words(talk), tags(talk)
    if start >= clause.stop or texts[start] not in NEW:
        return
    found = list(nouns_from(talk, start, clause.stop))
    alone = start + 1 == clause.stop or texts[start + 1] in ONES
    if (not found or texts[start + 1] in ONES) and alone:
        meant = last_bad(talk, start) or antecedent(talk, clause.start)
        near = meant and talk.utterance_of[meant.start] == clause.utterance
        found = [Noun(meant.start, meant.stop, meant.name)] if meant and near else []
    stop = found[-1].stop if found and not alone else min(start + 2, clause.stop)
    after = kinds[stop] if stop < clause.stop else NONE
    if not after & (Tag.COPULA | Tag.MODAL | Tag.HAVE):
        yield from ((what, stop) for what in found)


def _is_new(talk: Talk, clause: Clause) -> Iterator[tuple[Noun, int]]:
    """Give the subject of "the tap is new" and "so that's a new one"."""
    texts, kinds = words(talk), tags(talk)
    stop = clause.stop
    while stop > clause.start and texts[stop - 1] in TAIL:
        stop -= 1
    stop -= texts[stop - 1] in ONES
    place = stop - 1
    if place <= clause.start or texts[place] != "new":
        return
    while place > clause.start and kinds[place - 1] & (Tag.ADVERB | Tag.DETERMINER):
        place -= 1
    if not kinds[place - 1] & Tag.COPULA or kinds[place - 1] & Tag.NEGATION:
        yield from _then_new(talk, clause, place)
        return
    named = list(nouns_from(talk, clause.start, place - 1))
    if named and named[-1].stop == place - 1:
        yield from ((what, stop) for what in named)
    elif place - 1 == clause.start + 1 and texts[clause.start] in ("that", "it", "they", "those"):
        meant = last_bad(talk, clause.start) or antecedent(talk, clause.start)
        if meant and talk.utterance_of[meant.start] == clause.utterance:
            yield Noun(meant.start, meant.stop, meant.name), stop


def _then_new(talk: Talk, clause: Clause, place: int) -> Iterator[tuple[Noun, int]]:
    """Give what "motor oil new" and "pads and discs all new" call new."""
    named = list(nouns_from(talk, clause.start, place))
    if named and named[-1].stop == place and tags(talk)[place - 1] & Tag.HEAD:
        yield from ((what, place + 1) for what in named)


def _is_measure(talk: Talk, what: Noun) -> bool:
    """Tell "new runout", a figure to come, from a new part."""
    kind = tags(talk)[what.stop - 1]
    return bool(kind & Tag.ASPECT) and not kind & Tag.HEAD


def _new_verb(talk: Talk, clause: Clause, what: Noun) -> str:
    """A new fluid told with its amount fills; without one it is a change."""
    if what.name.split()[-1] not in poured():
        return "install"
    if words(talk)[what.stop : what.stop + 1] == ("new",):
        return "change"
    said = talk.utterance(clause.utterance)
    measured = any(text in VOLUMES for text in words(talk)[clause.start : said.end])
    return "fill" if measured else "change"


def with_new(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Read "with new bolts" and "with a new washer" beside other work."""
    texts = words(talk)
    for place in range(clause.start + 1, clause.stop - 2):
        start = place + 1 + (texts[place + 1] in ("a", "some", "two"))
        if texts[place] == "with" and texts[start] in NEW:
            what = noun_at(talk, start, clause.stop)
            smeared_on = what is not None and what.name.split()[-1] in smeared()
            if (
                what
                and not smeared_on
                and tags(talk)[what.stop - 1] & Tag.HEAD
                and plain(talk, what)
            ):
                yield Done("install", what, place, what.stop, "actions.new", weak=True)

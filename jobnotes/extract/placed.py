"""Parts put in or taken off without a verb: "new plug as well", "kit's in", "valve cover off"."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.fills import VOLUMES, poured
from jobnotes.extract.lexicon import NONE, Tag, tags
from jobnotes.extract.nouns import POINTING, Noun, antecedent, noun_at, nouns_from, plain
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, rules, words
from jobnotes.extract.worked import Done, fluids, smeared

FITTING = group("placed", "fitting")
NEW = group("placed", "new")
BETWEEN = group("placed", "between")


def placed(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Give the steps that a clause implies by "in", "on", "off", "out", or by "new" alone."""
    if cues(talk, "actions.not_done", clause.start, clause.stop) or _wanted(talk, clause):
        return
    found = list(_by_particle(talk, clause)) or list(_by_new(talk, clause))
    found = found or list(_smeared_on(talk, clause))
    yield from found or _by_test(talk, clause)


def _wanted(talk: Talk, clause: Clause) -> bool:
    """Tell whether the utterance orders, quotes or advises, or the clause denies."""
    start = talk.starts[clause.utterance]
    stop = talk.utterance(clause.utterance).end
    denied = any(kind & Tag.MODAL for kind in tags(talk)[clause.start : clause.stop])
    return denied or bool(cues(talk, "actions.wanted", start, stop))


def _by_particle(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Read "head's off", "new left bearing in", "went in", "that's fitted"."""
    texts = words(talk)
    end = _without_tail(talk, clause)
    verb = particles().get(texts[end - 1]) if end > clause.start else None
    if not verb:
        return
    found = list(nouns_from(talk, clause.start, end - 1))
    stop = found[-1].stop if found else clause.start
    between = texts[stop : end - 1]
    returned = bool(found) and between == ("back",)
    if not returned and any(text not in BETWEEN or text == "back" for text in between):
        return
    if not found and (meant := _carried(talk, clause)):
        found = [meant]
    for what in found:
        if tags(talk)[what.start] & Tag.OTHER_VERB and what.stop - what.start == 1:
            continue  # "checks out"
        component = verb == "install" or tags(talk)[what.stop - 1] & Tag.HEAD
        if component and plain(talk, what) and not _switched(talk, what, clause):
            verb_here = "disconnect" if verb == "remove" and _is_lead(what) else verb
            yield Done(
                verb_here,
                what,
                min(clause.start, what.start),
                end,
                "actions.placed",
                weak=verb == "install",
            )


def _is_lead(what: Noun) -> bool:
    *before, head = what.name.split()
    if head == "cap":
        return not before or "plug" in before
    return head in rules("actions")["leads"]["words"].split()


def _without_tail(talk: Talk, clause: Clause) -> int:
    """Leave out adverbs at the end ("belts on too")."""
    texts, end = words(talk), clause.stop
    while end > clause.start + 1 and texts[end - 1] in (
        "too",
        "now",
        "again",
        "also",
        "okay",
        "well",
        "as",
    ):
        end -= 1
    return end


def _carried(talk: Talk, clause: Clause) -> Noun | None:
    """Return the part named earlier in the utterance ("filter, f seventeen, on")."""
    meant = antecedent(talk, clause.start)
    if not meant or talk.utterance_of[meant.start] != clause.utterance:
        return None
    return Noun(meant.start, meant.stop, meant.name)


def _meant(talk: Talk, clause: Clause) -> Noun | None:
    meant = antecedent(talk, clause.start)
    return Noun(meant.start, meant.stop, meant.name) if meant else None


def _switched(talk: Talk, what: Noun, clause: Clause) -> bool:
    """Tell "heater on" and "key off", which are conditions, from parts put on."""
    new = words(talk)[clause.start] in NEW or words(talk)[max(what.start - 1, 0)] in NEW
    return what.name.split()[-1] in _switchable() and not new


def _by_new(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Read "new plug as well", "new washers on both", "exhaust stem seals, new"."""
    texts, kinds = words(talk), tags(talk)
    start = clause.start
    while (
        start < clause.stop
        and kinds[start] & (Tag.DETERMINER | Tag.NUMBER | Tag.ADVERB)
        and not kinds[start] & Tag.HEAD
    ):
        start += 1
    if start >= clause.stop or texts[start] not in NEW or clause.link in ("when", "if"):
        return
    found = list(nouns_from(talk, start, clause.stop))
    if not found and start + 1 == clause.stop and (meant := _carried(talk, clause)):
        found = [meant]
    stop = found[-1].stop if found else start
    after = kinds[stop] if stop < clause.stop else NONE
    if found and not after & (Tag.COPULA | Tag.MODAL | Tag.HAVE):
        for what in found:
            if plain(talk, what) and not _is_measure(talk, what):
                verb = _new_verb(talk, clause, what)
                first = min(clause.start, what.start)
                yield Done(verb, what, first, stop, "actions.new", weak=True)


def _is_measure(talk: Talk, what: Noun) -> bool:
    """Tell "new runout", a figure to come, from a new part."""
    kind = tags(talk)[what.stop - 1]
    return bool(kind & Tag.ASPECT) and not kind & Tag.HEAD


def _new_verb(talk: Talk, clause: Clause, what: Noun) -> str:
    """A new fluid told with its amount fills; without one it is a change."""
    if what.name.split()[-1] not in poured():
        return "install"
    said = talk.utterance(clause.utterance)
    measured = any(text in VOLUMES for text in words(talk)[clause.start : said.end])
    return "fill" if measured else "change"


def _smeared_on(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Read "thread locker on the screw"."""
    what = noun_at(talk, clause.start, clause.stop)
    if what is None or what.name.split()[-1] not in smeared() or what.stop + 1 >= clause.stop:
        return
    if words(talk)[what.stop] == "on" and (where := noun_at(talk, what.stop + 1, clause.stop)):
        yield Done(
            "apply", replace(what, where=where.name), what.start, where.stop, "actions.apply"
        )


def given(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Read "gave the contacts a good clean"."""
    said = words(talk)[clause.start : clause.stop]
    verb = rules("actions")["gave"].get(said[-1])
    if not verb or "gave" not in said:
        return
    articles = [n for n, text in enumerate(said) if text in ("a", "an", "another")]
    begin = clause.start + said.index("gave") + 1
    stop = clause.start + articles[-1] if articles else begin
    found = noun_at(talk, begin, stop) if begin < stop else None
    pointed = words(talk)[begin] in POINTING
    found = found or (_meant(talk, clause) if pointed else _carried(talk, clause))
    if articles and found:
        yield Done(verb, found, clause.start, clause.stop, "actions.gave")


def spread(talk: Talk, clause: Clause, found: list[Done]) -> Iterator[Done]:
    """Read "with thread locker" beside a fitting: what was spread on, and where."""
    texts = words(talk)
    fitted = (
        any(step.verb in FITTING for step in found) or "reused" in texts[clause.start : clause.stop]
    )
    for place in range(clause.start + 1, clause.stop - 1):
        what = noun_at(talk, place + 1, clause.stop) if fitted and texts[place] == "with" else None
        if what and what.name.split()[-1] in smeared():
            on = noun_at(talk, clause.start, place)
            where = found[0].object.name if found else on.name if on else ""
            yield Done("apply", replace(what, where=where), place, what.stop, "actions.apply")
            return


def _by_test(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Read "bucket test on the supply" and "compression test", whose verb is left out."""
    texts = words(talk)
    for place in range(clause.start + 1, clause.stop):
        if texts[place] != "test" or texts[place - 1] not in _tests():
            continue
        on = place + 1 < clause.stop and texts[place + 1] in ("on", "of", "across")
        what = noun_at(talk, place + 2, clause.stop) if on else None
        what = what or Noun(place - 1, place, texts[place - 1])
        yield Done("test", what, place - 1, max(what.stop, place + 1), "actions.by-test")
        return


@cache
def _tests() -> frozenset[str]:
    return frozenset(rules("actions")["tests"]["words"].split())


@cache
def particles() -> dict[str, str]:
    """Map "in", "on", "off", "out" and the like to the work that put a thing there."""
    return {
        word: verb
        for verb, listed in rules("actions")["particles"].items()
        for word in listed.split()
    }


@cache
def _switchable() -> frozenset[str]:
    return frozenset(rules("actions")["switchable"]["words"].split())

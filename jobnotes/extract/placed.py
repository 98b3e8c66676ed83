"""Parts put in or taken off without a verb: "new plug as well", "kit's in", "valve cover off"."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import Cue, cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import told_as_done
from jobnotes.extract.nouns import POINTING, Noun, antecedent, noun_at, nouns_from, plain
from jobnotes.extract.renewed import renewed
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, rules, words
from jobnotes.extract.worked import Done, is_lead, smeared

POINTERS = group("placed", "pointers")
MANY = {"both": 2, "two": 2, "three": 3, "four": 4}
GIVING = group("placed", "giving")
TESTS = {"comp": "compression"}
FITTING = group("placed", "fitting")
NEW = group("placed", "new")
BETWEEN = group("placed", "between")


def placed(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Give the steps that a clause implies by "in", "on", "off", "out", or by "new" alone."""
    if cues(talk, "actions.not_done", clause.start, clause.stop) or _wanted(talk, clause):
        return
    found = list(_by_particle(talk, clause)) or list(renewed(talk, clause))
    found = found or list(_smeared_on(talk, clause))
    yield from found or _by_test(talk, clause)


def _wanted(talk: Talk, clause: Clause) -> bool:
    """Tell whether the utterance orders, quotes or advises, or the clause denies."""
    start = talk.starts[clause.utterance]
    stop = talk.utterance(clause.utterance).end
    denied = any(kind & Tag.MODAL for kind in tags(talk)[clause.start : clause.stop])
    return denied or any(
        not _limits(talk, cue, stop) for cue in cues(talk, "actions.wanted", start, stop)
    )


def _limits(talk: Talk, cue: Cue, stop: int) -> bool:
    """Tell "it wants twenty-eight to thirty-two", which gives a limit and orders nothing."""
    return cue.stop < stop and bool(tags(talk)[cue.stop] & Tag.NUMBER)


def _by_particle(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Read "head's off", "new left bearing in", "went in", "that's fitted"."""
    texts = words(talk)
    end = _past_particle(talk, clause)
    verb = particles().get(texts[end - 1]) if end > clause.start else None
    if not verb:
        return
    if talk.word_of[end - 1] == talk.word_of[end - 2]:
        return  # "ride-on"
    if texts[end - 1] == "off" and end > 1 and tags(talk)[end - 2] & Tag.NUMBER:
        return  # "washers, six off"
    found = list(nouns_from(talk, clause.start, end - 1))
    stop = found[-1].stop if found else clause.start
    between = texts[stop : end - 1]
    returned = bool(found) and between == ("back",)
    allowed = BETWEEN if found else BETWEEN | POINTERS
    if not returned and any(text not in allowed or text == "back" for text in between):
        return
    if not found and (meant := _carried(talk, clause) or _many(talk, clause, between)):
        count = next((MANY[text] for text in between if text in MANY), 0)
        found = [replace(meant, count=count)]
    for what in found:
        kind = tags(talk)[what.stop - 1]
        does = tags(talk)[what.start] & Tag.OTHER_VERB and what.stop - what.start == 1
        if does or (kind & Tag.DEFECT and not kind & Tag.HEAD):
            continue  # "checks out", "cuts back in"
        component = verb == "install" or tags(talk)[what.stop - 1] & Tag.HEAD
        if component and plain(talk, what) and not _switched(talk, what, clause):
            verb_here = "disconnect" if verb == "remove" and is_lead(what) else verb
            yield Done(
                verb_here,
                what,
                clause.start,
                end,
                "actions.placed",
                weak=verb == "install",
            )


def _many(talk: Talk, clause: Clause, said: tuple[str, ...]) -> Noun | None:
    """Return what "both on" and "all three in" may mean across utterances: what was just named."""
    return _meant(talk, clause) if any(text in MANY for text in said) else None


def _past_particle(talk: Talk, clause: Clause) -> int:
    """Return where the particle ends: at the end, or before "and", "at thirty", "with"."""
    end = _without_tail(talk, clause)
    if words(talk)[end - 1] in particles():
        return end
    for place in range(clause.start + 1, end - 1):
        if words(talk)[place] in particles() and _ends_placing(talk, place + 1, clause):
            return place + 1
    return end


def _ends_placing(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "cover off and there's dust" from "hose off the tank" and "on and off"."""
    text = words(talk)[place]
    after = place + 1 < clause.stop and words(talk)[place + 1]
    if text == "and":
        return after not in particles()
    numbered = bool(after) and bool(tags(talk)[place + 1] & Tag.NUMBER)
    return (text in ("at", "to") and numbered) or text in ("with", "for", "so")


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
        "there",
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
    """Read "gave the contacts a good clean" and "gave them a rub with emery"."""
    texts = words(talk)
    gave = next((n for n in range(clause.start, clause.stop) if texts[n] in GIVING), None)
    if gave is None or not told_as_done(talk, clause, gave):
        return
    place = _gift(talk, clause, gave)
    gift = (rules("actions")["gave"][texts[place]], place + 1) if place else None
    stuffed = _stuffed(talk, clause, gave)
    gift = None if stuffed else gift
    verb, end = gift or stuffed or ("", gave)
    articles = [n for n in range(gave + 1, end - 1) if texts[n] in ("a", "an", "another", "the")]
    stop = articles[-1] if articles and gift else _gift_start(talk, gave, end)
    found = noun_at(talk, gave + 1, stop) if gave + 1 < stop else None
    pointed = texts[gave + 1] in POINTING
    found = found or (_meant(talk, clause) if pointed else _carried(talk, clause))
    if found and (articles or not gift) and verb:
        yield Done(verb, found, clause.start, end, "actions.gave")


def _gift_start(talk: Talk, gave: int, end: int) -> int:
    """Return where an amount begins: "ten cc of" or "some" after what it was given to."""
    light = Tag.NUMBER | Tag.UNIT | Tag.DETERMINER
    place = end - 1
    while place > gave + 1 and (
        tags(talk)[place - 1] & light or words(talk)[place - 1] in ("of", "some", "fresh", "new")
    ):
        place -= 1
    return place


def _stuffed(talk: Talk, clause: Clause, gave: int) -> tuple[str, int] | None:
    """Read "gave it ten cc of grease" and "gave that one air": the verb, and where it ends."""
    for place in range(gave + 2, clause.stop):
        verb = rules("actions")["stuffs"].get(words(talk)[place])
        if verb and (words(talk)[place - 1] in ("of", "some") or place == gave + 3):
            return verb, place + 1
    return None


def _gift(talk: Talk, clause: Clause, gave: int) -> int | None:
    """Return the token of what was given: the last word, or one before "with", "of", "on"."""
    texts = words(talk)
    for place in range(clause.stop - 1, gave + 1, -1):
        ends = place + 1 == clause.stop or tags(talk)[place + 1] & (Tag.PREPOSITION | Tag.ADVERB)
        if ends and texts[place] in rules("actions")["gave"]:
            return place
    return None


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
        what = noun_at(talk, place + 2, clause.stop) if on else _tested(talk, clause, place - 1)
        what = what or Noun(place - 1, place, TESTS.get(texts[place - 1], texts[place - 1]))
        yield Done("test", what, place - 1, max(what.stop, place + 1), "actions.by-test")
        return


def _tested(talk: Talk, clause: Clause, method: int) -> Noun | None:
    """Return what stands before the method: "crankcase pressure test"."""
    if method <= clause.start:
        return None
    what = noun_at(talk, method - 1, method)
    return what if what and tags(talk)[what.stop - 1] & Tag.HEAD else None


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

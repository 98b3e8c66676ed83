"""Verbs of work in a clause, and what each was done to: active, passive, elided, by pronoun."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from jobnotes.extract import verbs
from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import NONE, Tag, tags
from jobnotes.extract.modality import UNREAL, told_as_done
from jobnotes.extract.nouns import POINTING, Noun, noun_at
from jobnotes.extract.objects import clearance, objects
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import heard
from jobnotes.extract.trials import on_trial
from jobnotes.extract.vocabulary import group, rules, singular_of, words
from jobnotes.extract.workable import Hit

AWAY = (
    ("to",),
    ("for",),
    ("on",),
    ("into",),
    ("onto",),
)  # "took it out to the yard" removes nothing
DETACHED = group("worked", "detached")
DIRT = group("worked", "dirt")
PROVED = group("worked", "proved")
SHIFTED = ("shifted", "shift", "shifting")
CONTAINERS = group("worked", "containers")
REPORTING = group("worked", "reporting")
FARTHEST = 9  # tokens between a verb and its particle ("took the whole lower cover off")
TORQUE_UNITS = ("foot", "inch", "newton", "ft", "in")  # a tightening with one of these is a torque


@dataclass(frozen=True, slots=True)
class Done:
    """One step of work: infinitive, object, and the tokens that say so; `weak` if only implied."""

    verb: str
    object: Noun
    start: int
    stop: int
    rule: str
    using: str = ""
    weak: bool = False


def worked(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Give the steps told by verbs in a clause."""
    place = clause.start
    while place < clause.stop:
        hit = _verb_at(talk, clause, place)
        if hit and told_as_done(talk, clause, place) and not on_trial(talk, place, clause.stop):
            yield from _steps(talk, clause, hit)
        place = max(hit.start if hit else 0, place + 1)


def _verb_at(talk: Talk, clause: Clause, place: int) -> Hit | None:
    kind, text = tags(talk)[place], words(talk)[place]
    forced = words(talk)[max(place - 2, 0) : place] == ("had", "to") or _in_present(
        talk, clause, place
    )
    forced = forced or _stressed(talk, clause, place)
    if not forced and (not kind & Tag.VERB or _is_noun(talk, clause, place)):
        return None
    later = words(talk)[place - 1] == "after" and place + 1 == clause.stop
    leading = later or _leads(talk, clause, place)
    if (text.endswith("ing") or text == "stuck") and not leading:
        return None
    return _with_particle(talk, clause, place) or _alone(talk, clause, place)


def _in_present(talk: Talk, clause: Clause, place: int) -> bool:
    """Tell "now I take off the cover" and "oil I change", told while doing it."""
    if place == clause.start or words(talk)[place - 1] not in ("i", "we"):
        return False
    before = words(talk)[clause.start : place]
    said = words(talk)[place] in verbs.plain_forms() or words(talk)[place] in verbs.gapped()
    us = words(talk)[place] not in REPORTING
    led = {*before, clause.link}
    return us and said and not led & UNREAL and not led & {"when", "whenever", "did", "do"}


def _stressed(talk: Talk, clause: Clause, place: int) -> bool:
    """Tell "I did tighten the gland", told with stress or by a learner."""
    said = words(talk)[clause.start : place]
    led = {*said, clause.link}
    plain = words(talk)[place] in verbs.plain_forms() or words(talk)[place] in verbs.gapped()
    return said[-2:] in (("i", "did"), ("we", "did"), ("i", "do")) and plain and not led & UNREAL


def _is_noun(talk: Talk, clause: Clause, place: int) -> bool:
    """Tell "the cut", "a reset" and "brush set" from the verbs."""
    before = tags(talk)[place - 1] if place > clause.start else NONE
    after = tags(talk)[place + 1] if place + 1 < clause.stop else NONE
    if before & Tag.DETERMINER and not before & Tag.PRONOUN:
        return True
    if tags(talk)[place] & Tag.MODIFIER and after & (Tag.HEAD | Tag.ASPECT | Tag.MODIFIER):
        return True
    text = words(talk)[place]
    named = Tag.HEAD | Tag.COPULA | Tag.HAVE | Tag.STATE
    if text.endswith("ing") and tags(talk)[place] & Tag.HEAD and after & named:
        return True
    if words(talk)[place + 1 : place + 2] in (("of",), ("number",)):
        return True
    if words(talk)[place - 1] in ("with", "in", "of") and place > clause.start + 1:
        return text.endswith("ed") and bool(after & (Tag.HEAD | Tag.MODIFIER | Tag.UNKNOWN))
    if text == "ground":
        return not after & Tag.DETERMINER
    if text == "cut" and words(talk)[place + 1 : place + 2] == ("off",):
        return bool(tags(talk)[min(place + 2, clause.stop - 1)] & Tag.HEAD)
    compound = rules("actions")["compounds"].get(text, "").split()
    if compound and words(talk)[min(place + 1, clause.stop - 1)] in compound:
        return True
    head = tags(talk)[place] & Tag.HEAD and before & (Tag.HEAD | Tag.MODIFIER | Tag.UNKNOWN)
    return bool(head) and not after & (Tag.PREPOSITION | Tag.NUMBER)


def _leads(talk: Talk, clause: Clause, place: int) -> bool:
    """Tell whether only "I'm just" and the like stand before an -ing form."""
    light = Tag.FILLER | Tag.ADVERB | Tag.US | Tag.COPULA
    return all(kind & light for kind in tags(talk)[clause.start : place])


def _with_particle(talk: Talk, clause: Clause, place: int) -> Hit | None:
    texts = words(talk)
    for particles, infinitive in verbs.gapped().get(texts[place], ()):
        near = place + 1
        if (
            texts[near : near + len(particles)] == particles
            and near + len(particles) <= clause.stop
        ):
            return Hit(
                place, infinitive, near + len(particles), clause.stop, near + len(particles), clause
            )
        far = _particle_after(talk, clause, place, particles)
        returned = "back" in particles and infinitive != "reconnect"
        held = far is not None and texts[far] == "in" and _in_container(talk, far, clause)
        if far and not held and not (returned and far == place + 2):
            return Hit(place, infinitive, near, far, far + len(particles), clause)
    return None


def _in_container(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "dropped it in a jug", which fits nothing."""
    return any(text in CONTAINERS for text in words(talk)[place + 1 : min(place + 4, clause.stop)])


def _particle_after(
    talk: Talk, clause: Clause, place: int, particles: tuple[str, ...]
) -> int | None:
    """Return where the particles of "took ... off" stand, if only an object is between."""
    texts, kinds = words(talk), tags(talk)
    if texts[place + 1 : place + 2] and texts[place + 1] in DETACHED:
        return None
    for far in range(place + 2, min(place + 2 + FARTHEST, clause.stop + 1 - len(particles))):
        if texts[far : far + len(particles)] == particles:
            away = (
                far == place + 2
                and texts[far + len(particles) : far + len(particles) + 1] in AWAY
                and not tags(talk)[min(far + len(particles) + 1, clause.stop - 1)] & Tag.NUMBER
            )
            put_back = texts[far - 1] == "back" and texts[place + 1] in POINTING
            return None if away or put_back else far
        if kinds[far] & Tag.PREPOSITION and texts[far] not in ("of", "off", "from"):
            return None
        if kinds[far] & (Tag.COPULA | Tag.VERB) and not kinds[far] & (
            Tag.HEAD | Tag.ADVERB | Tag.STATE
        ):
            return None
    return None


def _alone(talk: Talk, clause: Clause, place: int) -> Hit | None:
    text = words(talk)[place]
    infinitive = verbs.infinitive_of().get(text) or verbs.plain_forms().get(text)
    if not infinitive:
        return None
    start = place + 1
    while start < clause.stop and words(talk)[start] in (
        "up",
        "off",
        "out",
        "down",
        "back",
        "again",
    ):
        start += 1
    return Hit(place, infinitive, start, clause.stop, start, clause)


def _steps(talk: Talk, clause: Clause, hit: Hit) -> Iterator[Done]:
    found = objects(talk, clause, hit)
    end = max([hit.end, *(n.stop for n in found if n.stop <= clause.stop)])
    start = min([hit.place, *(n.start for n in found if n.start >= clause.start)])
    for what in found:
        verb = _fitting(talk, clause, hit, what)
        what = _stuff(talk, hit, what) if verb == "apply" else what
        what = clearance(talk, what) if verb == "adjust" else what
        what = replace(what, name=f"{what.name} gap") if _gapped(talk, hit, what) else what
        yield Done(
            verb, what, start, end, f"actions.{verb.replace(' ', '-')}", _using(talk, end, clause)
        )


def _stuff(talk: Talk, hit: Hit, what: Noun) -> Noun:
    """Name what was smeared, not where: "smeared it with copper grease"."""
    for place in range(hit.end, hit.clause.stop - 1):
        stuff = noun_at(talk, place + 1, hit.clause.stop) if words(talk)[place] == "with" else None
        if stuff and stuff.name.split()[-1] in smeared():
            return replace(stuff, where=what.name)
    return what


def _gapped(talk: Talk, hit: Hit, what: Noun) -> bool:
    return words(talk)[hit.place] in ("gapped", "regapped") and not what.name.endswith("gap")


def _fitting(talk: Talk, clause: Clause, hit: Hit, what: Noun) -> str:
    """Return the infinitive that fits the object: oil is changed, filled or added, not replaced."""
    head = what.name.split()[-1]
    if hit.infinitive == "tighten":
        return _tightening(talk, clause, hit, singular_of(head))
    if hit.infinitive == "remove" and is_lead(what):
        return "disconnect" if hit.end > hit.place + 1 else "remove"
    return _meaning(talk, clause, hit, what) or _for_stuff(hit, head)


def _meaning(talk: Talk, clause: Clause, hit: Hit, what: Noun) -> str:
    """Return what a verb of several meanings means here, or nothing."""
    head, said = what.name.split()[-1], words(talk)[hit.place]
    if compound := _compound(talk, hit):
        return compound
    if hit.infinitive in ("align", "machine", "skim") and head in _listed("faced"):
        return "resurface"
    if hit.infinitive in PROVED and cues(talk, "actions.borrowed", hit.place, clause.stop):
        return "swap"
    if hit.infinitive == "adjust" and said in SHIFTED and _moves(talk, hit, what):
        return "move"
    if hit.infinitive == "swap" and "new" in words(talk)[hit.start : hit.clause.stop]:
        return "replace"
    if hit.infinitive == "remove" and _dirty(talk, hit):
        return "clean"
    if said.startswith("reset") and head in _listed("resettable"):
        return "reset"
    if hit.infinitive in ("adjust", "open", "close") and _to_figure(talk, hit):
        return "inflate" if singular_of(head) in ("tyre", "tire") else "adjust"
    return ""


def _dirty(talk: Talk, hit: Hit) -> bool:
    """Tell "dug all that out" of fins that were packed with grass, which cleans them."""
    pointed = {"all", "it", "that", "lot"} & set(words(talk)[hit.place + 1 : hit.place + 3])
    begin = talk.starts[max(hit.clause.utterance - 1, 0)]
    begin = talk.starts[hit.clause.utterance] if hit.place > hit.clause.start + 3 else begin
    return bool(pointed and "all" in pointed) and bool(DIRT & set(words(talk)[begin : hit.place]))


def _compound(talk: Talk, hit: Hit) -> str:
    """Return what a verb means with the word said before it: "heat-shrunk", "wire brushed"."""
    texts = words(talk)
    before = texts[hit.place - 1] if texts[hit.place - 1] != "-" else texts[hit.place - 2]
    return _compounds().get((before, texts[hit.place]), "") if hit.place > 1 else ""


@cache
def _compounds() -> dict[tuple[str, str], str]:
    listed: dict[str, dict[str, str]] = rules("actions")["compounds_of_verbs"]
    return {
        (before, form): infinitive
        for before, verbs_of in listed.items()
        for base, infinitive in verbs_of.items()
        for form in verbs.all_forms([base])
    }


def is_lead(what: Noun) -> bool:
    """Tell a plug cap, which is disconnected, from the cap of a motor."""
    *before, head = what.name.split()
    return head in _listed("leads") and not (head == "cap" and before and "plug" not in before)


def _for_stuff(hit: Hit, head: str) -> str:
    """Return the infinitive said, or the one for fluids and for what is smeared."""
    if head in fluids():
        return {"replace": "change", "install": "fill"}.get(hit.infinitive, hit.infinitive)
    if head in smeared():
        return {"install": "apply"}.get(hit.infinitive, hit.infinitive)
    return hit.infinitive


def _moves(talk: Talk, hit: Hit, what: Noun) -> bool:
    """Tell "shifted the engine" from "shifted the timing two degrees"."""
    kinds = tags(talk)
    figure = any(kind & Tag.NUMBER for kind in kinds[hit.end : hit.clause.stop])
    return not figure and bool(kinds[what.stop - 1] & Tag.HEAD)


@cache
def _listed(name: str) -> frozenset[str]:
    return frozenset(rules("actions")[name]["words"].split())


def _to_figure(talk: Talk, hit: Hit) -> bool:
    """Tell "closed it up to twenty" and "reset the gap at ten", which set a measure."""
    texts, kinds = words(talk), tags(talk)
    return any(
        texts[n] in ("to", "at") and kinds[n + 1] & Tag.NUMBER
        for n in range(hit.place + 1, hit.clause.stop - 1)
    )


def _tightening(talk: Talk, clause: Clause, hit: Hit, head: str) -> str:
    """A belt is adjusted; a screw tightened to a stated torque is torqued."""
    if head in ("belt", "chain", "cable"):
        return "adjust"
    stop = (
        len(talk.doc)
        if clause.utterance + 1 == len(talk.starts)
        else talk.starts[clause.utterance + 1]
    )
    said = words(talk)[hit.end : min(hit.end + 14, stop)]
    kinds = tags(talk)[hit.end : min(hit.end + 14, stop)]
    numbered = any(kind & Tag.NUMBER for kind in kinds)
    return "torque" if numbered and any(text in TORQUE_UNITS for text in said) else "tighten"


@cache
def fluids() -> frozenset[str]:
    """Return the words for what is poured in and drained."""
    return frozenset(rules("actions")["fluids"]["words"].split())


@cache
def smeared() -> frozenset[str]:
    """Return the words for what is spread on: grease, thread locker, sealant."""
    return frozenset(rules("actions")["fluids"]["smeared"].split())


def _using(talk: Talk, end: int, clause: Clause) -> str:
    """Return the tool or stuff named after "with"."""
    texts = words(talk)
    for place in range(end, clause.stop - 1):
        if texts[place] == "with":
            start = place + 1 + (texts[place + 1] in ("a", "an", "the", "some"))
            ends = (n for n in range(start, clause.stop) if tags(talk)[n] & Tag.PREPOSITION)
            return heard(talk, start, next(ends, clause.stop))
    return ""

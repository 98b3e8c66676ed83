"""What a verb of work was done to: named after it, before it, or pointed at."""

from dataclasses import replace
from functools import cache

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import POINTING, Noun, antecedent, last_bad, noun_at, nouns_from
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, things_between
from jobnotes.extract.vocabulary import group, plural, rules, singular_of, words
from jobnotes.extract.workable import PIECES, Hit, doubtful, workable

SIDED = group("objects", "sided")
SIDES = group("objects", "sides")
VALVES = group("objects", "valves")
CLEARANCES = group("objects", "clearances")
MEASURED = 6  # utterances back to where "valve clearances" may have been named
NEW = group("objects", "new")
RIDDING = group("objects", "ridding")
PARTICLES = group("objects", "particles")
MANY = {"both": 2, "two": 2, "three": 3, "four": 4}
NEAR_BY = 4  # utterances back in which a thing that suits the verb is looked for
RECENT = 40  # tokens; farther back "both" does not reach


def objects(talk: Talk, clause: Clause, hit: Hit) -> list[Noun]:
    """Return what the verb was done to; nothing if that cannot be told."""
    if (
        words(talk)[hit.place + 1 : hit.place + 2] in (("me",), ("us",))
        and hit.end == hit.place + 1
    ):
        return []
    if _takes_amount(talk, hit):
        return []
    found = _named_after(talk, hit) or _pointed_at(talk, hit)
    if found is None and words(talk)[hit.place - 1] == "after":
        found = list(nouns_from(talk, talk.starts[clause.utterance], hit.place))[:1]
    if found is None:
        found = _shared(talk, hit)
    if found is None:
        found = [] if words(talk)[hit.place].endswith("ing") else _before(talk, clause, hit)
    found = [_rid_of(talk, hit, what) for what in found]
    return [_of_sides(talk, hit, what) for what in found if workable(talk, hit, what)]


def _takes_amount(talk: Talk, hit: Hit) -> bool:
    """Tell "took about six thou off", which removes no part, and "it cuts out", which it does."""
    if hit.infinitive != "remove":
        return False
    start = hit.start + (words(talk)[hit.start : hit.start + 1] == ("about",))
    amount = start < hit.stop and _is_amount(talk, start, hit.stop)
    parted = words(talk)[hit.place] == "cut" and words(talk)[hit.end - 1] == "out"
    return amount or (parted and hit.end == hit.place + 2 and _thing_led(talk, hit))


def _thing_led(talk: Talk, hit: Hit) -> bool:
    """Tell whether what the verb is said of stands before it, and nobody of us."""
    led = tags(talk)[hit.clause.start : hit.place]
    return bool(led) and not any(kind & (Tag.US | Tag.COPULA | Tag.HAVE) for kind in led)


def _shared(talk: Talk, hit: Hit) -> list[Noun] | None:
    """Read "crimped and soldered both lugs", where two verbs share what follows the second."""
    kinds, texts = tags(talk), words(talk)
    second = hit.end + 1
    stop = talk.utterance(hit.clause.utterance).end
    opens = all(kind & (Tag.US | Tag.ADVERB) for kind in kinds[hit.clause.start : hit.place])
    if not opens or second + 1 >= stop or texts[hit.end] not in ("and", "then"):
        return None
    if not kinds[second] & Tag.VERB or kinds[second] & Tag.HEAD:
        return None
    start = second + 1 + (texts[second + 1] in PARTICLES)
    return list(nouns_from(talk, start, stop)) or None if start < stop else None


def _rid_of(talk: Talk, hit: Hit, what: Noun) -> Noun:
    """Name what the dirt was cleaned out of: "blew the dust out of the fins", "out of it"."""
    dirt = tags(talk)[what.stop - 1]
    if hit.infinitive not in RIDDING or not dirt & Tag.DEFECT or dirt & Tag.HEAD:
        return what
    for place in range(what.stop, hit.clause.stop - 1):
        if words(talk)[place] in ("of", "from", "off"):
            named = noun_at(talk, place + 1, hit.clause.stop)
            meant = antecedent(talk, hit.place) if words(talk)[place + 1] in POINTING else None
            return named or (Noun(meant.start, meant.stop, meant.name) if meant else what)
    return what


def _named_after(talk: Talk, hit: Hit) -> list[Noun]:
    """Read the object after the verb: "the cover", "about a gallon of water out of the tank"."""
    start = _past_adverbs(talk, hit.start, hit.stop)
    if _thing_did(talk, hit):
        return []
    if (
        start < hit.stop
        and words(talk)[start] in ("for", "about")
        and hit.infinitive in ("test", "check")
    ):
        start += 1
    if hit.infinitive in ("drain", "fill") and (stuff := _fluid_moved(talk, hit)):
        return [stuff]
    if (
        start >= hit.stop
        or tags(talk)[start] & Tag.PREPOSITION
        or _is_amount(talk, start, hit.stop)
    ):
        return []
    return list(nouns_from(talk, start, hit.stop)) or _piece(talk, hit, start)


def _thing_did(talk: Talk, hit: Hit) -> bool:
    """Tell "two batteries have dropped cells", where the thing itself is the doer."""
    if not any(kind & Tag.HAVE for kind in tags(talk)[hit.clause.start : hit.place]):
        return False
    doer = noun_at(talk, hit.clause.start, hit.place)
    return doer is not None and bool(tags(talk)[doer.stop - 1] & Tag.HEAD)


def _piece(talk: Talk, hit: Hit, start: int) -> list[Noun]:
    """Read "number three", "the left one", "the rest" as pieces of what was spoken of before."""
    texts, kinds = words(talk), tags(talk)
    end = start
    while end < hit.stop and (
        kinds[end] & (Tag.DETERMINER | Tag.NUMBER | Tag.MODIFIER | Tag.STATE)
        or texts[end] in PIECES
    ):
        end += 1
    said = [text for text in texts[start:end] if text not in ("the", "a", "of", "whole", "all")]
    anew = "new" in said and {"one", "ones"} & set(said)
    meant = (last_bad(talk, hit.place) if anew else None) or antecedent(talk, hit.place)
    if meant is None or not said or not any(text in PIECES for text in said):
        return []
    told = " ".join(
        text for text in said if text in SIDED or texts[start] == "number" or "number" in said
    )
    kept = " ".join(text for text in meant.name.split() if text not in SIDED)
    name = f"{told} {_one_of(kept)}" if told else meant.name
    return [Noun(start, end, name, told)]


def _one_of(name: str) -> str:
    *before, head = name.split()
    return " ".join([*before, singular_of(head)])


def _past_adverbs(talk: Talk, start: int, stop: int) -> int:
    kinds, texts = tags(talk), words(talk)
    keep = Tag.HEAD | Tag.MODIFIER | Tag.DETERMINER | Tag.PRONOUN
    while start < stop and (
        (kinds[start] & Tag.ADVERB and not kinds[start] & keep)
        or (
            texts[start] in ("in", "on")
            and texts[min(start + 1, stop - 1)] in ("a", "new", "another")
        )
    ):
        start += 1
    return start


def _is_amount(talk: Talk, start: int, stop: int) -> bool:
    """Tell whether a number with its unit follows ("pulled fourteen amps")."""
    kinds, texts = tags(talk), words(talk)
    if not any(kind & Tag.NUMBER for kind in kinds[start : min(start + 4, stop)]):
        return False
    first = start
    start += 2 * (texts[start] == "a" and texts[start + 1 : start + 2] == ("second",))
    while start < stop and (
        kinds[start] & Tag.NUMBER or texts[start] in ("a", "about", "an", "and", "point")
    ):
        start += 1
    return first < start < stop and bool(kinds[start] & Tag.UNIT) and not _rated(talk, start, stop)


def _rated(talk: Talk, place: int, stop: int) -> bool:
    return place + 1 < stop and bool(tags(talk)[place + 1] & (Tag.HEAD | Tag.MODIFIER))


def _fluid_moved(talk: Talk, hit: Hit) -> Noun | None:
    """Read where from ("out of the tank") or what with ("filled it with ... of oil")."""
    texts, kinds = words(talk), tags(talk)
    filling = hit.infinitive == "fill"
    limit = talk.utterance(hit.clause.utterance).end if filling else hit.clause.stop
    for place in range(hit.start, limit - 1):
        poured = filling and texts[place] == "of" and kinds[place - 1] & Tag.UNIT
        if poured or (not filling and _taken_from(texts, place)):
            if words(talk)[place + 1] in POINTING and (meant := _last_fluid(talk, hit)):
                return Noun(meant.start, meant.stop, meant.name)
            return noun_at(talk, place + 1, limit)
    return None


def _taken_from(texts: tuple[str, ...], place: int) -> bool:
    """Tell the "of" of "out of the tank" and "from" from the "of" of "a pint of water"."""
    return texts[place] == "from" or (texts[place] == "of" and texts[place - 1] in ("out", "off"))


def _pointed_at(talk: Talk, hit: Hit) -> list[Noun] | None:
    """Resolve "it", "those", "both", "all three"; none of these gives None."""
    start = _past_adverbs(talk, hit.start, hit.stop)
    said = words(talk)[start : min(start + 3, hit.stop)]
    if not said or said[0] not in POINTING | {"one", "ones", "all", "her"}:
        return None
    if _other_did(talk, hit):
        return []
    count = next((MANY[text] for text in reversed(said) if text in MANY), 0)
    if count == 2 and (pair := _pair(talk, hit.place)):
        return [replace(pair, count=2)]
    where = "both" if said[0] == "both" else ""
    return [replace(what, where=where, count=count) for what in _meant(talk, hit)]


def _other_did(talk: Talk, hit: Hit) -> bool:
    """Tell "the management board disconnected it", where a thing is the doer."""
    doer = noun_at(talk, hit.clause.start, hit.place)
    return doer is not None and doer.stop == hit.place


def _pair(talk: Talk, token: int) -> Noun | None:
    """Return the two like things named last as one ("left battery ... right battery")."""
    recent = things_between(talk, token - RECENT, token)[-2:]
    heads = [singular_of(thing.name.split()[-1]) for thing in recent]
    if len(heads) < 2 or heads[0] != heads[1] or recent[0].name == recent[1].name:
        return None
    return Noun(recent[0].start, recent[1].stop, plural(heads[0]), "both")


def _meant(talk: Talk, hit: Hit) -> list[Noun]:
    said = words(talk)[hit.place + 1 : hit.place + 4]
    if {"one", "ones"} & set(said) and "new" in said and (bad := last_bad(talk, hit.place)):
        return [Noun(bad.start, bad.stop, bad.name)]
    if hit.infinitive in ("adjust", "open", "close") and (measure := _measure(talk, hit)):
        return [measure]
    poured = hit.infinitive in ("fill", "drain", "top up")
    meant = _last_fluid(talk, hit) if poured else _suited(talk, hit)
    return [Noun(meant.start, meant.stop, meant.name)] if meant else []


def _suited(talk: Talk, hit: Hit) -> Thing | None:
    """Return the thing spoken of; of those named just before, one that the verb is said of."""
    meant = antecedent(talk, hit.place)
    suits = rules("actions")["suits"].get(hit.infinitive, "").split()
    if meant is None or not suits or singular_of(meant.name.split()[-1]) in suits:
        return meant
    here = talk.utterance_of[hit.place]
    begin = talk.starts[max(here - NEAR_BY, 0)]
    named = things_between(talk, begin, hit.place)
    fitting = (t for t in reversed(named) if singular_of(t.name.split()[-1]) in suits)
    return next(fitting, meant)


def _measure(talk: Talk, hit: Hit) -> Noun | None:
    """Read "idle speed was sixteen fifty, brought it down": what is set is what was measured."""
    begin = talk.starts[hit.clause.utterance]
    named = noun_at(talk, begin, hit.place)
    return named if named and tags(talk)[named.stop - 1] & Tag.ASPECT else None


def _last_fluid(talk: Talk, hit: Hit) -> Thing | None:
    """What is filled with an amount is filled with the fluid named last."""
    fluids = rules("actions")["fluids"]["words"].split()
    named = things_between(talk, hit.place - 10 * RECENT, hit.place)
    return next((t for t in reversed(named) if t.name.split()[-1] in fluids), None) or antecedent(
        talk, hit.place
    )


def _before(talk: Talk, clause: Clause, hit: Hit) -> list[Noun]:
    """Return the subject of a passive verb; of a verb alone, what the clause before is about."""
    led = tags(talk)[clause.start : hit.place]
    if any(kind & Tag.US for kind in led):
        return _ours(talk, clause, hit)
    if _tells_state(talk, clause, hit) or _no_work(talk, clause, hit):
        return []
    if _new_one(talk, clause, hit):
        meant = last_bad(talk, hit.place) or antecedent(talk, hit.place)
        return [Noun(meant.start, meant.stop, meant.name)] if meant else []
    begin = clause.start
    while begin < hit.place and tags(talk)[begin] & (Tag.HAVE | Tag.ADVERB):
        begin += 1
    subjects = list(nouns_from(talk, begin, hit.place))
    if subjects:
        return [] if _told_state(talk, clause, hit) else subjects
    light = Tag.ADVERB | Tag.FILLER | Tag.COPULA | Tag.HAVE | Tag.PRONOUN
    if any(not kind & light for kind in led):
        return []
    return [what for what in _meant(talk, hit) if _near(talk, what.start, clause)]


def _ours(talk: Talk, clause: Clause, hit: Hit) -> list[Noun]:
    """Read the object that "I" or "we" left before the verb: fronted, had done, or left out."""
    us = next(n for n in range(clause.start, hit.place) if tags(talk)[n] & Tag.US)
    fronted = list(nouns_from(talk, clause.start, us)) if us > clause.start else []
    if fronted and fronted[-1].stop == us:
        return fronted
    return _had_done(talk, clause, hit) or _left_out(talk, clause, hit)


def _no_work(talk: Talk, clause: Clause, hit: Hit) -> bool:
    """Tell a state ("is worn", "cut") and what a thing did ("dropped") from a passive."""
    led, texts = tags(talk)[clause.start : hit.place], words(talk)
    before = texts[clause.start : hit.place]
    passive = any(kind & Tag.COPULA for kind in led)
    if "with" in before or (tags(talk)[hit.place] & Tag.STATE and passive):
        return True
    unhelped = not any(kind & (Tag.COPULA | Tag.HAVE) for kind in led) and "got" not in before
    after = tags(talk)[hit.end + 1 : hit.end + 2]
    shared = texts[hit.end : hit.end + 1] == ("and",) and after and after[0] & Tag.VERB
    alone = hit.end == hit.place + 1 and unhelped and not (shared and not led)
    return (alone and texts[hit.place] in _no_passive()) or (texts[hit.place] == "cut" and not led)


def _new_one(talk: Talk, clause: Clause, hit: Hit) -> bool:
    """Tell "a new one fitted"."""
    said = set(words(talk)[clause.start : hit.place])
    return bool({"one", "ones"} & said and NEW & said)


def _told_state(talk: Talk, clause: Clause, hit: Hit) -> bool:
    """Tell "seat sealed", a state, from "thread sealed with paste"."""
    stuffed = words(talk)[hit.end : hit.end + 1] == ("with",) and bool(
        set(words(talk)[hit.end : clause.stop]) & _smeared()
    )
    stated = tags(talk)[hit.place] & Tag.STATE or words(talk)[clause.start] == "with"
    return bool(stated) and not stuffed


def _tells_state(talk: Talk, clause: Clause, hit: Hit) -> bool:
    """Tell "grease has dried out" and "drum cleaned up fine", which are states, from work."""
    told = (*cues(talk, "findings.bad", clause.start, clause.stop),)
    told += cues(talk, "findings.fine", clause.start, clause.stop)
    within = any(cue.start <= hit.place < cue.stop for cue in told)
    fared = words(talk)[hit.end - 1] == "up" and hit.end < clause.stop
    return within or (fared and bool(tags(talk)[hit.end] & (Tag.GOOD | Tag.ADVERB)))


def _left_out(talk: Talk, clause: Clause, hit: Hit) -> list[Noun]:
    """Read "disc is worn, so I changed", where what was spoken of is left out."""
    ends = hit.end == hit.stop == clause.stop and words(talk)[hit.place] not in doubtful()
    if not ends or clause.start == talk.starts[clause.utterance]:
        return []
    return [what for what in _meant(talk, hit) if _near(talk, what.start, clause)]


def _had_done(talk: Talk, clause: Clause, hit: Hit) -> list[Noun]:
    """Read "I've the wheel chocked" and "I had the head skimmed"."""
    owned = [n for n in range(clause.start, hit.place) if tags(talk)[n] & Tag.HAVE]
    what = noun_at(talk, owned[-1] + 1, hit.place) if owned else None
    return [what] if what and what.stop == hit.place and what.start > owned[-1] else []


def clearance(talk: Talk, what: Noun) -> Noun:
    """Name "inlet" and "number one intake" by the clearance that was spoken of before."""
    if what.name.split()[-1] not in VALVES:
        return what
    begin = talk.starts[max(talk.utterance_of[what.start] - MEASURED, 0)]
    for place in range(what.start, begin, -1):
        if words(talk)[place] in CLEARANCES:
            named = " ".join(dict.fromkeys(["valve", words(talk)[place].removesuffix("s")]))
            return replace(what, name=named, where=what.name)
    return what


def _near(talk: Talk, token: int, clause: Clause) -> bool:
    """Tell whether a thing was named in this utterance, or just before its first clause."""
    opening = clause.start == talk.starts[clause.utterance]
    return clause.utterance - talk.utterance_of[token] <= int(opening)


@cache
def _no_passive() -> frozenset[str]:
    return frozenset(rules("actions")["no_passive"]["words"].split())


@cache
def _smeared() -> frozenset[str]:
    return frozenset(rules("actions")["fluids"]["smeared"].split())


def _of_sides(talk: Talk, hit: Hit, what: Noun) -> Noun:
    """Put the thing meant in place of "both sides"."""
    if what.name not in SIDES or what.start < hit.place:
        return what
    meant = antecedent(talk, hit.place)
    return (
        replace(what, name=meant.name, where=talk.text(max(what.start - 1, 0), what.stop))
        if meant
        else what
    )

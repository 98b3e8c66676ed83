"""What words of advice lead to: a thing to do, or a figure, news, or what was done already."""

from jobnotes.extract import verbs
from jobnotes.extract.clauses import ENDS
from jobnotes.extract.cues import Announced, Cue, cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.steps import steps
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import things_between
from jobnotes.extract.vocabulary import group, singular_of, words

POINTED = 3  # tokens of advice in which it points back
TURNING = group("recommendations", "turning")
LIMITS = group("recommendations", "limits")
DENIES = group("recommendations", "denies")
BIDDING = group("recommendations", "bidding")


def is_news(talk: Talk, begin: int, stop: int) -> bool:
    """Tell "tell him the oil is black" or "told him it's ready", which advise nothing."""
    kinds = tags(talk)
    if leads_verb(talk, begin) or cues(talk, "recommendations.when", begin, stop):
        return False
    return any(kind & (Tag.COPULA | Tag.HAVE) for kind in kinds[begin:stop])


def leads_verb(talk: Talk, begin: int) -> bool:
    """Tell a thing to do, which begins with a plain verb: "keep it dry", "change the oil"."""
    said = words(talk)[begin]
    return said in verbs.plain_forms() or said in DENIES or said in BIDDING


def is_past(talk: Talk, cue: Cue, begin: int) -> bool:
    """Tell the "I'd" of "I'd bumped the dial", which is "had"."""
    told = words(talk)[cue.start : cue.stop] in (("i", "'d"), ("we", "'d"))
    said = words(talk)[begin]
    past = said.endswith("ed") or said in verbs.past_forms()
    return told and past and not leads_verb(talk, begin)


def is_limit(talk: Talk, begin: int, stop: int) -> bool:
    """Tell "ought to be between one and two", which is a figure."""
    begin += begin < stop and words(talk)[begin] == "be"
    near = tags(talk)[begin : min(begin + 3, stop)]
    return begin < stop and words(talk)[begin] in LIMITS and any(kind & Tag.NUMBER for kind in near)


def is_norm(talk: Talk, begin: int, stop: int) -> bool:
    """Tell "she ought to turn five thousand", which says what is normal."""
    after = tags(talk)[begin + 1 : begin + 2] if begin + 1 < stop else ()
    return bool(after) and bool(after[0] & Tag.NUMBER) and words(talk)[begin] in TURNING


def is_done(talk: Talk, begin: int, stop: int) -> bool:
    """Tell whether what is needed was put in during this very job."""
    done = {
        singular_of(s.object.name.split()[-1])
        for s in steps(talk)
        if s.verb in ("install", "replace")
    }
    stop = next((n for n in range(begin, stop) if words(talk)[n] in ENDS), stop)
    named = {singular_of(thing.name.split()[-1]) for thing in things_between(talk, begin, stop)}
    return bool(named) and named <= done and not cues(talk, "recommendations.when", begin, stop)


def to_be_done(talk: Talk, place: int) -> bool:
    """Tell "want repacking" and "needs greased"."""
    text = words(talk)[place]
    return text in verbs.infinitive_of() and text.endswith(("ing", "ed"))


def unlisted_verb(talk: Talk, place: int) -> bool:
    """Tell the verb of "don't raise the mast", in no list, from the past of "never slowed"."""
    text = words(talk)[place]
    past = text.endswith("ed") or text in verbs.past_forms()
    return tags(talk)[place] == Tag.UNKNOWN and not past


def wants(talk: Talk, place: int) -> bool:
    """Tell "he wants the other plugs"."""
    wanting = words(talk)[place + 1 : place + 2]
    return bool(tags(talk)[place] & Tag.PERSON) and wanting in (("wants",), ("needs",), ("want",))


def points_back(talk: Talk, one: Announced, start: int) -> bool:
    """Tell "I'd be getting that done soon", whose thing was named just before."""
    near = range(one.start, min(one.start + POINTED, one.stop))
    pointed = any(
        words(talk)[n] in ("that", "those", "them", "it")
        and not tags(talk)[n + 1 if n + 1 < one.stop else n] & (Tag.HEAD | Tag.MODIFIER)
        for n in near
    )
    named = things_between(talk, one.start, one.stop)
    return pointed and not named and bool(things_between(talk, start, one.lead))

"""Whether what a verb names was worked on: a component, not a person, a road or a meter."""

from dataclasses import dataclass
from functools import cache

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import Noun, plain
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, rules, singular_of, words

PIECES = group("objects", "pieces")
CONTAINERS = group("objects", "containers")
HOURS = group("objects", "hours")
PLACING = ("install", "connect", "remove", "disconnect", "swap", "inspect", "check")
ENGINES = ("engine", "motor", "her")
FIGURED = ("brought", "put", "let", "drew", "ran", "run")
RAN = ("ran", "run", "running")
TRIED = ("tried", "trying", "try")


@dataclass(frozen=True, slots=True)
class Hit:
    """A verb found: its token, its infinitive, where its object may stand, its end, its clause."""

    place: int
    infinitive: str
    start: int
    stop: int
    end: int
    clause: Clause


def workable(talk: Talk, hit: Hit, what: Noun) -> bool:
    """Leave out persons, times and idioms; a verb of many meanings needs a component."""
    narrow = _narrow(talk, hit, what.name.split()[-1])
    if narrow is not None:
        return narrow
    if _idiom(talk, hit, what):
        return False
    sure = words(talk)[hit.place] not in doubtful()
    head = tags(talk)[what.stop - 1]
    if any(text in PIECES for text in words(talk)[what.start : what.stop]):
        return True
    return plain(talk, what) and (sure or bool(head & (Tag.HEAD | Tag.ASPECT)))


def _narrow(talk: Talk, hit: Hit, head: str) -> bool | None:
    """Return whether a verb that takes few objects takes this one; None for other verbs."""
    said = words(talk)[hit.place]
    listed = rules("actions")
    if hit.infinitive == "reroute" and said in RAN:
        return head in listed["routed"]["words"].split()
    if hit.infinitive == "inflate":
        return singular_of(head) in listed["inflatable"]["words"].split()
    if hit.infinitive == "drain" and said in RAN:
        return head in listed["fluids"]["words"].split()
    if hit.infinitive == "adjust" and said in FIGURED:
        timed = HOURS & set(words(talk)[hit.end : hit.clause.stop])
        return not timed and any(k & Tag.NUMBER for k in tags(talk)[hit.end : hit.clause.stop])
    if said in TRIED:
        return bool(cues(talk, "actions.borrowed", hit.place, hit.clause.stop))
    return None


def _idiom(talk: Talk, hit: Hit, what: Noun) -> bool:
    """Tell driving, cranking, trying in a pan and measuring from work."""
    texts, head = words(talk), what.name.split()[-1]
    pointed = texts[hit.place + 1 : hit.place + 2] in (("it",), ("her",))
    onward = hit.clause.stop > hit.end
    road = pointed and onward and (texts[hit.end] == "the" or tags(talk)[hit.end] == Tag.UNKNOWN)
    cranked = (pointed or head in ENGINES) and texts[hit.end - 1] == "over"
    bathed = texts[hit.place] == "dropped" and CONTAINERS & set(texts[hit.end : hit.clause.stop])
    return (
        (hit.infinitive == "adjust" and road)
        or (pointed and texts[hit.place] in ("knocked", "knock") and texts[hit.end - 1] == "off")
        or (hit.infinitive == "rotate" and cranked)
        or bool(bathed)
        or (hit.infinitive in PLACING and head in _instruments())
    )


@cache
def _instruments() -> frozenset[str]:
    return frozenset(rules("actions")["instruments"]["words"].split())


@cache
def doubtful() -> frozenset[str]:
    """Return the verb forms that mean work only with a component named after them."""
    return frozenset(rules("actions")["doubtful"]["words"].split())

"""The state said of a thing: its words, and whether it is bad or denied."""

from dataclasses import dataclass, replace
from functools import cache

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import FUNCTION, NONE, Tag, tags
from jobnotes.extract.talk import Talk
from jobnotes.extract.verbs import past_forms
from jobnotes.extract.vocabulary import group, rules, words
from jobnotes.numbers.lexicon import table

COUNTED = ("missing", "lost", "short", "down")
IDIOMS = {
    "flat": ("out",),
    "ticking": ("over",),
    "poor": ("love", "thing", "old", "man", "lady", "lad", "devil"),
    "dead": ("on", "centre", "center"),
    "good": ("lady", "man", "lad", "old"),
    "old": ("love", "boy", "girl"),
}
NEAR = 5  # tokens after the verb in which the state must begin ("is starting to get a bit loose")
CEASED = tuple((text,) for text in group("states", "ceased"))
TELLING_NOTHING = group("states", "telling_nothing")
LOOSE = group("states", "loose")
COMPARED = group("states", "compared")
ELECTRICAL = group("nouns", "electrical")
STOPS = group("states", "stops")
ARTICLES = group("states", "articles")
SPELT = 2  # letters of a word that may spell a part number
PERCEIVED = group("states", "perceived")
FARED = group("states", "fared")
PHRASES = (("findings.innocent", True), ("findings.bad", False), ("findings.fine", True))


@dataclass(frozen=True, slots=True)
class State:
    """The tokens of a state; `good` if nothing is wrong, `negated` if a state is denied."""

    start: int
    stop: int
    rule: str
    good: bool = False
    negated: bool = False


def state_after_verb(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read what follows "is", "looks", "went": a listed state, or an unlisted describing word."""
    found = _likened(talk, place, clause) or _phrase(talk, place, clause)
    start = _past_verb(talk, place, clause)
    found = found or _phrase(talk, start, clause)
    here = start
    while not found and here < min(start + NEAR, clause.stop):
        found = _state_at(talk, start, here, clause)
        if not found and not _leads_on(talk, here):
            found = _unlisted(talk, start, here, clause)
            break
        here += 1
    return _with_denial(talk, found, clause) if found else None


def _with_denial(talk: Talk, found: State, clause: Clause) -> State:
    """Take in the verb that denies: "isn't bent", "wasn't slipping"."""
    denied = tags(talk)[found.start - 1] & Tag.NEGATION and tags(talk)[found.start - 1] & Tag.COPULA
    if found.negated or not denied or found.start == clause.start:
        return found
    return replace(found, start=found.start - 1, good=not found.good, negated=True)


def _past_verb(talk: Talk, place: int, clause: Clause) -> int:
    kinds = tags(talk)
    verb = Tag.COPULA | Tag.LINKING
    while place < clause.stop and kinds[place] & verb and not kinds[place] & Tag.STATE:
        place += 1
    return past_perceived(talk, place, clause)


def past_perceived(talk: Talk, place: int, clause: Clause) -> int:
    """Pass over "found to be" and "noted as", after which the state stands."""
    texts = words(talk)
    fared = (
        place < clause.stop and texts[place] in FARED and texts[place + 1 : place + 2] == ("up",)
    )
    if fared:
        return place + 2
    if place < clause.stop and texts[place] in PERCEIVED:
        place += 1
        while place < clause.stop and texts[place] in ("out", "to", "be", "have", "been", "as"):
            place += 1
    return place


def _leads_on(talk: Talk, place: int) -> bool:
    """Tell a light word that may stand before the state ("a bit", "not", "starting to")."""
    kind = tags(talk)[place]
    return bool(kind & (Tag.ADVERB | Tag.NEGATION)) or words(talk)[place] in LOOSE


def _state_at(talk: Talk, start: int, here: int, clause: Clause) -> State | None:
    """Read the state whose telling word is token `here`, if it is one."""
    kind, text = tags(talk)[here], words(talk)[here]
    if _is_idiom(talk, here):
        return None
    if text == "right" and here + 1 == clause.stop:
        return _state(talk, start, clause, "findings.is", here, True)
    if text.endswith("ing") and _measures(talk, here, clause):
        return None  # "drawing twelve amps", a reading
    if kind & Tag.STATE and not _names_next(talk, here, clause):
        return _state(talk, start, clause, "findings.is", here)
    if _compound(talk, here, clause):
        return _state(talk, start, clause, "findings.is", here + 1)
    if _not_doing(talk, here, clause):
        return State(here - 1, _trimmed(talk, here + 1, clause), "findings.cannot", False, True)
    if text.endswith("ing") and here == start and kind in (Tag.VERB, Tag.UNKNOWN):
        return _state(talk, start, clause, "findings.does", here)
    doing = (text.endswith("ing") and here == start) or words(talk)[here - 1] == "to"
    if kind & Tag.FAULT and (doing or (text.endswith("ed") and kind & ~Tag.VERB == Tag.FAULT)):
        return _state(talk, start, clause, "findings.does", here)
    if kind & (Tag.NUMBER | Tag.UNIT) and _compared(talk, here, clause):
        return _state(talk, start, clause, "findings.compared", here)
    return None


def _compound(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "oil soaked" and "heat damaged"."""
    kind = tags(talk)[place]
    after = tags(talk)[place + 1] if place + 1 < clause.stop else NONE
    named = kind & (Tag.HEAD | Tag.MODIFIER | Tag.DEFECT) and not kind & Tag.STATE
    return bool(named and after & Tag.STATE) and words(talk)[place + 1].endswith("ed")


def _not_doing(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "wasn't oiling" and "isn't charging"."""
    denied = place > clause.start and tags(talk)[place - 1] & Tag.NEGATION
    denied = denied and words(talk)[place - 1] != "no"
    return bool(denied) and words(talk)[place].endswith("ing") and not tags(talk)[place] & Tag.HEAD


def _likened(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read "smells like thinner", "sounds like gravel", "smells of petrol"."""
    texts = words(talk)
    sensed = texts[place] in (
        "smells",
        "smelled",
        "smelt",
        "sounds",
        "sounded",
        "looks",
        "looked",
        "feels",
        "felt",
    )
    compared = tags(talk)[place] & Tag.COPULA and texts[place + 1 : place + 2] == ("like",)
    if compared and place + 3 < clause.stop and texts[place + 2] in ("a", "an", "my", "your"):
        return State(place + 1, clause.stop, "findings.likened")
    if sensed and texts[place + 1 : place + 2] in (("like",), ("of",)) and place + 2 < clause.stop:
        return State(place, clause.stop, "findings.likened")
    return None


def _compared(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "thirty degrees hotter than the other two" from a plain figure."""
    return any(text in COMPARED for text in words(talk)[place : min(place + 6, clause.stop)])


def _names_next(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "is a dry clutch" and "is the black and yellow wire" from "is dry"."""
    article = words(talk)[place - 1] in ("the", "a", "an") and place > clause.start
    if article and any(k & Tag.HEAD for k in tags(talk)[place + 1 : min(place + 4, clause.stop)]):
        return True
    after = tags(talk)[place + 1] if place + 1 < clause.stop else NONE
    return bool(after & Tag.HEAD) and not after & (Tag.STATE | Tag.VERB)


def _unlisted(talk: Talk, start: int, here: int, clause: Clause) -> State | None:
    """Take a describing word of no list: by its form, or as the last word ("is crispy")."""
    kind, text = tags(talk)[here], words(talk)[here]
    plain = kind == Tag.UNKNOWN and not any(
        k & (Tag.NUMBER | Tag.UNIT) for k in tags(talk)[here : here + 3]
    )
    formed = text.endswith(("ed", "y", "ish", "less")) and len(text) > 3
    named = words(talk)[here - 1] in ARTICLES or text in table("codes.toml")["alphabet"]
    last = here + 1 == clause.stop and len(text) > SPELT and not named
    ends = here + 1 == clause.stop or bool(
        tags(talk)[here + 1] & (FUNCTION | Tag.ADVERB | Tag.STATE)
    )
    return (
        _state(talk, start, clause, "findings.unlisted", here)
        if plain and (last or (formed and ends))
        else None
    )


def state_alone(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read a state straight after the name ("o-ring torn", "fuel line soft and swollen")."""
    kinds = tags(talk)
    phrase = _phrase(talk, place, clause)
    if phrase:
        return phrase
    here = place
    while (
        here < clause.stop
        and not kinds[here] & Tag.STATE
        and (kinds[here] & (Tag.ADVERB | Tag.NEGATION) or words(talk)[here] in LOOSE)
    ):
        here += 1
    if here >= clause.stop or here - place > 3 or not kinds[here] & Tag.STATE:
        return None
    after = kinds[here + 1] if here + 1 < clause.stop else NONE
    counted = after & Tag.NUMBER and _counts(talk, here + 1, clause)
    figure = after & (Tag.COPULA | Tag.NUMBER) and not after & (Tag.ADVERB | Tag.DETERMINER)
    if figure and not counted:
        return None
    if here > place and words(talk)[place] in ("on", "the", "a") and after & Tag.HEAD:
        return None
    if (here > place and words(talk)[here - 1] == "on") or _is_idiom(talk, here):
        return None
    following = words(talk)[here + 1 : here + 2]
    if following == ("number",) or (words(talk)[here] == "straight" and after & Tag.PREPOSITION):
        return None
    return (
        None
        if _is_weak(talk, place, here, clause)
        else _state(talk, place, clause, "findings.alone", here)
    )


def _is_idiom(talk: Talk, place: int) -> bool:
    """Tell "flat out", "poor love" and "yellow to yellow" from states."""
    text, after = words(talk)[place], words(talk)[place + 1 : place + 3]
    if text in IDIOMS and after and after[0] in IDIOMS[text]:
        return True
    return len(after) == 2 and after[0] == "to" and bool(tags(talk)[place + 2] & Tag.STATE)


def _counts(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "missing two vanes" and "blocked sixty percent" from a figure after a state."""
    end = place
    while end < clause.stop and tags(talk)[end] & Tag.NUMBER:
        end += 1
    share = words(talk)[end : end + 1] in (("percent",), ("per",))
    missing = words(talk)[place - 1] in COUNTED
    return end < clause.stop and (share or (missing and bool(tags(talk)[end] & Tag.HEAD)))


def _is_weak(talk: Talk, place: int, here: int, clause: Clause) -> bool:
    """Tell a condition ("engine cold", "trigger open") from a state; an open coil is a state."""
    texts = words(talk)
    if not tags(talk)[here] & Tag.WEAK or texts[here + 1 : here + 2] == ("and",):
        return False
    if texts[here] in ELECTRICAL and texts[place - 1] in electrical():
        return False
    return here == place or texts[here - 1] in ("a", "an", "the")


@cache
def electrical() -> frozenset[str]:
    """Return the things that "open" alone condemns: coils, elements, fuses."""
    return frozenset(rules("findings")["electrical_things"]["words"].split())


def _phrase(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read a state of several words ("worn out", "in good shape")."""
    for rule, good in PHRASES:
        for cue in cues(talk, rule, place, min(place + NEAR + 3, clause.stop)):
            between = tags(talk)[place : cue.start]
            if all(
                kind & (Tag.ADVERB | Tag.NEGATION | Tag.STATE) or words(talk)[place + n] in LOOSE
                for n, kind in enumerate(between)
            ):
                return _state(talk, place, clause, rule, cue.start, good)
    return None


def _state(
    talk: Talk, start: int, clause: Clause, rule: str, word: int, good: bool | None = None
) -> State:
    kinds = tags(talk)
    negated = any(kind & Tag.NEGATION for kind in kinds[start:word])
    fine = bool(kinds[word] & Tag.GOOD) if good is None else good
    return State(start, _trimmed(talk, word + 1, clause), rule, fine != negated, negated)


def _trimmed(talk: Talk, least: int, clause: Clause) -> int:
    """Leave "too", "as well" and the like off the end."""
    stop = clause.stop
    while stop > least and words(talk)[stop - 1] in STOPS:
        stop -= 1
    return stop


def fault_at(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read what a faulty thing does after its name: "growls", "leaking from the weep hole"."""
    kinds, texts = tags(talk), words(talk)
    here = place
    while here < clause.stop and kinds[here] & Tag.ADVERB and not kinds[here] & Tag.FAULT:
        here += 1
    if here >= clause.stop or not kinds[here] & Tag.FAULT:
        return None
    following = kinds[here + 1] if here + 1 < clause.stop else NONE
    if _is_figure(talk, here, clause) or following & Tag.COPULA:
        return None
    if texts[here].endswith("ed") and texts[here + 1 : here + 2] in (("it",), ("them",), ("her",)):
        return None  # "rocked it by hand", done by us
    finite = texts[here].endswith(("s", "ing", "ed")) and not texts[here].endswith("ss")
    return State(place, _trimmed(talk, here + 1, clause), "findings.does") if finite else None


def _measures(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "drawing twelve amps" and "hanging at sixty" from a state."""
    after = place + 1 + (words(talk)[place + 1 : place + 2] in (("at",), ("about",), ("around",)))
    return (
        after < clause.stop
        and bool(tags(talk)[after] & Tag.NUMBER)
        and (words(talk)[after] not in ARTICLES)
    )


def _is_figure(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "pops off at thirteen psi" and "collapsed to four point one", which are readings."""
    kinds, texts = tags(talk), words(talk)
    return any(
        texts[n] in ("at", "to") and kinds[n + 1] & Tag.NUMBER and not kinds[n + 1] & Tag.ADVERB
        for n in range(place + 1, clause.stop - 1)
    )


def did_at(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read "did tear" and "does slip" after a name, as speakers who stress or learn it say it."""
    if words(talk)[place] not in ("did", "does") or place + 1 >= clause.stop:
        return None
    told = tags(talk)[place + 1] & (Tag.FAULT | Tag.STATE)
    return State(place + 1, _trimmed(talk, place + 2, clause), "findings.does") if told else None


def works_at(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read what a sound thing does after its name: "spins", "holds", "pulls in"."""
    kinds, text = tags(talk), words(talk)[place]
    told = kinds[place] & Tag.BEHAVIOUR and text.endswith("s") and not text.endswith("ss")
    figure = any(kind & (Tag.NUMBER | Tag.UNIT) for kind in kinds[place + 1 : clause.stop])
    after = kinds[place + 1] if place + 1 < clause.stop else NONE
    how = place + 1
    while how < clause.stop and (kinds[how] & Tag.ADVERB or words(talk)[how] in LOOSE):
        how += 1
    if told and not figure and place + 1 < how < clause.stop and kinds[how] & Tag.STATE:
        return State(place, _trimmed(talk, how + 1, clause), "findings.does-so")
    ends = not after or after & (Tag.ADVERB | Tag.PREPOSITION | Tag.PRONOUN | Tag.DETERMINER)
    if not told or figure or not ends:
        return None
    return State(place, _trimmed(talk, place + 1, clause), "findings.does-well", good=True)


def _past_form(talk: Talk, place: int, clause: Clause) -> bool:
    """Tell "never laid down", which spared us a fault, from "never shuts off"."""
    if place >= clause.stop or tags(talk)[place] & Tag.BEHAVIOUR:
        return False
    return words(talk)[place].endswith("ed") or words(talk)[place] in past_forms()


def cannot_at(talk: Talk, place: int, clause: Clause) -> State | None:
    """Read what a thing will not do: "won't turn", "doesn't seat"."""
    kinds = tags(talk)
    if (
        place < clause.stop
        and kinds[place] & Tag.NEGATION
        and kinds[place] & Tag.MODAL
        and words(talk)[place] != "not"
    ):
        verb = kinds[place + 1] if place + 1 < clause.stop else NONE
        if words(talk)[place + 1 : place + 2] and words(talk)[place + 1] in TELLING_NOTHING:
            return None
        spared = bool(verb & Tag.FAULT) and not verb & Tag.BEHAVIOUR
        spared = spared or words(talk)[place + 1 : place + 2] in CEASED
        spared = spared or (words(talk)[place] == "never" and _past_form(talk, place + 1, clause))
        stop = _trimmed(talk, place + 1, clause)
        return State(place, stop, "findings.cannot", spared, negated=True)
    return None

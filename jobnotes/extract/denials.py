"""What is said not to be there: "no scoring on the piston", "no chafed wires"."""

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tag_of, tags
from jobnotes.extract.nouns import Noun, antecedent, noun_at
from jobnotes.extract.places import PLACE, UNSURE, place_at
from jobnotes.extract.said import Seen
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import heard
from jobnotes.extract.vocabulary import group, words

LEADS = group("denials", "leads")
LOOKED = group("denials", "looked")
ELECTRICAL = group("denials", "electrical")
ALONE = group("denials", "alone")
WRONG = group("denials", "wrong")
SIGNS = group("denials", "signs")
SIGHTED = group("denials", "sighted")


def denial(talk: Talk, clause: Clause, topic: Noun | None, last: Seen | None) -> Seen | None:
    """Return what a clause beginning with "no", "found no" or "none" denies."""
    place = _negation(talk, clause)
    if place is None or cues(talk, "findings.idioms", place, clause.stop):
        return None
    if words(talk)[place] in ALONE:
        return _nothing(talk, clause, place, topic) or _none_there(talk, clause, place, last)
    what = noun_at(talk, _past_sign(talk, clause, place), clause.stop)
    if what is None or what.start > place + 3 or tags(talk)[what.stop - 1] & Tag.PERSON:
        return None
    return (
        _across(talk, clause, place)
        or _placed(talk, clause, place, what)
        or _bare(talk, clause, place, what, last, topic)
    )


def _negation(talk: Talk, clause: Clause) -> int | None:
    """Return the token of "no" or "none" if only light words stand before it."""
    texts, kinds = words(talk), tags(talk)
    for place in range(clause.start, min(clause.start + 6, clause.stop)):
        denied = texts[place] in ("any", "a") and any(
            kind & Tag.NEGATION for kind in kinds[clause.start : place]
        )
        if texts[place] == "no" or texts[place] in ALONE or denied:
            return place
        if texts[place] not in LEADS and not kinds[place] & (
            Tag.FILLER | Tag.NEGATION | Tag.ADVERB
        ):
            return None
    return None


def _past_sign(talk: Talk, clause: Clause, place: int) -> int:
    """Pass over "sign of a" to what there was no sign of."""
    texts = words(talk)
    if texts[place + 1 : place + 2] and texts[place + 1] in SIGNS and place + 3 < clause.stop:
        return place + 3 if texts[place + 2] == "of" else place + 1
    return place + 1


def _nothing(talk: Talk, clause: Clause, place: int, topic: Noun | None) -> Seen | None:
    """Read "nothing wrong with the coil", "nothing is bent", "none of the bolts were loose"."""
    texts, kinds = words(talk), tags(talk)
    told = next((n for n in range(place + 1, clause.stop) if _is_bad(talk, n)), None)
    if told is None:
        return None
    after = texts[told + 1 : told + 2]
    led = after and after[0] in ("with", "wi", "in", "on", "at", "about", "of", "to")
    named = noun_at(talk, told + 2, clause.stop) if led and told + 2 < clause.stop else None
    if texts[place + 1] == "of" and not kinds[place + 2] & Tag.NUMBER:
        named = noun_at(talk, place + 2, told)
    meant = None if named else topic or antecedent(talk, clause.start)
    what = named or (Noun(meant.start, meant.stop, meant.name) if meant else None)
    if what is None:
        return None
    state = talk.text(place, told + 1).strip(" ,.")
    start, stop = min(place, clause.start), clause.stop
    return Seen(what, state, start, stop, "findings.nothing", True, True, clause)


def _is_bad(talk: Talk, place: int) -> bool:
    kind = tags(talk)[place]
    bad = kind & Tag.STATE and not kind & (Tag.GOOD | Tag.WEAK)
    return bool(bad) or words(talk)[place] in WRONG


def _is_symptom(talk: Talk, clause: Clause, place: int, what: Noun) -> bool:
    """Tell what a machine no longer does ("no bog") from a defect looked for in vain."""
    if words(talk)[place + 1] == "more":
        return True
    kind = tags(talk)[what.stop - 1]
    looked = any(text in LOOKED for text in words(talk)[clause.start : place])
    return not looked and not (kind & Tag.DEFECT and not kind & Tag.FAULT)


def _across(talk: Talk, clause: Clause, place: int) -> Seen | None:
    """Read "no continuity rotor to shaft", "no short between the coil and the case"."""
    texts = words(talk)
    start = place + 2
    if place + 1 >= clause.stop or texts[place + 1] not in ELECTRICAL or start >= clause.stop:
        return None
    begin = start + (texts[start] in ("between", "from", "across"))
    begin += begin + 1 < clause.stop and texts[begin] in ("the", "a", "any")
    rest = texts[begin : clause.stop]
    if not ("to" in rest[1:] or (texts[start] == "between" and "and" in rest)):
        return None
    where = Noun(begin, clause.stop, heard(talk, begin, clause.stop))
    return _not_at(clause, place, where, f"no {texts[place + 1]}")


def _placed(talk: Talk, clause: Clause, place: int, what: Noun) -> Seen | None:
    """Say it of the place named ("piston": "no scoring")."""
    texts = words(talk)
    stop = _past_sighting(talk, what.stop, clause)
    if stop + 1 >= clause.stop or texts[stop] not in PLACE | {"of"}:
        return None
    where = place_at(talk, stop + 1, clause)
    either = texts[stop + 1] == "either" or stop > what.stop
    either = either and where is not None and _names(talk, where)
    if where is None or (texts[stop + 1] in UNSURE and not either):
        return None
    symptom = _is_symptom(talk, clause, place, what)
    return _not_at(clause, place, where, f"no {what.name}", symptom)


def _past_sighting(talk: Talk, place: int, clause: Clause) -> int:
    """Pass over "was detected" and "to be seen" after what is denied."""
    while place < clause.stop and (tags(talk)[place] & Tag.COPULA or words(talk)[place] in SIGHTED):
        place += 1
    return place


def _names(talk: Talk, where: Noun) -> bool:
    """Tell "in either float bowl", which names the place, from "at any of them"."""
    return bool(tags(talk)[where.stop - 1] & Tag.HEAD)


def _not_at(clause: Clause, place: int, where: Noun, state: str, symptom: bool = False) -> Seen:
    rule = "findings.none-there"
    return Seen(where, state, place, clause.stop, rule, True, True, clause, symptom)


def _bare(
    talk: Talk, clause: Clause, place: int, what: Noun, last: Seen | None, topic: Noun | None
) -> Seen:
    """Say it of the thing spoken of before, or of the thing denied itself ("spark": "none")."""
    kinds = tags(talk)
    named = " ".join(words(talk)[what.start : what.stop])
    symptom = _is_symptom(talk, clause, place, what)
    subject = _spoken_of(talk, clause, what, last, topic)
    if subject:
        return _not_at(clause, place, subject, f"no {named}", symptom)
    described = kinds[what.start] & Tag.STATE and what.stop - what.start > 1
    if described and kinds[what.stop - 1] & Tag.HEAD:
        thing = Noun(what.start + 1, what.stop, " ".join(what.name.split()[1:]))
        return Seen(
            thing,
            f"none {words(talk)[what.start]}",
            place,
            clause.stop,
            "findings.none-such",
            True,
            True,
            clause,
        )
    good = not kinds[what.stop - 1] & Tag.ASPECT or bool(kinds[what.stop - 1] & Tag.DEFECT)
    return Seen(what, "none", place, clause.stop, "findings.none", good, True, clause, symptom)


def _spoken_of(
    talk: Talk, clause: Clause, what: Noun, last: Seen | None, topic: Noun | None
) -> Noun | None:
    """Return what the utterance is about when a defect is denied after it."""
    here = last and last.clause.utterance == clause.utterance
    if here and last and last.good and not last.negated:
        return last.what
    kind = tags(talk)[what.stop - 1]
    if not kind & (Tag.DEFECT | Tag.FAULT) or (kind & Tag.ASPECT and not kind & Tag.DEFECT):
        return None
    if here and last:
        return last.what
    component = topic is not None and bool(tags(talk)[topic.stop - 1] & Tag.HEAD)
    if topic and component and talk.utterance_of[topic.start] == clause.utterance:
        return topic
    meant = antecedent(talk, clause.start)
    if meant is None or talk.utterance_of[meant.start] != clause.utterance:
        return None
    return Noun(meant.start, meant.stop, meant.name)


def _told(last: Seen) -> str:
    """Return the word for what was there: "hissing" of "hissing out", "bubbles" of "no bubbles"."""
    said = [text for text in last.state.split() if tag_of(text) & (Tag.DEFECT | Tag.FAULT)]
    return said[-1] if said else last.state.split()[-1]


def _none_there(talk: Talk, clause: Clause, place: int, last: Seen | None) -> Seen | None:
    """Read "none at the clutch side" after "bubbles at the seal"."""
    start = place + 1 + (words(talk)[place + 1 : place + 2] == ("back",))
    if start + 1 >= clause.stop or words(talk)[start] not in PLACE:
        return None
    where = place_at(talk, start + 1, clause)
    if where is None:
        return None
    here = last is not None and last.clause.utterance == clause.utterance
    there = ("findings.there", "findings.none-there")
    like = last and last.rule in there and (here or words(talk)[place] == "none")
    state = f"no {_told(last)}" if like and last else "none"
    return Seen(where, state, place, clause.stop, "findings.none-there", True, True, clause)

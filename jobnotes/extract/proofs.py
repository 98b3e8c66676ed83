"""Which states are no findings but the proof of the repair: good ones told after it."""

from bisect import bisect_left

from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import in_section
from jobnotes.extract.said import Seen
from jobnotes.extract.seen import seen
from jobnotes.extract.steps import repair_span, step_starts, steps_in_order
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, once_a_talk, singular_of, words

TIMES = group("verifications", "times")
PLAIN = ("findings.alone", "findings.is", "findings.fine", "findings.unlisted")


def is_proof(talk: Talk, one: Seen) -> bool:
    """Tell whether a good state shows that the repair worked."""
    first, last = repair_span(talk)
    if in_section(talk, one.clause, "verification"):
        return True
    if in_section(talk, one.clause, "findings") or not one.good or one.start < first:
        return False
    if one.rule == "findings.innocent":
        return False
    if one.start > last and cues(talk, "verifications.works", one.clause.start, one.clause.stop):
        return True
    if one.start > last and (_timed(talk, one) or _ended_trial(talk, one)):
        return True
    utterance = talk.utterance(one.clause.utterance)
    if _looked_at(talk, one):
        return False
    now = cues(talk, "verifications.now", utterance.start + 1, utterance.end)
    if one.negated and one.rule in PLAIN and not now and _worn(talk, one):
        return False
    if one.rule == "findings.described":
        return True
    if one.negated and one.rule.startswith("findings.none"):
        sound = bool(now) or one.clause.utterance not in _faulty(talk)
        return one.symptom and sound and (one.start > last or bool(now) or _tried(talk, one))
    ceased = one.negated and any(kind & Tag.FAULT for kind in tags(talk)[one.start : one.stop])
    plain = one.rule in PLAIN and not ceased
    return bool(now) or (one.start > last and (not plain or _concerns(talk, one)))


def _timed(talk: Talk, one: Seen) -> bool:
    """Tell "no drop under the heads after an hour of running", which a time proves."""
    said = words(talk)[one.clause.start : one.clause.stop]
    return "after" in said and bool(TIMES & set(said))


def _ended_trial(talk: Talk, one: Seen) -> bool:
    """Tell "six stops from seventy, forks dry after", told in the breath of the trial."""
    said = talk.utterance(one.clause.utterance)
    tried = cues(talk, "verifications.tried", said.start, one.clause.start)
    return bool(tried) and not one.what.name.startswith(("left ", "right "))


def _tried(talk: Talk, one: Seen) -> bool:
    """Tell whether the machine was tried in the same breath or the one before."""
    first = talk.starts[max(one.clause.utterance - 1, 0)]
    return bool(cues(talk, "verifications.tried", first, one.clause.stop))


def _worn(talk: Talk, one: Seen) -> bool:
    """Tell "not cracked", which was looked for, from "not leaking", which was cured."""
    word = words(talk)[one.stop - 1]
    return bool(tags(talk)[one.stop - 1] & Tag.STATE) and not word.endswith("ing")


@once_a_talk
def _faulty(talk: Talk) -> frozenset[int]:
    """Return the utterances in which something is told to be wrong."""
    return frozenset(one.clause.utterance for one in seen(talk) if not one.good)


@once_a_talk
def _at_issue(talk: Talk) -> frozenset[str]:
    """Return the heads of what was worked on, was bad, or was named at the outset."""
    worked = {step.object.name.split()[-1] for step in steps_in_order(talk)}
    bad = {one.what.name.split()[-1] for one in seen(talk) if not one.good}
    opening = words(talk)[: talk.utterance(0).end]
    return frozenset(map(singular_of, {*worked, *bad, *opening}))


def _concerns(talk: Talk, one: Seen) -> bool:
    return singular_of(one.what.name.split()[-1]) in _at_issue(talk)


def _looked_at(talk: Talk, one: Seen) -> bool:
    """Tell "checked the air filter, it's serviceable", a finding whenever it is said."""
    start = talk.starts[one.clause.utterance]
    place = bisect_left(step_starts(talk), start)
    near = steps_in_order(talk)[place : bisect_left(step_starts(talk), one.start)]
    return bool(near) and near[-1].verb in ("check", "inspect")

"""The states things were found in: said of them, denied, by pronoun, or "the same" as before."""

from dataclasses import replace

from jobnotes.extract.modality import tokens_of, withdrawn_tokens
from jobnotes.extract.proofs import is_proof
from jobnotes.extract.said import Seen
from jobnotes.extract.seen import seen
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words
from jobnotes.record import AnyFact, Finding, Reading

JUDGED = group("seen", "judged")
SHORT = 4  # tokens of a judgement: "that's high"
CONFIDENCE = {
    "findings.unlisted": 0.6,
    "findings.there": 0.8,
    "findings.described": 0.8,
}  # others 0.9


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the findings; a state that proves the repair is left to the verifications."""
    withdrawn = withdrawn_tokens(talk, facts)
    told: dict[tuple[str, str], list[Seen]] = {}
    measured = _readings(talk, facts)
    for one in (_judged(talk, one, measured) for one in seen(talk)):
        if not is_proof(talk, one) and not withdrawn.issuperset(range(one.start, one.stop)):
            told.setdefault((one.what.name, one.state), []).append(one)
    return tuple(_finding(talk, same) for same in told.values())


def _readings(talk: Talk, facts: tuple[AnyFact, ...]) -> list[tuple[int, int, Reading]]:
    """Return the readings in order with the tokens they were said in."""
    read = [(*tokens_of(talk, fact), fact) for fact in facts if isinstance(fact, Reading)]
    return sorted(read, key=lambda one: one[0])


def _judged(talk: Talk, one: Seen, measured: list[tuple[int, int, Reading]]) -> Seen:
    """Say "so that's fine" of what was measured just before, not of the part named last."""
    start = one.clause.start
    short = one.stop - one.start <= SHORT and bool(set(words(talk)[one.start : one.stop]) & JUDGED)
    if words(talk)[start] not in ("it", "that", "they", "those") or not short:
        return one
    said = [m for m in measured if m[1] <= start + 1 and m[0] > one.what.start]
    if not said or one.clause.utterance - talk.utterance_of[said[-1][0]] > 1:
        return one
    begin, stop, reading = said[-1]
    name = " ".join(filter(None, (reading.where, reading.what)))
    return replace(one, what=replace(one.what, start=begin, stop=stop, name=name))


def _finding(talk: Talk, same: list[Seen]) -> Finding:
    """Put together what was said of one thing in the same words; each time is an evidence."""
    one = same[0]
    return Finding(
        what=one.what.name,
        state_found=one.state,
        where=one.what.where,
        negated=one.negated,
        evidence=tuple(talk.evidence(again.start, again.stop) for again in same),
        rule=one.rule,
        confidence=CONFIDENCE.get(one.rule, 0.9),
    )

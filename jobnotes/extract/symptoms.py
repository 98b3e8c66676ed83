"""Complaints that the technician saw for himself, or could not bring about."""

from collections.abc import Iterator

from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import cues
from jobnotes.extract.modality import withdrawn_tokens
from jobnotes.extract.private import private_utterances
from jobnotes.extract.talk import Talk
from jobnotes.record import AnyFact, Symptom


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return what was and was not reproduced, at most one an utterance, in the speaker's words."""
    withdrawn = withdrawn_tokens(talk, facts)
    hidden = private_utterances(talk)
    numbers = (n for n in range(len(talk.starts)) if n not in hidden)
    return tuple(symptom for n in numbers for symptom in _in_utterance(talk, n, withdrawn))


def _in_utterance(talk: Talk, number: int, withdrawn: frozenset[int]) -> Iterator[Symptom]:
    said = talk.utterance(number)
    if said.start in complaint_tokens(talk) or withdrawn.issuperset(range(said.start, said.end)):
        return
    for rule, reproduced in (("not_reproduced", False), ("reproduced", True)):
        if cues(talk, f"symptoms.{rule}", said.start, said.end):
            yield Symptom(
                text=talk.text(said.start, said.end).strip(" ,.;:"),
                reproduced=reproduced,
                evidence=(talk.evidence(said.start, said.end),),
                rule=f"symptoms.{rule}",
            )
            return

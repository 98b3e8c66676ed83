"""Choices made in the job, by the technician ("went with X because ...") or the customer."""

from collections.abc import Iterator

from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import Cue, cues
from jobnotes.extract.modality import withdrawn_tokens
from jobnotes.extract.private import private_utterances
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import words
from jobnotes.record import AnyFact, Decision


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the decisions, at most one an utterance."""
    withdrawn = withdrawn_tokens(talk, facts)
    return tuple(
        decision
        for number in range(len(talk.starts))
        if number not in private_utterances(talk)
        for decision in _in_utterance(talk, number, withdrawn)
    )


def _in_utterance(talk: Talk, number: int, withdrawn: frozenset[int]) -> Iterator[Decision]:
    said = talk.utterance(number)
    if said.start in complaint_tokens(talk) or withdrawn.issuperset(range(said.start, said.end)):
        return
    for rule in ("chose", "they_chose", "worth", "over"):
        for cue in cues(talk, f"decisions.{rule}", said.start, said.end)[:1]:
            if rule == "over" and not _is_choice(talk, cue):
                continue
            yield _decision(talk, cue, said.start, said.end)
            return


def _is_choice(talk: Talk, cue: Cue) -> bool:
    return words(talk)[cue.start] in ("instead", "rather")


def _decision(talk: Talk, cue: Cue, start: int, stop: int) -> Decision:
    """Cut an utterance into the choice, what it was preferred to, and the reason."""
    name = cue.rule.split(".")[1]
    begin = cue.stop if name == "chose" and cue.stop < stop else start
    reason = next(iter(cues(talk, "decisions.because", max(cue.stop, begin), stop)), None)
    over = next(iter(cues(talk, "decisions.over", max(begin - 2, start), stop)), None)
    ends = [c.start for c in (reason, over) if c and c.start > begin]
    chosen = talk.text(begin, min([*ends, stop])) if min([*ends, stop]) > begin else ""
    return Decision(
        chosen=chosen.strip(" ,.;:"),
        alternatives=_other(talk, over, reason, stop),
        because=_reason(talk, cue, reason, start, stop),
        evidence=(talk.evidence(start, stop),),
        rule=cue.rule,
    )


def _other(talk: Talk, over: Cue | None, reason: Cue | None, stop: int) -> tuple[str, ...]:
    if over is None or over.stop >= stop:
        return ()
    end = reason.start if reason and reason.start > over.stop else stop
    return (talk.text(over.stop, end).strip(" ,.;:"),)


def _reason(talk: Talk, cue: Cue, reason: Cue | None, start: int, stop: int) -> str:
    if reason and reason.stop < stop:
        return talk.text(reason.stop, stop).strip(" ,.;:")
    return talk.text(cue.start, cue.stop).strip(" ,.;:") if cue.rule == "decisions.worth" else ""

"""Tests: how, under which condition, what should have come, what came, what it means."""

from collections.abc import Iterator

from jobnotes.extract.clauses import Clause, clauses
from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import cues
from jobnotes.extract.modality import in_section, is_private, withdrawn_tokens
from jobnotes.extract.steps import steps
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.record import AnyFact, Evidence, Test

AFTER = 2  # utterances after a test in which what should have come, or what it means, may be said
ELSEWHERE = ("complaint", "recommendations", "private", "labour", "parts")


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the tests told as done, at most one an utterance."""
    withdrawn = withdrawn_tokens(talk, facts)
    return tuple(
        _test(talk, clause, rule)
        for clause, rule in _told(talk)
        if not withdrawn.issuperset(range(clause.start, clause.stop))
    )


def _told(talk: Talk) -> Iterator[tuple[Clause, str]]:
    taken = -1
    for clause in clauses(talk):
        rule = _rule(talk, clause) if clause.utterance > taken else ""
        if rule:
            yield clause, rule
            taken = clause.utterance


def _rule(talk: Talk, clause: Clause) -> str:
    if is_private(talk, clause) or in_section(talk, clause, *ELSEWHERE):
        return ""
    if clause.start in complaint_tokens(talk) or cues(
        talk, "recommendations.tells", clause.start, clause.stop
    ):
        return ""
    stop = talk.utterance(clause.utterance).end
    if cues(talk, "tests_done.swapped", clause.start, clause.stop) and cues(
        talk, "tests_done.followed", clause.start, stop
    ):
        return "tests_done.swapped"
    if cues(talk, "tests_done.named", clause.start, clause.stop):
        return "tests_done.named"
    return "tests_done.done" if clause.start in _tested(talk) else ""


@once_a_talk
def _tested(talk: Talk) -> frozenset[int]:
    """Return the starts of the clauses in which a step of testing is told."""
    tested = sorted(s.start for s in steps(talk) if s.verb in rules("tests_done")["verbs"].split())
    found = set()
    for clause in clauses(talk):
        while tested and tested[0] < clause.start:
            tested.pop(0)
        if tested and tested[0] < clause.stop:
            found.add(clause.start)
    return frozenset(found)


def _test(talk: Talk, clause: Clause, rule: str) -> Test:
    """Put together what the utterance and the next ones say of a test."""
    stop = talk.utterance(clause.utterance).end
    observed = talk.text(clause.stop + 1, stop).strip(" ,.;:") if clause.stop + 1 < stop else ""
    concluded = _conclusion(talk, clause, stop)
    if concluded and observed.endswith(concluded):
        observed = observed.removesuffix(concluded).strip(" ,.;:")
    evidence = [talk.evidence(clause.start, stop)]
    expected, where = _expected(talk, clause.utterance)
    return Test(
        method=talk.text(clause.start, clause.stop).strip(" ,.;:"),
        condition=_condition(talk, clause),
        expected=expected,
        observed=observed,
        conclusion=concluded,
        evidence=(*evidence, *where),
        rule=rule,
    )


def _condition(talk: Talk, clause: Clause) -> str:
    for cue in cues(talk, "tests_done.condition", clause.start + 1, clause.stop):
        return talk.text(cue.start, clause.stop).strip(" ,.;:")
    return ""


def _expected(talk: Talk, number: int) -> tuple[str, list[Evidence]]:
    """Return what the next utterances say should have come."""
    for later in range(number + 1, min(number + 1 + AFTER, len(talk.starts))):
        said = talk.utterance(later)
        if cues(talk, "tests_done.expected", said.start, said.end):
            return talk.text(said.start, said.end).strip(" ,.;:"), [
                talk.evidence(said.start, said.end)
            ]
    return "", []


def _conclusion(talk: Talk, clause: Clause, stop: int) -> str:
    """Return what it means: a clause led in by "so", or that the fault followed."""
    texts = words(talk)
    for cue in (
        *cues(talk, "tests_done.followed", clause.stop, stop),
        *cues(talk, "tests_done.concludes", clause.stop, stop),
    ):
        if cue.start > clause.stop - 1 and (
            texts[cue.start - 1] == "," or texts[cue.start] == "so" or cue.rule.endswith("followed")
        ):
            return talk.text(cue.start, stop).strip(" ,.;:")
    return ""

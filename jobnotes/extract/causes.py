"""Why the machine failed, in the speaker's own words."""

from collections.abc import Iterator

from jobnotes.extract.clauses import ENDS, Clause, clauses
from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import in_section, is_private, withdrawn_tokens
from jobnotes.extract.recommendations import advised_tokens
from jobnotes.extract.sections import sections
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words
from jobnotes.record import AnyFact, Cause

POINTING = group("causes", "pointing")
LEAST = 2  # words; less than this after a cue names no cause
ELSEWHERE = ("complaint", "recommendations", "private", "labour", "parts", "cause")


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return each cause that is named as such."""
    withdrawn = withdrawn_tokens(talk, facts)
    found = [*_headed(talk), *_told(talk)]
    return tuple(
        Cause(
            text=talk.text(start, stop).strip(" ,.;:"),
            evidence=(talk.evidence(start, stop),),
            rule=rule,
        )
        for start, stop, rule in found
        if not withdrawn.issuperset(range(start, stop))
    )


def _headed(talk: Talk) -> Iterator[tuple[int, int, str]]:
    for section in sections(talk):
        if section.role == "cause" and section.start < section.stop:
            yield section.start, section.stop, "sections.cause"


def _told(talk: Talk) -> Iterator[tuple[int, int, str]]:
    taken = -1
    for clause in clauses(talk):
        found = _in_clause(talk, clause) if _may_tell(talk, clause) else None
        if found and found[0] >= taken:
            yield found
            taken = found[1]


def _may_tell(talk: Talk, clause: Clause) -> bool:
    if is_private(talk, clause) or in_section(talk, clause, *ELSEWHERE):
        return False
    said = complaint_tokens(talk)
    if clause.start in said or clause.stop - 1 in said:
        return False
    return clause.start not in advised_tokens(talk)


def _in_clause(talk: Talk, clause: Clause) -> tuple[int, int, str] | None:
    """Read a cause after its cue, before it ("..., that's what killed it"), or after "so"."""
    before = max(clause.start - 1, talk.starts[clause.utterance])
    for cue in cues(talk, "causes.points_back", before, clause.stop):
        return _pointed(talk, clause, cue.start, cue.rule)
    for cue in cues(talk, "causes.leads", clause.start, clause.stop):
        if clause.stop - cue.stop >= LEAST and not _is_figure(talk, cue.stop):
            return cue.stop, _sentence_stop(talk, clause), cue.rule
    chosen = cues(talk, "decisions.chose", talk.starts[clause.utterance], clause.start)
    if (
        not chosen
        and clause.link in ("because", "cause", "cuz")
        and clause.stop - clause.start >= LEAST
    ):
        return clause.start, clause.stop, "causes.because"
    so = cues(talk, "causes.so", before, clause.stop)
    wrong = any(
        kind & (Tag.FAULT | Tag.STATE) and not kind & Tag.GOOD
        for kind in tags(talk)[clause.start : clause.stop]
    )
    if so and wrong and not cues(talk, "causes.not_cause", before, clause.stop):
        return talk.starts[clause.utterance], clause.stop, "causes.so"
    return None


def _sentence_stop(talk: Talk, clause: Clause) -> int:
    """Return where the sentence of a clause ends, with its "when it gets hot"."""
    end = talk.utterance(clause.utterance).end
    return next((n for n in range(clause.stop, end) if words(talk)[n] in ENDS), end)


def _is_figure(talk: Talk, token: int) -> bool:
    """Tell "down to four psi" from a cause."""
    return bool(tags(talk)[token] & Tag.NUMBER)


def _pointed(talk: Talk, clause: Clause, cue: int, rule: str) -> tuple[int, int, str]:
    """Take the statement that "that's what killed it" points back to, with the words that do so."""
    start = talk.starts[clause.utterance]
    pointing = cue == start or words(talk)[start] in POINTING
    if cue - start < LEAST and pointing and clause.utterance:
        start = talk.starts[clause.utterance - 1]
    return start, clause.stop, rule

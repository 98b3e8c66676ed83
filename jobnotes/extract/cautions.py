"""Dangers that the speaker warns of."""

from collections.abc import Iterator

from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import cues
from jobnotes.extract.modality import withdrawn_tokens
from jobnotes.extract.private import private_utterances
from jobnotes.extract.sections import sections
from jobnotes.extract.talk import Talk
from jobnotes.record import AnyFact, Caution


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return each warning with the utterance it stands in; advice and warning may share words."""
    withdrawn = withdrawn_tokens(talk, facts)
    return tuple(
        Caution(
            text=talk.text(start, stop).strip(" ,.;:"),
            evidence=(talk.evidence(start, stop),),
            rule=rule,
        )
        for start, stop, rule in _stretches(talk)
        if not withdrawn.issuperset(range(start, stop))
    )


def _stretches(talk: Talk) -> Iterator[tuple[int, int, str]]:
    headed = [s for s in sections(talk) if s.role == "caution" and s.start < s.stop]
    yield from ((s.start, s.stop, "sections.caution") for s in headed)
    for number in range(len(talk.starts)):
        said = talk.utterance(number)
        if number in private_utterances(talk) or said.start in complaint_tokens(talk):
            continue
        if any(s.start < said.end and s.stop > said.start for s in headed):
            continue
        if cues(talk, "cautions.warns", said.start, said.end):
            yield said.start, said.end, "cautions.warns"

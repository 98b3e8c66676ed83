"""All steps of work in a talk, in order, and where the repair begins and ends."""

from bisect import bisect_left
from collections.abc import Iterator
from functools import cache

from jobnotes.extract.bathed import bathed
from jobnotes.extract.clauses import Clause, clauses
from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.fills import fills
from jobnotes.extract.inverted import inverted
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.listed import listed
from jobnotes.extract.modality import in_section, is_private
from jobnotes.extract.placed import given, placed, spread
from jobnotes.extract.renewed import with_new
from jobnotes.extract.settings import settings
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules
from jobnotes.extract.worked import Done, worked

POURED = ("fill", "top up", "change")
ELSEWHERE = ("complaint", "recommendations", "private", "cause", "caution")


@once_a_talk
def steps(talk: Talk) -> tuple[Done, ...]:
    """Return every step of work that was told as done."""
    return tuple(_steps(talk))


def _steps(talk: Talk) -> Iterator[Done]:
    last: Done | None = None
    for clause in clauses(talk):
        if not _tells_work(talk, clause):
            continue
        found = (
            list(settings(talk, clause))
            or [*worked(talk, clause), *given(talk, clause)]
            or list(_told_aside(talk, clause, last))
            or list(placed(talk, clause))
            or list(listed(talk, clause, last))
        )
        yield from found
        yield from spread(talk, clause, found)
        yield from with_new(talk, clause) if found else ()
        last = found[-1] if found else last


def _told_aside(talk: Talk, clause: Clause, last: Done | None) -> list[Done]:
    """Return the steps told without a plain verb of work: by particle, by bath, by amount."""
    poured = last is not None and last.verb in POURED and _just_before(talk, last, clause)
    return (
        list(inverted(talk, clause))
        or list(bathed(talk, clause))
        or ([] if poured else list(fills(talk, clause)))
    )


def _just_before(talk: Talk, step: Done, clause: Clause) -> bool:
    return clause.utterance - talk.utterance_of[step.start] <= 1


def _tells_work(talk: Talk, clause: Clause) -> bool:
    if is_private(talk, clause) or in_section(talk, clause, *ELSEWHERE):
        return False
    opening = tags(talk)[clause.start : min(clause.start + 2, clause.stop)]
    photo = any(kind & Tag.PHOTO for kind in opening)
    return not photo and clause.start not in complaint_tokens(talk)


@once_a_talk
def steps_in_order(talk: Talk) -> tuple[Done, ...]:
    """Return the steps by their first tokens."""
    return tuple(sorted(steps(talk), key=lambda step: step.start))


@once_a_talk
def step_starts(talk: Talk) -> tuple[int, ...]:
    """Return the first token of each step, in order."""
    return tuple(step.start for step in steps_in_order(talk))


def holds_step(talk: Talk, clause: Clause) -> bool:
    """Tell whether a step begins within a clause."""
    place = bisect_left(step_starts(talk), clause.start)
    return place < len(step_starts(talk)) and step_starts(talk)[place] < clause.stop


@once_a_talk
def repair_span(talk: Talk) -> tuple[int, int]:
    """Return the first tokens of the first and of the last step that mends something."""
    mends = [step.start for step in steps(talk) if step.verb in _repairs()]
    return (min(mends), max(mends)) if mends else (len(talk.doc), len(talk.doc))


@cache
def _repairs() -> frozenset[str]:
    return frozenset([*rules("actions")["repairs"]["words"].split(), "top up"])

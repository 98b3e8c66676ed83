"""What was understood, large enough to be checked from an arm's length, and as it is read back."""

from collections.abc import Sequence
from dataclasses import dataclass

from jobnotes.numbers.units import spoken_name
from jobnotes.record import (
    AnyFact,
    Flag,
    Job,
    Labour,
    Part,
    Private,
    Reading,
    Spec,
    State,
    Withdrawn,
)
from jobnotes.report.figures import labour_time, number, reading_figure, spec_figure
from jobnotes.speech.engine import NOT_CHECKED
from jobnotes.web.shown import limits
from jobnotes.web.words import in_english

QUALITY = "photos"  # who raises what is wrong with the picture itself


@dataclass(frozen=True)
class Card:
    """One thing understood: what it is of, its figure, both as they are spoken, and its doubts.

    `key` changes whenever what is shown changes; `quiet` is not a figure that counts; `checked`
    that it was heard in the whole recording, not only while it was spoken.
    """

    key: str
    title: str
    figure: str
    aloud: str
    doubts: tuple[Flag, ...] = ()
    quiet: bool = False
    checked: bool = True


def cards(job: Job) -> tuple[Card, ...]:
    """Return what a technician should check at once, the newest first."""
    kept = (fact for fact in job.facts if fact.state is not State.REJECTED)
    return tuple(card for fact in sorted(kept, key=_when, reverse=True) if (card := _card(fact)))


def _when(fact: AnyFact) -> tuple[int, float]:
    """Order recordings by their number, the one being spoken last, and facts by their seconds."""
    if not fact.evidence:
        return (0, 0.0)
    last = fact.evidence[-1]
    told = last.recording.removeprefix("r")
    return (int(told) if told.isdigit() else 1_000_000, last.start_s)


def _card(fact: AnyFact) -> Card | None:
    match fact:
        case Reading():
            title = _joined(fact.what, fact.where, fact.when, fact.phase)
            told = f"{number(fact.value, fact.as_said)} {spoken_name(fact.unit)}"
            return _made(fact, title, reading_figure(fact), told)
        case Spec():
            title = _joined(f"limit, {fact.what}", fact.where)
            told = f"{limits(fact, in_english)} {spoken_name(fact.unit)}"
            return _made(fact, title, spec_figure(fact), told)
        case Part() if fact.number or fact.status != "mentioned":
            title = _joined(f"part {fact.status}", fact.name if fact.number else "")
            return _made(fact, title, fact.number or fact.name, _spelled(fact.number) or fact.name)
        case Labour():
            return _made(fact, "labour", labour_time(fact), f"{number(fact.minutes)} minutes")
        case Private():
            return _made(fact, "private, stays in the office", fact.text, "", quiet=True)
        case Withdrawn():
            return _made(fact, "taken back", fact.text, "", quiet=True)
        case _:
            return None


def _made(fact: AnyFact, title: str, figure: str, told: str, *, quiet: bool = False) -> Card:
    doubts = tuple(flag for flag in fact.open_flags if flag.code != NOT_CHECKED.code)
    aloud = f"{title}: {told}" if told else ""
    if doubts and aloud:
        aloud += ". In doubt, please say it again."
    checked = len(doubts) == len(fact.open_flags)
    return Card(f"{fact.id} {figure}", title, figure, aloud, doubts, quiet, checked)


def _spelled(part_number: str) -> str:
    """Return a part number letter by letter, as one reads it out to somebody who writes."""
    return " ".join(part_number)


def _joined(*texts: str) -> str:
    return ", ".join(filter(None, texts))


def photo_doubts(job: Job) -> Sequence[tuple[int, str]]:
    """Return the number of each photo that should be taken again while there is time, and why."""
    return [
        (n, flag.why)
        for n, photo in enumerate(job.photos, 1)
        for flag in photo.flags
        if flag.open and flag.by == QUALITY
    ]

"""Photos in the story: beside the sentence they show, captioned, before beside after."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from jobnotes.checks.names import key_words
from jobnotes.record import AnyFact, Job, Photo
from jobnotes.report.gate import own_words
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.lists import listed
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.quoting import plain
from jobnotes.report.languages.tongue import Tongue
from jobnotes.report.spans import breaths, overlaps
from jobnotes.report.story import Picture, Sentence

Phase = Literal["", "before", "after"]
# A caption stays with its photo on one page; what is longer is no caption.
LONGEST = 300
MARKS = ("circle", "arrow", "box")
PHASES: tuple[Phase, ...] = ("before", "after")


@dataclass(frozen=True)
class Album:
    """The photos of a story: those that show a fact, by the fact's id, and the rest."""

    of: Mapping[str, tuple[Picture, ...]]
    rest: tuple[Picture, ...]


def album(
    job: Job, printed: Sequence[AnyFact], photos: Sequence[Photo], tongue: Tongue = ENGLISH
) -> Album:
    """Share out the photos to the facts, numbered as they are met in printed order."""
    shown = _paired({photo.id: _fact_shown(job, printed, photo) for photo in photos}, photos)
    names = [*(fact.id for fact in printed), ""]
    groups = [(name, _side_by_side([p for p in photos if shown[p.id] == name])) for name in names]
    numbered = {p.id: n for n, p in enumerate((p for _, group in groups for p in group), start=1)}
    machine = job.machine.description
    pictures = {
        name: tuple(picture(photo, numbered[photo.id], machine, tongue) for photo in group)
        for name, group in groups
    }
    rest = pictures.pop("")
    return Album(pictures, rest)


def _paired(shown: dict[str, str], photos: Sequence[Photo]) -> dict[str, str]:
    """Bring each "before" to its "after", which shows the work done."""
    moved = dict(shown)
    for one in photos:
        after = next((photo for photo in photos if _is_pair(one, photo)), None)
        if after is not None and _phase(one) == "before":
            moved[one.id] = shown[after.id] or shown[one.id]
            moved[after.id] = moved[one.id]
    return moved


def _fact_shown(job: Job, facts: Sequence[AnyFact], photo: Photo) -> str:
    """Return the id of the fact that a photo shows best, or nothing."""
    best = max(facts, key=lambda fact: _closeness(job, fact, photo), default=None)
    return best.id if best is not None and _closeness(job, best, photo) else ""


def _closeness(job: Job, fact: AnyFact, photo: Photo) -> float:
    """Rate the same words above the same subject within one breath; 0 is unrelated."""
    caption = key_words(photo.caption)
    shared = len(caption & key_words(own_words(fact))) / len(caption) if caption else 0.0
    if overlaps(fact.evidence, photo.evidence):
        return 2 + shared
    if shared < 0.5:
        return 0.0
    gaps = [abs(a - b) for a in breaths(job, fact.evidence) for b in breaths(job, photo.evidence)]
    return 1 + shared if gaps and min(gaps) <= 1 else 0.0


def picture(photo: Photo, number: int, machine: str = "", tongue: Tongue = ENGLISH) -> Picture:
    """Return a photo under its number in the report, with a caption where there is one."""
    caption = tongue.sentence(tongue.words(_short(photo.caption)))
    message = "photo" if caption else "photo-bare"
    text = say(tongue.code, message, number=f"{number}", caption=caption)
    alt = plain(_alt(photo, number, machine, tongue))
    return Picture(number, photo, Sentence(text, (photo.id,)), alt, _phase(photo))


def _alt(photo: Photo, number: int, machine: str, tongue: Tongue) -> str:
    """Say what a photo shows, as far as anybody has said it, and how it is marked."""
    caption, on = tongue.words(_short(photo.caption)).rstrip("."), tongue.the(machine)
    message = "photo-shows" if caption else "photo-of-machine" if on else "photo-of-work"
    shows = say(tongue.code, message, number=f"{number}", caption=caption, machine=on)
    shapes = dict.fromkeys(mark.shape for mark in photo.marks if mark.shape in MARKS)
    names = [say(tongue.code, f"mark-{shape}") for shape in shapes]
    if not names:
        return shows
    return say(tongue.code, "photo-marked", photo=shows, marks=listed(names, tongue.code))


def _short(caption: str) -> str:
    return caption if len(caption) <= LONGEST else f"{caption[:LONGEST].rstrip()}…"


def _phase(photo: Photo) -> Phase:
    words = photo.caption.lower().split()
    return next((phase for phase in PHASES if phase in words), "")


def _side_by_side(photos: Sequence[Photo]) -> tuple[Photo, ...]:
    """Put each "after" right behind the "before" of the same thing."""
    rest, placed = list(photos), []
    while rest:
        first = rest.pop(0)
        placed.append(first)
        other = next((photo for photo in rest if _is_pair(first, photo)), None)
        if other is not None:
            rest.remove(other)
            placed.append(other)
    return tuple(placed)


def _is_pair(one: Photo, other: Photo) -> bool:
    if {_phase(one), _phase(other)} != set(PHASES):
        return False
    left, right = (key_words(photo.caption) - set(PHASES) for photo in (one, other))
    return not left or not right or bool(left & right)

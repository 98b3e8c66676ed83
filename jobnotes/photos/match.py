"""The stage that places photos beside what was said, by time and by words."""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from jobnotes.extract.private import private_utterances
from jobnotes.photos.captions import Said, named_before
from jobnotes.photos.clocks import pairs
from jobnotes.photos.likeness import are_alike
from jobnotes.photos.rules import section
from jobnotes.photos.scene import Scene, scene_of
from jobnotes.record import Evidence, Flag, Job, Photo

STAGE = "place"

_WHY = {
    "by-time": "Nothing was said of this photo itself; it stands where it was taken.",
    "by-order": "This photo was matched to a spoken mark by its place in the row only.",
    "clock": "The camera's clock could not be reconciled with the recording's.",
    "not-placed": "Nothing that was said belongs to this photo.",
    "private": "This photo was taken during a private remark.",
    "alike": "This photo is much like an earlier one: show the better of the two.",
}


How = Literal["", "time", "words", "time and words"]


class Place(NamedTuple):
    """Where a photo belongs, how that is known, and what must be looked at."""

    caption: str = ""
    evidence: tuple[Evidence, ...] = ()
    how: How = ""
    doubts: tuple[str, ...] = ()


def place(job: Job) -> Job:
    """Give each photo its place and caption, instead of those proposed before.

    A photo that a person has placed stays as it is; flags that a person has settled stay settled
    while the photo's place stays the same. Originals are not opened.
    """
    if not job.photos:
        return job
    scene = scene_of(job)
    by_mark = _by_mark(scene)
    places = {**_by_order(job, scene, by_mark), **{n: p for n, (_, p) in by_mark.items()}}
    photos = tuple(
        photo if photo.matched_by == "person" else _placed(photo, places.get(n) or _alone(scene, n))
        for n, photo in enumerate(job.photos)
    )
    return job.having(photos=_with_doubles(photos), camera_ahead_s=scene.offset)


def _with_doubles(photos: Sequence[Photo]) -> tuple[Photo, ...]:
    """Flag each photo that is much like an earlier one of those that are shown."""
    shown = [photo for photo in photos if photo.included]
    doubles = {
        photo.id
        for n, photo in enumerate(shown)
        if any(are_alike(photo.likeness, earlier.likeness) for earlier in shown[:n])
    }
    return tuple(_double(photo) if photo.id in doubles else photo for photo in photos)


def _double(photo: Photo) -> Photo:
    if any(flag.code == "alike" for flag in photo.flags):
        return photo
    doubt = Flag(by="photos", code="alike", why=_WHY["alike"])
    return photo.having(flags=(*photo.flags, doubt))


def _by_mark(scene: Scene) -> dict[int, tuple[int, Place]]:
    """Place the photos that were taken when a mark was spoken; give the mark, too."""
    if scene.offset is None:
        return {}
    photos = sorted(scene.photo_s, key=scene.photo_s.__getitem__)
    marks = sorted(scene.mark_s, key=scene.mark_s.__getitem__)
    photo_times = [scene.photo_s[photo] for photo in photos]
    mark_times = [scene.mark_s[mark] for mark in marks]
    found = pairs(photo_times, mark_times, section("clock")["reach_s"])
    return {
        photos[photo]: (marks[mark], _at_mark(scene, marks[mark], "time and words"))
        for photo, mark in found
    }


def _by_order(job: Job, scene: Scene, by_mark: dict[int, tuple[int, Place]]) -> dict[int, Place]:
    """Place the photos that no clock can place, if there are as many as marks of that kind."""
    no_clock = scene.offset is None
    used = {mark for mark, _ in by_mark.values()}
    photos = [n for n in _as_they_came(job) if no_clock or n not in scene.photo_s]
    marks = [n for n in range(len(scene.marks)) if no_clock or n not in scene.mark_s]
    marks = [n for n in marks if n not in used]
    if len(photos) != len(marks):
        return {}
    if no_clock and len(scene.photo_s) == len(photos):
        photos.sort(key=scene.photo_s.__getitem__)
    return {
        photo: _at_mark(scene, mark, "words", ("by-order",))
        for photo, mark in zip(photos, marks, strict=True)
    }


def _as_they_came(job: Job) -> list[int]:
    """Return the places of the photos in the order they came, whatever order the office gave."""
    ids = [photo.id for photo in job.photos]
    return sorted(range(len(ids)), key=lambda n: (len(ids[n]), ids[n]))


def _alone(scene: Scene, photo: int) -> Place:
    """Place a photo without a mark beside what was said when it was taken."""
    if scene.offset is None and scene.mark_s and photo in scene.photo_s:
        return Place(doubts=("clock",))
    number = _spoken_at(scene, scene.photo_s[photo]) if photo in scene.photo_s else None
    if number is None:
        return Place(doubts=("not-placed",))
    span = scene.talk.utterance(number)
    evidence = scene.talk.evidence(span.start, span.end)
    if number in private_utterances(scene.talk):
        return Place("", (evidence,), "time", ("private",))
    said = named_before(scene.talk, span.end, number) or Said("")
    return Place(said.caption, (evidence, *said.evidence), "time", ("by-time",))


def _spoken_at(scene: Scene, moment: float) -> int | None:
    """Return the utterance nearest to a moment, if one is near enough."""
    apart = {
        number: max(start - moment, moment - end, 0.0)
        for number, (start, end) in scene.speech_s.items()
    }
    nearest = min(apart, key=apart.__getitem__, default=None)
    reach = section("clock")["speech_reach_s"]
    return nearest if nearest is not None and apart[nearest] <= reach else None


def _at_mark(scene: Scene, mark: int, how: How, doubts: tuple[str, ...] = ()) -> Place:
    cue = scene.marks[mark]
    evidence = scene.talk.evidence(cue.start, cue.stop)
    if scene.talk.utterance_of[cue.start] in private_utterances(scene.talk):
        return Place("", (evidence,), how, (*doubts, "private"))
    said = cue.said or Said("")
    return Place(said.caption, (evidence, *said.evidence), how, doubts)


def _placed(photo: Photo, place: Place) -> Photo:
    before = (photo.caption, photo.evidence, photo.matched_by)
    settled = {f.code for f in photo.flags if f.by == STAGE and not f.open}
    if before != place[:3]:
        settled = set()
    others = [flag for flag in photo.flags if flag.by != STAGE]
    raised = [
        Flag(by=STAGE, code=code, why=_WHY[code], open=code not in settled) for code in place.doubts
    ]
    return photo.having(
        caption=place.caption,
        evidence=place.evidence,
        matched_by=place.how,
        confidence=section("confidence")[place.how] if place.how else 0.0,
        flags=(*others, *raised),
    )

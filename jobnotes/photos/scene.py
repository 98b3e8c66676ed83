"""When each photo and each spoken mark of a job happened, on one clock."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo

from jobnotes.extract.talk import Talk, talk_of
from jobnotes.photos.clocks import clock_offset
from jobnotes.photos.cues import Cue, cues
from jobnotes.record import Job


@dataclass(frozen=True)
class Scene:
    """The photos and marks of a job; times are seconds since 1970 by the recorder's clock.

    A photo or mark without a time is in neither map. `offset` is how far the camera is ahead in
    seconds, already taken off the photos' times; None where the marks do not tell.
    """

    talk: Talk
    marks: tuple[Cue, ...]
    photo_s: dict[int, float]
    mark_s: dict[int, float]
    speech_s: dict[int, tuple[float, float]]
    offset: float | None


def scene_of(job: Job) -> Scene:
    """Put the photos, the marks and the utterances of a job on one clock."""
    talk, zone = talk_of(job), _zone(job)
    marks = cues(talk)
    spoken = {
        recording.id: _seconds(recording.started_at, zone)
        for recording in job.recordings
        if recording.started_at and recording.format != "text"  # typed words have no seconds
    }
    photo_s = {n: _seconds(p.taken_at, zone) for n, p in enumerate(job.photos) if p.taken_at}
    mark_s = dict(_mark_times(talk, marks, spoken))
    offset = clock_offset(sorted(photo_s.values()), sorted(mark_s.values()))
    photo_s = {n: at - (offset or 0.0) for n, at in photo_s.items()}
    return Scene(talk, marks, photo_s, mark_s, dict(_speech_times(talk, spoken)), offset)


def _zone(job: Job) -> tzinfo:
    """Return the zone for times without one: that of the other photos, else of a recording."""
    moments = [photo.taken_at for photo in job.photos] + [r.started_at for r in job.recordings]
    zones = [moment.tzinfo for moment in moments if moment and moment.tzinfo]
    return zones[0] if zones else UTC


def _seconds(moment: datetime, zone: tzinfo) -> float:
    return (moment if moment.tzinfo else moment.replace(tzinfo=zone)).timestamp()


def _mark_times(
    talk: Talk, marks: tuple[Cue, ...], begins: dict[str, float]
) -> Iterator[tuple[int, float]]:
    for number, mark in enumerate(marks):
        word = talk.job.words[talk.word_of[mark.stop - 1]]
        if word.recording in begins:
            yield number, begins[word.recording] + word.end_s


def _speech_times(
    talk: Talk, begins: dict[str, float]
) -> Iterator[tuple[int, tuple[float, float]]]:
    for number in range(len(talk.starts)):
        span = talk.utterance(number)
        if not len(span):
            continue
        first, last = (talk.job.words[talk.word_of[at]] for at in (span.start, span.end - 1))
        if first.recording in begins:
            begin = begins[first.recording]
            yield number, (begin + first.start_s, begin + last.end_s)

"""What is left of a job when something of it is erased; the words of the record stay words."""

from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple

from jobnotes.record import Event, Evidence, Job, Private, Recording, Word

ERASED = "…"
"""Stands for each erased word, so that the numbers of the words after it stay right."""

_Spans = dict[str, set[int]]


class Erasing(NamedTuple):
    """Who has something erased, when, and why in a few words that name nobody."""

    who: str
    at: datetime
    why: str


def originals_of(job: Job) -> tuple[str, ...]:
    """Return the hashes of all files that belong to a job: sound, photos, issued reports."""
    sounds = [one.sha256 for one in job.recordings if one.sha256 and not one.erased_at]
    photos = [one.sha256 for one in job.photos]
    return tuple(dict.fromkeys([*sounds, *photos, *(one.sha256 for one in job.reports)]))


def emptied(job: Job, erasing: Erasing) -> Job:
    """Return what is left when a customer is erased: the job's number and start, and that note."""
    told = {
        "why": erasing.why,
        "recordings": len(job.recordings),
        "photos": len(job.photos),
        "reports": len(job.reports),
        "facts": len(job.facts),
    }
    note = Event(at=erasing.at, who=erasing.who, what="erased", subject=job.id, after=told)
    return Job(id=job.id, created_at=job.created_at, events=(note,))


def private_recordings(job: Job, before: datetime) -> tuple[Recording, ...]:
    """Return the recordings from before a time in which something private was said."""
    said = {one.recording for fact in _private(job) for one in fact.evidence}
    return tuple(
        recording
        for recording in job.recordings
        if recording.id in said and _time_of(recording, job) < before
    )


def without_private(job: Job, before: datetime, erasing: Erasing) -> Job:
    """Return a job without what was said in private before a time, and the sound it is in.

    Gone are the words of each private remark, all facts, captions and steps of review that rest on
    them, and the questions about these facts. Everything else stays, with its words.
    """
    old = {recording.id for recording in private_recordings(job, before)}
    spans = _spans(one for fact in _private(job) for one in fact.evidence if one.recording in old)
    gone = {fact.id for fact in job.facts if _rests_on(fact.evidence, spans)}
    notes = tuple(
        Event(
            at=erasing.at, who=erasing.who, what="erased", subject=one, after={"why": erasing.why}
        )
        for one in sorted(old)
    )
    return job.having(
        recordings=tuple(
            one.having(erased_at=erasing.at) if one.id in old else one for one in job.recordings
        ),
        words=tuple(_without(word, spans) for word in job.words),
        facts=tuple(fact for fact in job.facts if fact.id not in gone),
        photos=tuple(
            one.having(caption="", evidence=()) if _rests_on(one.evidence, spans) else one
            for one in job.photos
        ),
        questions=tuple(one for one in job.questions if not gone.intersection(one.about)),
        events=(*(one for one in job.events if one.subject not in gone), *notes),
    )


def _private(job: Job) -> list[Private]:
    return [fact for fact in job.facts if isinstance(fact, Private)]


def _time_of(recording: Recording, job: Job) -> datetime:
    """Return when a recording began, on the job's clock where its own has no zone."""
    began = recording.started_at or job.created_at
    return began if began.tzinfo else began.replace(tzinfo=job.created_at.tzinfo)


def _spans(evidence: Iterable[Evidence]) -> _Spans:
    spans: _Spans = {}
    for one in evidence:
        spans.setdefault(one.recording, set()).update(range(one.first, one.last + 1))
    return spans


def _rests_on(evidence: Iterable[Evidence], spans: _Spans) -> bool:
    return any(
        not spans.get(one.recording, set()).isdisjoint(range(one.first, one.last + 1))
        for one in evidence
    )


def _without(word: Word, spans: _Spans) -> Word:
    if word.index not in spans.get(word.recording, ()):
        return word
    return word.having(text=ERASED, meant="", flags=())

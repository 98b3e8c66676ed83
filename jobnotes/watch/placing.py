"""Which job a file belongs to, by when it was recorded or taken."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import NamedTuple

from jobnotes.record import Job

NEAR = timedelta(hours=1)  # before or after which work on a job may still be going on


class Span(NamedTuple):
    """A time of work, both ends with a zone."""

    start: datetime
    end: datetime


class Worked(NamedTuple):
    """A job and the times at which its work was going on; the first is when it was started."""

    job: str
    spans: tuple[Span, ...]


def worked_on(job: Job) -> Worked:
    """Return when a job was worked on: its start, its recordings, its photos.

    A time without a zone is taken as of this computer's zone.
    """
    recorded = (span(one.started_at, one.duration_s) for one in job.recordings if one.started_at)
    taken = (span(photo.taken_at) for photo in job.photos if photo.taken_at)
    return Worked(job.id, (span(job.created_at), *recorded, *taken))


def span(start: datetime, length_s: float = 0.0) -> Span:
    """Return the time from a start on."""
    zoned = start.astimezone()
    return Span(zoned, zoned + timedelta(seconds=length_s))


def belongs_to(when: Span, jobs: Iterable[Worked]) -> tuple[str, ...]:
    """Return the jobs that a file of some time may belong to; one, none or several.

    A job that was being recorded or photographed just then goes before all others; else it is any
    job that was worked on within `NEAR`.
    """
    apart = {job.job: min(_apart(when, one) for one in job.spans) for job in jobs}
    during = tuple(job for job, gap in apart.items() if not gap)
    return during or tuple(job for job, gap in apart.items() if gap <= NEAR)


def _apart(one: Span, other: Span) -> timedelta:
    return max(one.start - other.end, other.start - one.end, timedelta(0))

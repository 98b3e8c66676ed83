"""Taking one file of a watched folder into a job."""

from datetime import datetime
from functools import partial
from pathlib import Path

from jobnotes.desk import Desk
from jobnotes.intake.audio import probe
from jobnotes.intake.clock import stamp_in_name
from jobnotes.intake.sniff import photo_format
from jobnotes.intake.take_in import started_at, take_in
from jobnotes.photos.apart import look
from jobnotes.pipeline import to_run_again
from jobnotes.record import Flag, Job
from jobnotes.store.media import Media
from jobnotes.watch.placing import Span, span


def time_of(path: Path) -> Span:
    """Return when a photo was taken or a recording was made, by the best of what tells.

    A photo that tells nothing counts as taken when its file was last changed. Raises InputError.
    """
    if photo_format(path):
        taken = look(path, path.name).taken_at or stamp_in_name(path.name)
        return span(taken or datetime.fromtimestamp(path.stat().st_mtime))
    info = probe(path)
    return span(started_at(path, path.name, info), info.duration_s)


def take(desk: Desk, path: Path, job_id: str, when: Span) -> Job:
    """Take a file into a job, or, without one, into a new job that began with it; return the job.

    A recording that joins a job by its time alone is flagged, as nobody has said that it belongs
    there. Raises InputError, StoreError, and StaleJobError while somebody else changes the job.
    """
    if job_id:
        step = partial(_with_file, path=path, media=desk.media, flags=(_by_time(),))
        return desk.change(job_id, step)
    begun = _with_file(desk.blank(created_at=when.start), path, desk.media, ())
    return desk.store.create(begun).job


def _with_file(job: Job, path: Path, media: Media, flags: tuple[Flag, ...]) -> Job:
    taken = take_in(job, [path], media)
    if taken.refused:
        raise taken.refused[0]
    fresh = taken.job.recordings[len(job.recordings) :]
    flagged = tuple(one.having(flags=(*one.flags, *flags)) for one in fresh)
    return to_run_again(taken.job.having(recordings=(*job.recordings, *flagged)))


def _by_time() -> Flag:
    return Flag(
        by="watch",
        code="placed-by-time",
        why="This recording was put into the job by its time alone: see that it belongs here.",
    )

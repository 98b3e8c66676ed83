"""Making recordings of what waits in the spool folder."""

from collections.abc import Sequence

from jobnotes.errors import DictationError
from jobnotes.intake.take_in import take_in
from jobnotes.pipeline import noted
from jobnotes.record import Flag, Job, Recording
from jobnotes.spool.spool import Left
from jobnotes.store.media import Media

STEP = "listen"
_OPEN = "A dictation is going on, or has broken off and is not taken in yet."
_BY_ITSELF = "Once it has ended, any command on this computer takes it in by itself."


def begun(job: Job) -> Job:
    """Mark a job as incomplete while a dictation of it is not taken in."""
    return noted(job, STEP, DictationError(_OPEN, _BY_ITSELF))


def with_dictation(job: Job, files: Sequence[Left], media: Media) -> Job:
    """Return the job with the files of its dictation as recordings; originals are kept by hash.

    Taking the same files in again changes nothing, so a kill in between doubles nothing. A file
    that was not ended is flagged. Raises StoreError where an original cannot be kept, InputError.
    """
    sounding = [left for left in files if left.length_s]
    taken = take_in(job, [left.path for left in sounding], media)
    if taken.refused:
        raise taken.refused[0]
    broken = {left.path.name for left in sounding if not left.ended}
    recordings = tuple(_flagged(one, broken) for one in taken.job.recordings)
    if taken.job is not job:
        return job.having(recordings=recordings, stages=())
    return job.having(stages=tuple(run for run in job.stages if run.stage != STEP))


def _flagged(recording: Recording, broken: set[str]) -> Recording:
    if recording.name not in broken or any(f.code == _cut_off().code for f in recording.flags):
        return recording
    return recording.having(flags=(*recording.flags, _cut_off()))


def _cut_off() -> Flag:
    return Flag(
        by="live",
        code="dictation-broken-off",
        why="The dictation broke off at the end of this recording: up to two seconds more may"
        " have been spoken there.",
    )

"""Running the stages of one job and saving after each, also while others change the job."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import NamedTuple

from jobnotes import pipeline
from jobnotes.errors import JobnotesError, StaleJobError
from jobnotes.pipeline import Stage
from jobnotes.record import Job
from jobnotes.store.store import Guard, Kept, Store

_TRIES = 5  # somebody at the office who saves in between makes a step stale; it is taken again


class Saving(NamedTuple):
    """A store, and what must hold in the transaction of each save."""

    store: Store
    guard: Guard | None = None

    def step(self, kept: Kept, step: Callable[[Job], Job]) -> Kept:
        """Save what a step makes of a job; if it was changed meanwhile, take the step on that.

        Raises StaleJobError where that happens again and again.
        """
        for _ in range(_TRIES - 1):
            try:
                return self._step(kept, step)
            except StaleJobError:
                kept = self.store.load(kept.job.id)
        return self._step(kept, step)

    def _step(self, kept: Kept, step: Callable[[Job], Job]) -> Kept:
        changed = step(kept.job)
        if changed == kept.job:
            return kept
        return self.store.save(changed, kept.revision, self.guard)


def hear(saving: Saving, kept: Kept, hearing: Stage, again: bool) -> Kept:
    """Hear each recording that is still to be heard, and save its words before the next.

    A recording that cannot be heard does not stop the others; the stage is then noted as
    incomplete. Words that somebody else has saved meanwhile are left as they are.
    """
    from jobnotes.speech.transcribe import alone, unheard

    failed: JobnotesError | None = None
    for recording in unheard(kept.job, again):
        try:
            heard = hearing.run(alone(kept.job, recording))
        except JobnotesError as error:
            failed = failed or error
        else:
            kept = saving.step(kept, partial(_with_words, heard, again))
    return saving.step(kept, lambda job: pipeline.noted(job, hearing.name, failed))


def run_later(saving: Saving, kept: Kept, stages: Iterable[Stage]) -> Kept:
    """Run the stages that need the words only, one after another."""
    for stage in stages:
        kept = saving.step(kept, partial(_run_one, stage))
    return kept


def parts_of(job: Job, again: bool, progress: Callable[[float], None]) -> Callable[[float], None]:
    """Return what is told the part done of each recording in turn and tells that of all."""
    from jobnotes.speech.transcribe import unheard

    lengths = [recording.duration_s for recording in unheard(job, again)]
    at, last = 0, 0.0

    def tell(part: float) -> None:
        nonlocal at, last
        at += part <= last  # the next recording has begun
        last = part
        done = sum(lengths[:at]) + part * sum(lengths[at : at + 1])
        progress(min(1.0, done / (sum(lengths) or 1.0)))

    return tell


def _with_words(heard: Job, again: bool, job: Job) -> Job:
    from jobnotes.speech.transcribe import carried, unheard

    wanted = {recording.id for recording in unheard(job, again)}
    return carried(heard, job) if heard.recordings[0].id in wanted else job


def _run_one(stage: Stage, job: Job) -> Job:
    return pipeline.run(job, [stage])

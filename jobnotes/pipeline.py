"""The order of the stages, and what is said of a job when one of them does not finish."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

from jobnotes.errors import JobnotesError
from jobnotes.record import Job, Recording, StageRun

if TYPE_CHECKING:
    from jobnotes.checks.spec_book import BookedSpec
    from jobnotes.speech.engine import Recogniser

NAMES = ("transcribe", "extract", "place", "check")


@dataclass(frozen=True)
class Stage:
    """A named step `Job -> Job`; running it again replaces only what it proposed before."""

    name: str
    run: Callable[[Job], Job]


def hearing(
    audio_path: Callable[[Recording], Path],
    model: str,
    *,
    allow_hub: bool = False,
    hear_again: bool = False,
    progress: Callable[[float], None] | None = None,
    unfinished: Path | None = None,
) -> Stage:
    """Return the first stage, from sound to words; the model is loaded once, and only if needed.

    `unfinished` is a folder that keeps what was heard so far, for when the hearing is stopped.
    """
    hear = partial(
        _transcribe,
        audio_path=audio_path,
        recogniser=cache(partial(_loaded, model, allow_hub=allow_hub)),
        again=hear_again,
        progress=progress,
        unfinished=unfinished / quote(model, safe="") if unfinished else None,
    )
    return Stage("transcribe", hear)


def later_stages(book: Iterable["BookedSpec"] = ()) -> tuple[Stage, ...]:
    """Return the stages that need the words only; `book` are the shop's own specs."""
    from jobnotes.checks.stage import check
    from jobnotes.photos.match import place

    return (
        Stage("extract", extract),
        Stage("place", place),
        Stage("check", partial(check, book=tuple(book))),
    )


def extract(job: Job) -> Job:
    """Propose facts from the words, in place of those proposed before."""
    from jobnotes.extract.stage import find_facts
    from jobnotes.review.keep import replace_proposals

    return replace_proposals(job, find_facts(job))


def _transcribe(
    job: Job,
    *,
    audio_path: Callable[[Recording], Path],
    recogniser: Callable[[], "Recogniser"],
    again: bool,
    progress: Callable[[float], None] | None,
    unfinished: Path | None,
) -> Job:
    from jobnotes.speech.transcribe import transcribe, unheard

    if not unheard(job, again=again):
        return job
    return transcribe(
        job, recogniser(), audio_path, progress=progress, again=again, unfinished=unfinished
    )


def _loaded(model: str, *, allow_hub: bool) -> "Recogniser":
    from jobnotes.speech.whisper import WhisperRecogniser

    return WhisperRecogniser.load(model, allow_hub=allow_hub)


def run(job: Job, steps: Iterable[Stage]) -> Job:
    """Run the steps in order; one that fails is noted and the rest still run."""
    for step in steps:
        job = _run_one(job, step)
    return job


def _run_one(job: Job, step: Stage) -> Job:
    try:
        return noted(step.run(job), step.name, None)
    except JobnotesError as error:
        return noted(job, step.name, error)


def noted(job: Job, stage: str, error: JobnotesError | None) -> Job:
    """Return the job with the outcome of a stage in place of the outcome before."""
    outcome = StageRun(
        stage=stage,
        at=datetime.now(UTC),
        done=error is None,
        why=error.what if error else "",
        remedy=error.advice if error else "",
    )
    others = tuple(run for run in job.stages if run.stage != stage)
    return job.having(stages=(*others, outcome))


def to_run_again(job: Job) -> Job:
    """Return the job without the outcomes of the stages, since it holds something new."""
    return job.having(stages=tuple(run for run in job.stages if run.stage not in NAMES))


def was_run(job: Job) -> bool:
    """Tell whether every stage of a job has come to an end, well or badly."""
    return {run.stage for run in job.stages}.issuperset(NAMES)


def incomplete(job: Job) -> tuple[str, ...]:
    """Say, a sentence each, which stages of a job have not finished and why."""
    ended = {run.stage: run for run in job.stages}
    missing = [f"The step '{name}' has not run yet." for name in NAMES if name not in ended]
    failed = [
        f"The step '{run.stage}' did not finish: {run.why} {run.remedy}"
        for run in job.stages
        if not run.done
    ]
    return (*failed, *missing)

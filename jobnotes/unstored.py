"""From one file to a job that is stored nowhere: for a quick look, and for measuring."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from jobnotes import pipeline
from jobnotes.errors import MissingFileError
from jobnotes.intake import audio
from jobnotes.intake.typed import TEXT_NAME, read_text, typed
from jobnotes.record import Job, Recording
from jobnotes.settings import load

Progress = Callable[[float], None]


def understood(source: Path, progress: Progress | None = None) -> Job:
    """Return a job with the facts of a recording, or of a text with one utterance a line.

    Raises InputError for a file that is neither, SpeechModelError without usable weights.
    """
    job = heard(source, progress)
    for stage in pipeline.later_stages():
        job = stage.run(job)
    return job


def heard(source: Path, progress: Progress | None = None) -> Job:
    """Return a job with the words of a recording or of a text; raises as `understood` does."""
    if not source.exists() or source.is_dir():
        raise MissingFileError(f"There is no file {source}.")
    job = Job(id="", created_at=datetime.now(UTC))
    if source.suffix.lower() in ("", TEXT_NAME):
        return typed(job, read_text(source))
    return _listened(job, source, progress)


def _listened(job: Job, source: Path, progress: Progress | None) -> Job:
    info = audio.probe(source)
    recording = Recording(
        id="r1",
        name=source.name,
        format=info.format,
        duration_s=info.duration_s,
        started_at=info.started_at,
        zone_known=info.zone_known,
    )
    settings = load()
    stage = pipeline.hearing(
        lambda _: source,
        settings.speech_model,
        allow_hub=settings.allow_hub,
        progress=progress,
    )
    return stage.run(job.having(recordings=(recording,)))

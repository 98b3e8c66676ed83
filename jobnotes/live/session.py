"""One dictation from its first sound to its facts."""

from collections.abc import Callable
from threading import Event

from jobnotes.desk import Desk
from jobnotes.errors import BusyError, DictationError
from jobnotes.live.hearing import Hearer, Tell
from jobnotes.live.source import Source, seconds
from jobnotes.live.tape import Tape
from jobnotes.live.understanding import News, Understanding
from jobnotes.pipeline import later_stages, run
from jobnotes.record import Job
from jobnotes.speech.engine import Heard, Recogniser
from jobnotes.speech.whisper import WhisperRecogniser
from jobnotes.spool.spool import held

ShowNews = Callable[[News], None]


def listen(
    desk: Desk,
    job_id: str,
    source: Source,
    show: ShowNews,
    tell: Tell,
    stop: Event,
    for_s: float | None = None,
) -> DictationError | None:
    """Record a job from a source until it ends, `stop` is set or `for_s` seconds are recorded.

    What is heard meanwhile is shown; in the end the sound is taken into the job, whose stages must
    then run. Returns why it broke off, if it did; what was recorded is kept even then. Raises
    BusyError where another dictation is going on, UnknownJobError.
    """
    job = desk.load(job_id)
    with held(desk.settings.spool_folder) as alone:
        if not alone:
            raise BusyError("A dictation is going on in another window.")
        desk.take_dictations(tell)
        broken = _recorded(desk, job, source, show, tell, stop, for_s)
        desk.take_dictations(tell)
    return broken


def _recorded(
    desk: Desk,
    job: Job,
    source: Source,
    show: ShowNews,
    tell: Tell,
    stop: Event,
    for_s: float | None,
) -> DictationError | None:
    tape = Tape(desk.settings.spool_folder, job.id)
    desk.begin_dictation(job.id)
    hearer = Hearer(lambda: _recogniser(desk), _shower(desk, job, show), tell)
    broken = _taped(tape, source, hearer, stop, for_s)
    hearer.close()
    return broken


def _taped(
    tape: Tape, source: Source, hearer: Hearer, stop: Event, for_s: float | None
) -> DictationError | None:
    """Record until the end; nothing here waits for what is heard."""
    length_s = 0.0
    try:
        for block in source.blocks():
            tape.add(block)
            hearer.add(block.samples)
            length_s += seconds(block.samples)
            if stop.is_set() or (for_s is not None and length_s >= for_s):
                break
        tape.end()
    except DictationError as error:
        tape.leave()
        return error
    return None


def _recogniser(desk: Desk) -> Recogniser:
    settings = desk.settings
    return WhisperRecogniser.load(settings.speech_model, allow_hub=settings.allow_hub)


def _shower(desk: Desk, job: Job, show: ShowNews) -> Callable[[Heard, float], None]:
    stages = later_stages(desk.spec_book())
    understanding = Understanding(job, lambda said: run(said, stages))
    return lambda heard, at_s: show(understanding.hear(heard, at_s))

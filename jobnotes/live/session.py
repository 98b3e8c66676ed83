"""One dictation from its first sound to the recordings of its job."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from threading import Event

from jobnotes.desk import Desk
from jobnotes.errors import BusyError, JobnotesError
from jobnotes.live.hearing import Hear, Hearer, Tell
from jobnotes.live.source import Block, Source, seconds
from jobnotes.live.tape import Tape
from jobnotes.live.understanding import News, Understanding
from jobnotes.pipeline import later_stages, run
from jobnotes.record import Job
from jobnotes.speech.canned import CannedRecogniser
from jobnotes.speech.engine import Heard, Samples
from jobnotes.spool.spool import held

_SOMETHING = Heard(CannedRecogniser.saying("battery reads twelve volts").words)


@dataclass(frozen=True)
class Dictation:
    """What a dictation needs: where the sound comes from, and whom to show what is understood.

    It ends with its source, when `stop` is set, or when `for_s` seconds are recorded.
    """

    desk: Desk
    source: Source
    show: Callable[[News], None]
    tell: Tell
    stop: Event
    for_s: float | None = None


def listen(here: Dictation, job_id: str) -> JobnotesError | None:
    """Record a dictation of a job, show what is understood of it, and take it into the job.

    The stages of the job must run after that. Returns why it broke off, if it did; what was
    recorded is kept even then. Raises BusyError where another dictation is going on,
    UnknownJobError, and DictationError where nothing can be written.
    """
    job = here.desk.load(job_id)
    with held(here.desk.settings.spool_folder) as alone:
        if not alone:
            raise BusyError("A dictation is going on in another window.")
        here.desk.take_dictations(here.tell)
        broken = _recorded(here, job)
        here.desk.take_dictations(here.tell)
    return broken


def _recorded(here: Dictation, job: Job) -> JobnotesError | None:
    tape = Tape(here.desk.settings.spool_folder, job.id)
    here.desk.begin_dictation(job.id)
    hearer = Hearer(partial(_hearing, here, job), here.tell)
    broken = _taped(here, tape, hearer)
    hearer.close()
    return broken


def _taped(here: Dictation, tape: Tape, hearer: Hearer) -> JobnotesError | None:
    """Record until the end; nothing here waits for what is heard."""
    try:
        for block in _until_end(here):
            tape.add(block)
            hearer.add(block.samples)
        tape.end()
    except JobnotesError as error:
        tape.leave()
        return error
    return None


def _until_end(here: Dictation) -> Iterator[Block]:
    length_s = 0.0
    for block in here.source.blocks():
        if not length_s:
            here.tell("Recording; Ctrl-C ends it.")
        yield block
        length_s += seconds(block.samples)
        if here.stop.is_set() or (here.for_s is not None and length_s >= here.for_s):
            return


def _hearing(here: Dictation, job: Job) -> Hear:
    """Load what hears a piece of speech, understands it beside all before it, and shows it."""
    from jobnotes.speech.quick import quick_recogniser

    recogniser, stages = quick_recogniser(), later_stages(here.desk.spec_book())
    understanding = Understanding(job, lambda said: run(said, stages))
    Understanding(job, lambda said: run(said, stages)).hear(_SOMETHING, 0.0)  # loads the rules

    def hear(piece: Samples, at_s: float) -> None:
        heard = recogniser.hear(piece)
        if heard.words or heard.lost:
            here.show(understanding.hear(heard, at_s))

    return hear

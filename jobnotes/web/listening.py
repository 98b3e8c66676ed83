"""Hearing what phones at the bench send while it is being spoken; nothing of it is stored.

Pieces are on disk before they come here, so that whatever goes wrong here loses live words only:
the final words come from hearing the whole recordings.
"""

from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from queue import SimpleQueue
from threading import Lock, Thread
from time import monotonic

import numpy as np

from jobnotes.desk import Desk
from jobnotes.errors import JobnotesError
from jobnotes.intake.audio import RATE, growing
from jobnotes.live.growing import Growing
from jobnotes.live.hearing import Hear, Hearer
from jobnotes.live.source import BLOCK_S, as_pcm
from jobnotes.live.understanding import Understanding
from jobnotes.pipeline import later_stages, run
from jobnotes.record import Job
from jobnotes.speech.engine import Heard, Recogniser, Samples
from jobnotes.web import pieces

IDLE_S = 60.0
"""Seconds without a piece after which a phone is taken to be away; it may come back."""

MOST_TAKES = 8
"""Phones that are heard at once, so that memory stays bounded; the others' sound is kept too."""

Load = Callable[[], Recogniser]


def loaded() -> Recogniser:
    """Return what hears live speech quickly; raises SpeechModelError without its weights."""
    from jobnotes.speech.quick import quick_recogniser

    return quick_recogniser()


class InTurn:
    """One recogniser for all phones, loaded when the first is heard; each piece waits its turn."""

    def __init__(self, load: Load) -> None:
        """Load nothing yet."""
        self._load, self._lock = load, Lock()
        self._recogniser: Recogniser | None = None

    def prepare(self) -> Recogniser:
        """Load the recogniser unless it is loaded, and return what hears by it in turn."""
        with self._lock:
            self._recogniser = self._recogniser or self._load()
        return self

    def try_to_load(self) -> None:
        """Load the recogniser; where it cannot be, that is told when somebody speaks."""
        with suppress(JobnotesError):
            self.prepare()

    def hear(self, samples: Samples) -> Heard:
        """Hear a piece when those before it are heard."""
        with self._lock:
            assert self._recogniser is not None, "prepare comes first"
            return self._recogniser.hear(samples)


class Listening:
    """What is heard of the takes that are being spoken, by job."""

    def __init__(self, load: Load = loaded) -> None:
        """Start with nobody speaking."""
        self._takes: dict[Path, LiveTake] = {}
        self._lock, self._recogniser = Lock(), InTurn(load)

    def add(self, desk: Desk, job_id: str, folder: Path, part: int) -> None:
        """Hear what has come of a part of a take, whose pieces lie in its folder."""
        with self._lock:
            self._let_go()
            take = self._takes.get(folder)
            if take is None and len(self._takes) < MOST_TAKES:
                take = LiveTake(desk, job_id, folder, self._recogniser)
                self._takes[folder] = take
        if take:
            take.add(part)

    def hear(self, samples: Samples) -> Heard:
        """Hear some seconds by themselves; raises SpeechModelError without weights."""
        return self._recogniser.prepare().hear(samples)

    def warm_up(self) -> None:
        """Load the recogniser now, so that the first words need not wait for it."""
        Thread(target=self._recogniser.try_to_load, daemon=True).start()

    def end(self, folder: Path) -> None:
        """Hear the rest of a take; its words are shown until its recordings have been heard."""
        with self._lock:
            take = self._takes.get(folder)
        if take:
            take.end()

    def of(self, job_id: str) -> "LiveTake | None":
        """Return the take of a job that is being spoken, or waits to be heard as a whole."""
        with self._lock:
            self._let_go()
            takes = [take for take in self._takes.values() if take.job_id == job_id]
        return takes[-1] if takes else None

    def _let_go(self) -> None:
        gone = [name for name, take in self._takes.items() if take.is_over()]
        for name in gone:
            self._takes.pop(name).end()


class LiveTake:
    """One take while it is spoken: `job` holds what is understood, `version` counts its news."""

    def __init__(self, desk: Desk, job_id: str, folder: Path, recogniser: InTurn) -> None:
        """Begin to prepare; pieces may be added at once."""
        self.job_id, self.version = job_id, 0
        self.job: Job | None = None
        self.told = ""
        self._desk, self._folder, self._recogniser = desk, folder, recogniser
        self._parts: SimpleQueue[Growing | None] = SimpleQueue()
        self._growing: Growing | None = None
        self._part, self._next, self._came_at = -1, 0, monotonic()
        self._ended, self._lock = False, Lock()
        Thread(target=self._decode, name="live sound", daemon=True).start()

    def add(self, part: int) -> None:
        """Take on whatever pieces of a part follow those that were taken on before."""
        with self._lock:
            self._came_at = monotonic()
            if self._ended or part < self._part:
                return
            if part > self._part:
                self._end_part()
                self._part, self._next = part, 0
            while content := pieces.content_of(self._folder, part, self._next):
                self._feed(content)
                self._next += 1

    def end(self) -> None:
        """Let what has come be heard, and no more after that."""
        with self._lock:
            if not self._ended:
                self._ended = True
                self._end_part()
                self._parts.put(None)

    def is_over(self) -> bool:
        """Tell whether its recordings are in the job, or its phone went away."""
        away = not self._ended and monotonic() - self._came_at > IDLE_S
        return away or pieces.is_settled(self._folder)

    def _end_part(self) -> None:
        if self._growing:
            self._growing.end()
            self._growing = None

    def _feed(self, content: bytes) -> None:
        if self._growing:
            self._growing.add(content)
        else:
            self._growing = Growing(content)
            self._parts.put(self._growing)

    def _decode(self) -> None:
        """Give a hearer the sound of all parts; it is made when there is any."""
        hearer = None
        while part := self._parts.get():
            try:
                for block in _blocks(part):
                    hearer = hearer or Hearer(self._prepare, self._tell)
                    hearer.add(as_pcm(block))
            except JobnotesError as error:
                self._tell(f"No words can be shown, but the sound is kept: {error}")
        if hearer:
            hearer.close()

    def _prepare(self) -> Hear:
        recogniser = self._recogniser.prepare()
        stages = later_stages(self._desk.spec_book())
        job, base = self._desk.store.load(self.job_id)
        understanding = Understanding(job, lambda said: run(said, stages))

        def hear(piece: Samples, at_s: float) -> None:
            nonlocal base
            heard = recogniser.hear(piece)
            stored, revision = self._desk.store.load(self.job_id)
            if revision != base:
                understanding.rest_on(stored)
                base = revision
            understanding.hear(heard, at_s)
            self._show(understanding.job)

        return hear

    def _show(self, job: Job) -> None:
        self.job, self.version = job, self.version + 1

    def _tell(self, words: str) -> None:
        self.told, self.version = words, self.version + 1


def _blocks(part: Growing) -> Iterator[Samples]:
    """Yield the sound of a part in blocks, since the frames of a sound file are much shorter."""
    held: list[Samples] = []
    for samples in growing(part, part.kind):
        held.append(samples)
        if sum(one.size for one in held) >= BLOCK_S * RATE:
            yield np.concatenate(held)
            held.clear()
    if held:
        yield np.concatenate(held)

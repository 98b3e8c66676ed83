"""The two recognisers that are compared: plain faster-whisper with the same weights, and ours."""

import time
from collections.abc import Callable
from datetime import UTC, datetime
from functools import cache
from typing import NamedTuple

import numpy as np
from faster_whisper import WhisperModel

from jobnotes.record import Job, Recording, Word
from jobnotes.speech.engine import Samples
from jobnotes.speech.transcribe import breaths
from jobnotes.speech.weights import locate
from jobnotes.speech.whisper import WhisperRecogniser


class Hearing(NamedTuple):
    """What was heard, and the processor seconds that it took."""

    words: tuple[Word, ...]
    lost: bool
    processor_s: float

    def flagged(self) -> list[tuple[str, bool]]:
        """Return the words and whether each carries a flag."""
        return [(word.text, bool(word.flags)) for word in self.words]


@cache
def _plain() -> WhisperModel:
    return WhisperModel(str(locate("base")), device="cpu", compute_type="int8")


@cache
def _ours() -> WhisperRecogniser:
    return WhisperRecogniser.load("base")


def plain(samples: Samples) -> Hearing:
    """Hear as the library does when nothing is set but the language."""
    begin = time.process_time()
    text = " ".join(one.text for one in _plain().transcribe(samples, language="en")[0])
    words = [
        Word(recording="", index=n, text=said, start_s=0, end_s=0)
        for n, said in enumerate(text.split())
    ]
    return Hearing(tuple(words), False, time.process_time() - begin)


def ours(samples: Samples) -> Hearing:
    """Hear with every guard and second opinion."""
    begin = time.process_time()
    heard = _ours().hear(samples)
    return Hearing(heard.words, bool(heard.lost), time.process_time() - begin)


HEARINGS: dict[str, Callable[[Samples], Hearing]] = {"plain": plain, "ours": ours}


def job_of(name: str, hearing: Hearing) -> Job:
    """Return a job record that holds what was heard, for a scorer of facts."""
    words = tuple(word.having(recording="r1") for word in hearing.words)
    recording = Recording(id="r1", name=name, sha256="0" * 64, format="wav")
    return Job(
        id=name,
        created_at=datetime.now(UTC),
        recordings=(recording,),
        words=words,
        utterances=breaths(words),
    )


def warm() -> None:
    """Load both, so that no timing holds the loading."""
    for hear in HEARINGS.values():
        hear(np.zeros(16_000, np.float32))

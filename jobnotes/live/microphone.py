"""The microphone, by way of PortAudio."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from queue import Empty, SimpleQueue
from types import ModuleType
from typing import Any

import numpy as np

from jobnotes.errors import MicrophoneError
from jobnotes.intake.audio import RATE
from jobnotes.live.source import BLOCK_S, Block

_DEAD_S = 3.0  # without a block: a microphone that is unplugged falls silent in just this way
_HELD_S = 0.5  # that the system may hold for a program that is late
_BY_PORTAUDIO = (
    "Install it (Debian and Ubuntu: `apt-get install libportaudio2`), or speak into a recorder and"
    " use `jobnotes add`."
)
_BY_PLUG = "Plug one in, or name another with --microphone; `jobnotes add` takes recordings."


@dataclass(frozen=True)
class Microphone:
    """A microphone by part of its name; the system's own choice where `name` is empty."""

    name: str = ""

    def blocks(self) -> Iterator[Block]:
        """Yield sound for as long as it comes; raises MicrophoneError when none does."""
        heard: SimpleQueue[Block] = SimpleQueue()
        with _stream(self.name, heard):
            while True:
                try:
                    yield heard.get(timeout=_DEAD_S)
                except Empty as error:
                    raise MicrophoneError("The microphone gives no sound any more.") from error


@contextmanager
def _stream(name: str, heard: "SimpleQueue[Block]") -> Iterator[None]:
    """Let PortAudio's own thread put what it hears into a queue, and do nothing else."""

    def take(data: Any, frames: int, moment: Any, status: Any) -> None:
        samples = np.frombuffer(data, np.int16).copy()
        heard.put(Block(samples, gap=bool(status.input_overflow)))

    stream = _opened(name, take)
    try:
        yield
    finally:
        stream.abort()
        stream.close()


def _opened(name: str, take: Callable[..., None]) -> Any:
    portaudio = _portaudio()
    try:
        stream = portaudio.RawInputStream(
            samplerate=RATE,
            channels=1,
            dtype="int16",
            blocksize=int(BLOCK_S * RATE),
            device=name or None,
            latency=_HELD_S,
            callback=take,
        )
        stream.start()
    except (portaudio.PortAudioError, ValueError) as error:
        raise MicrophoneError(f"No microphone can be opened: {error}.", _BY_PLUG) from error
    return stream


def _portaudio() -> ModuleType:
    try:
        import sounddevice  # type: ignore[import-untyped]
    except OSError as error:  # the library that it loads is not on this computer
        raise MicrophoneError(f"No sound can be recorded: {error}.", _BY_PORTAUDIO) from error
    return sounddevice  # type: ignore[no-any-return]

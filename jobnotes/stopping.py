"""Ending long work with Ctrl-C, at a place where nothing is left half done."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event
from types import FrameType


@contextmanager
def until_interrupted() -> Iterator[Event]:
    """Yield an event that the first Ctrl-C sets; a second one ends the program as usual."""
    stop, before = Event(), signal.getsignal(signal.SIGINT)

    def set_stop(number: int, frame: FrameType | None) -> None:
        stop.set()
        signal.signal(signal.SIGINT, before)

    signal.signal(signal.SIGINT, set_stop)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)

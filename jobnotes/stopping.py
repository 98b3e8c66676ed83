"""Ending long work with Ctrl-C or SIGTERM, at a place where nothing is left half done."""

import signal
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from threading import Event
from types import FrameType
from typing import Any

_SIGNALS = (signal.SIGINT, signal.SIGTERM)  # Ctrl-C, and what a service manager sends


@contextmanager
def until_interrupted() -> Iterator[Event]:
    """Yield an event that the first signal sets; a second one ends the program as usual."""
    stop, before = Event(), {number: signal.getsignal(number) for number in _SIGNALS}

    def set_stop(number: int, frame: FrameType | None) -> None:
        stop.set()
        _handle_as(before)

    for number in _SIGNALS:
        signal.signal(number, set_stop)
    try:
        yield stop
    finally:
        _handle_as(before)


def _handle_as(before: Mapping[signal.Signals, Any]) -> None:
    for number, handler in before.items():
        signal.signal(number, handler)

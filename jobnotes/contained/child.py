"""The process that decodes: it answers requests on its input until that ends.

It may write no file. A picture or sound on which it crashes, hangs or runs out of memory ends it
alone.
"""

import json
import os
import sys
from collections.abc import Callable, Iterator
from importlib import import_module
from typing import BinaryIO

from jobnotes.contained.limits import CPU_S, DATA, END, ERROR, WAIT_S, send
from jobnotes.errors import JobnotesError, TooLargeError

WORKS = {
    "look": "jobnotes.photos.apart:looked",
    "print": "jobnotes.photos.apart:printed",
    "probe": "jobnotes.intake.audio:probed",
    "blocks": "jobnotes.intake.audio:decoded",
}


def main() -> None:
    """Answer until the input ends; what libraries print goes nowhere near the answers."""
    out = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    limit(int(sys.argv[1]))
    for line in sys.stdin.buffer:
        work, *arguments = json.loads(line)
        _answer(out, _function(work), arguments)


def limit(memory: int) -> None:
    """Set the limits, the memory in bytes, where the system has them."""
    if sys.platform == "win32":  # no such limits there; the process is still one of its own
        return
    import resource

    for what, most in (
        (resource.RLIMIT_AS, memory),
        (resource.RLIMIT_CORE, 0),
        (resource.RLIMIT_FSIZE, 0),
    ):
        resource.setrlimit(what, (most, most))


def _function(work: str) -> Callable[..., Iterator[bytes]]:
    module, _, name = WORKS[work].partition(":")
    function: Callable[..., Iterator[bytes]] = getattr(import_module(module), name)
    return function


def _answer(out: BinaryIO, work: Callable[..., Iterator[bytes]], arguments: list[object]) -> None:
    try:
        pieces = work(*arguments)
        while (piece := _next(pieces)) is not None:
            send(out, DATA, piece)
    except JobnotesError as error:
        send(out, ERROR, _packed(error))
    except MemoryError:
        send(out, ERROR, _packed(TooLargeError("The file needs more memory than it may take.")))
    else:
        send(out, END)


def _next(pieces: Iterator[bytes]) -> bytes | None:
    """Return the next piece, made in the time that it may take; whoever reads has all of theirs."""
    _allow(CPU_S, WAIT_S)
    try:
        return next(pieces, None)
    finally:
        _allow(0, 0)


def _packed(error: JobnotesError) -> bytes:
    return json.dumps([type(error).__name__, error.what, error.advice]).encode()


def _allow(cpu_s: int, wait_s: int) -> None:
    """Let the system end this process after that time, even within a library; 0 lets it be."""
    if sys.platform != "win32":
        import signal

        signal.setitimer(signal.ITIMER_PROF, cpu_s)
        signal.alarm(wait_s)


if __name__ == "__main__":
    main()

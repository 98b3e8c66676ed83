"""Pictures decoded in a process of their own, which a hostile file can only end, not take over.

It may use so much memory and processor time and writes no file; when it dies or takes too long,
the file is refused and the next one gets a new process.
"""

import os
import signal
from collections.abc import Callable, Sequence
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from threading import Lock
from typing import TypeVar

from jobnotes.errors import DamagedFileError, JobnotesError
from jobnotes.photos import look as looking
from jobnotes.photos import picture
from jobnotes.photos.look import Look
from jobnotes.record import Mark

MEMORY = 6 * 1024**3
"""Bytes of addresses for decoding: a picture of MAX_PIXELS is held three times on its way."""

TIME_S = 60
"""Processor seconds for one picture; the largest that is taken in needs about a fifth of them."""

WAIT_S = 300.0  # seconds by the clock, on a machine that is busy

T = TypeVar("T")


def look(path: Path, name: str) -> Look:
    """Do as `look.look` does, apart; raises DamagedFileError also where decoding was ended."""
    return _APART.run(name, looking.look, path, name)


def for_print(path: Path, max_px: int, marks: Sequence[Mark] = ()) -> bytes:
    """Do as `picture.for_print` does, apart; raises DamagedFileError also where it was ended."""
    return _APART.run(path.name, picture.for_print, path, max_px, tuple(marks))


class _Worker:
    """A process that does one piece of work after the other."""

    def __init__(self) -> None:
        context = get_context("spawn")
        self.pipe, there = context.Pipe()
        self.process = context.Process(target=_serve, args=(there,), daemon=True)
        self.process.start()
        there.close()

    def does(self, work: Callable[..., T], args: tuple[object, ...]) -> T:
        """Return what the work gives or raise what it raises; EOFError where the process died."""
        self.pipe.send((work, args))
        if not self.pipe.poll(WAIT_S):
            raise TimeoutError
        answer: T | JobnotesError | MemoryError = self.pipe.recv()
        if isinstance(answer, JobnotesError | MemoryError):
            raise answer
        return answer


class _Apart:
    """One process at a time, started when it is needed."""

    def __init__(self) -> None:
        self._worker: _Worker | None = None
        self._lock = Lock()

    def run(self, name: str, work: Callable[..., T], *args: object) -> T:
        with self._lock:
            worker = self._worker or _Worker()
            self._worker = None
            try:
                done = worker.does(work, args)
            except JobnotesError:
                self._worker = worker
                raise
            except (EOFError, OSError, MemoryError) as error:  # a TimeoutError is an OSError
                worker.process.kill()
                raise DamagedFileError(f"{name} asks for more than a photo needs.") from error
            self._worker = worker
            return done


def _serve(pipe: Connection) -> None:
    """Do what comes through the pipe until its other end is closed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the program, which ends this
    _limit()
    while True:
        try:
            work, args = pipe.recv()
        except EOFError:
            return
        _limit_time()
        try:
            pipe.send(work(*args))
        except (JobnotesError, MemoryError) as error:
            pipe.send(error)


def _limit() -> None:
    """Bound what this process may use, where the system can."""
    if os.name == "posix":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _limit_time() -> None:
    """Give the next piece of work its share of processor time."""
    if os.name == "posix":
        import resource

        used = resource.getrusage(resource.RUSAGE_SELF)
        _, most = resource.getrlimit(resource.RLIMIT_CPU)
        end = int(used.ru_utime + used.ru_stime) + TIME_S
        resource.setrlimit(resource.RLIMIT_CPU, (end, most))


_APART = _Apart()

"""Asking a decoding process, and starting another where one has ended."""

import atexit
import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from queue import Empty, LifoQueue

from jobnotes import errors
from jobnotes.contained.limits import DATA, ERROR, MEMORY, receive
from jobnotes.errors import DamagedFileError, JobnotesError, StoreError, TooLargeError

_COMMAND = [sys.executable, "-P", "-m", "jobnotes.contained.child"]
_idle: LifoQueue[subprocess.Popen[bytes]] = LifoQueue(maxsize=2)


def answer(work: str, name: str, *arguments: object) -> bytes:
    """Return the one answer to a piece of work on a file; raises as `answers` does."""
    return b"".join(answers(work, name, *arguments))


def answers(work: str, name: str, *arguments: object) -> Iterator[bytes]:
    """Yield the answers to a piece of work on a file, which messages call by `name`.

    Raises what the work raises; DamagedFileError where the file makes the decoder crash, and
    TooLargeError where it takes longer or more memory than `contained.limits` allow.
    """
    process, whole = _started(work, arguments), False
    try:
        while (frame := receive(process.stdout)) and frame[0] == DATA:  # type: ignore[arg-type]
            yield frame[1]
        if frame is None:
            raise _ended(process, name)
        whole = True
        if frame[0] == ERROR:
            raise _error(frame[1])
    finally:
        _give_back(process, whole)


def _started(work: str, arguments: tuple[object, ...]) -> subprocess.Popen[bytes]:
    request = json.dumps([work, *arguments]).encode() + b"\n"
    while True:
        try:
            process = _idle.get_nowait()
        except Empty:
            process = _fresh()
        try:
            process.stdin.write(request)  # type: ignore[union-attr]
            process.stdin.flush()  # type: ignore[union-attr]
        except BrokenPipeError:  # it was ended meanwhile, as by the system when memory was short
            _end(process)
        else:
            return process


def _fresh() -> subprocess.Popen[bytes]:
    path = os.pathsep.join(filter(None, sys.path))
    try:
        return subprocess.Popen(
            [*_COMMAND, str(MEMORY)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "PYTHONPATH": path},
            start_new_session=True,  # Ctrl-C is for the program that asked
        )
    except OSError as error:
        raise StoreError(
            f"No process can be started to read files: {error.strerror}.",
            "Close other programs, then try again.",
        ) from error


def _ended(process: subprocess.Popen[bytes], name: str) -> JobnotesError:
    if sys.platform != "win32" and -process.wait() in (signal.SIGALRM, signal.SIGPROF):
        return TooLargeError(f"{name} takes longer to read than any file of its kind.")
    return DamagedFileError(f"{name} is damaged in a way that breaks what reads it.")


def _error(told: bytes) -> JobnotesError:
    name, what, advice = json.loads(told)
    error: JobnotesError = getattr(errors, name)(what, advice)
    return error


def _give_back(process: subprocess.Popen[bytes], whole: bool) -> None:
    if not whole or _idle.full():
        _end(process)
    else:
        _idle.put(process)


def _end(process: subprocess.Popen[bytes]) -> None:
    process.kill()
    process.communicate()


def _end_idle() -> None:
    while not _idle.empty():
        _end(_idle.get_nowait())


def _forget_idle() -> None:
    """In a fork: those that wait belong to the parent."""
    global _idle
    _idle = LifoQueue(maxsize=2)


atexit.register(_end_idle)
if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_forget_idle)

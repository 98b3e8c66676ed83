"""Pictures decoded in a process of their own, which a hostile file can only end, not take over.

It may use so much memory and processor time and writes no file; when it dies or takes too long,
the file is refused and the next one gets a new process. What comes from it is read as JSON and
bytes, never as objects.
"""

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from threading import Lock, Timer
from typing import IO

from pydantic import TypeAdapter

from jobnotes.errors import DamagedFileError, InputError, TooLargeError
from jobnotes.photos import look as looking
from jobnotes.photos import picture
from jobnotes.photos.look import Look
from jobnotes.record import Mark

MEMORY = 6 * 1024**3
"""Bytes of addresses for decoding: a picture of MAX_PIXELS is held three times on its way."""

TIME_S = 60
"""Processor seconds for one picture; the largest that is taken in needs about a fifth of them."""

WAIT_S = 300.0  # seconds by the clock, on a machine that is busy
ERRORS: dict[str, type[InputError]] = {"damaged": DamagedFileError, "large": TooLargeError}
LOOK = TypeAdapter(Look)
MARKS = TypeAdapter(tuple[Mark, ...])


def look(path: Path, name: str) -> Look:
    """Do as `look.look` does, apart; raises DamagedFileError also where decoding was ended."""
    return LOOK.validate_json(APART.run({"path": str(path), "name": name}))


def for_print(path: Path, max_px: int, marks: Sequence[Mark] = ()) -> bytes:
    """Do as `picture.for_print` does, apart; raises DamagedFileError also where it was ended."""
    drawn = MARKS.dump_python(tuple(marks), mode="json")
    return APART.run({"path": str(path), "name": path.name, "px": max_px, "marks": drawn})


class Apart:
    """One process at a time, started when it is needed, with so many bytes for decoding."""

    def __init__(self, memory: int = MEMORY) -> None:
        """Start nothing yet."""
        self.memory = memory
        self.process: subprocess.Popen[bytes] | None = None
        self._lock = Lock()

    def run(self, request: dict[str, object]) -> bytes:
        """Return what a request gives; raises what it raises, and DamagedFileError at its end."""
        with self._lock:
            try:
                answer, body = self._asked(request)
            except (
                OSError,
                ValueError,
                LookupError,
                TypeError,
            ) as error:  # died, or talks nonsense
                self._end()
                why = f"{request['name']} asks for more than a photo needs."
                raise DamagedFileError(why) from error
        if answer.get("error") in ERRORS:
            raise ERRORS[answer["error"]](str(answer.get("what")))
        return body

    def _asked(self, request: dict[str, object]) -> tuple[dict[str, str], bytes]:
        process = self.process
        if process is None or process.poll() is not None:
            process = self.process = _started(self.memory)
        if process.stdin is None or process.stdout is None:
            raise OSError
        ending = Timer(WAIT_S, process.kill)
        ending.start()
        try:
            _tell(process.stdin, request)
            return _heard(process.stdout)
        finally:
            ending.cancel()

    def _end(self) -> None:
        if self.process:
            self.process.kill()
            self.process.wait()
        self.process = None


def _started(memory: int) -> subprocess.Popen[bytes]:
    code = f"from jobnotes.photos.apart import serve; serve({memory})"
    known = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    return subprocess.Popen(
        [sys.executable, "-c", code],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env=known,
        start_new_session=True,  # Ctrl-C is for the program, whose end ends this
    )


def _tell(pipe: IO[bytes], told: dict[str, object], body: bytes = b"") -> None:
    """Write a line of JSON with the length of the bytes that follow, and these."""
    line = json.dumps({**told, "bytes": len(body)}).encode()
    pipe.write(line + b"\n" + body)
    pipe.flush()


def _heard(pipe: IO[bytes]) -> tuple[dict[str, str], bytes]:
    """Read what `_tell` writes; raises ValueError where it is cut short."""
    told = json.loads(pipe.readline(1 << 20))
    body = pipe.read(int(told["bytes"]))
    if len(body) != told["bytes"]:
        raise ValueError
    return told, body


def serve(memory: int) -> None:
    """Answer requests until the program that asks has ended."""
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a library may print is no answer
    _limit(memory)
    while line := sys.stdin.buffer.readline():
        _limit_time()
        request = json.loads(line)
        try:
            _tell(out, {}, _done(request))
        except InputError as error:
            kind = "large" if isinstance(error, TooLargeError) else "damaged"
            _tell(out, {"error": kind, "what": error.what})
        except MemoryError:
            return


def _done(request: dict[str, object]) -> bytes:
    path = Path(str(request["path"]))
    if "px" not in request:
        return LOOK.dump_json(looking.look(path, str(request["name"])))
    return picture.for_print(path, int(str(request["px"])), MARKS.validate_python(request["marks"]))


def _limit(memory: int) -> None:
    """Bound what this process may use, where the system can."""
    if os.name == "posix":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
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


APART = Apart()

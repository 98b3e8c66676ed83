"""Workers as processes: one that dies is replaced, and Ctrl-C ends them after their task."""

import signal
import sys
from multiprocessing import get_context
from multiprocessing.connection import wait
from multiprocessing.process import BaseProcess
from threading import Event
from types import FrameType

from jobnotes.desk import open_desk
from jobnotes.errors import JobnotesError
from jobnotes.stopping import until_interrupted
from jobnotes.work.turns import Tell, take_turns

_AGAIN_S = 1.0  # between the end of a worker and the next one in its place, so as not to race


def work(count: int, tell: Tell, *, until_done: bool = False) -> None:
    """Keep `count` workers at it until Ctrl-C or SIGTERM, or until nothing is left to do.

    The first signal lets each finish its task; a second one has them give it back at once. Raises
    what opening the desk raises.
    """
    open_desk(tell=tell).store.close()
    spawn = get_context("spawn")  # a fork would share the open store
    arguments = (until_done,)
    with until_interrupted() as stop:
        crew = [_started(spawn.Process(target=_worker, args=arguments)) for _ in range(count)]
        while crew and not stop.is_set():
            wait([one.sentinel for one in crew], timeout=_AGAIN_S)
            crew = [one for one in crew if one.is_alive() or one.exitcode]
            for n, one in enumerate(crew):
                if not one.is_alive() and not stop.wait(_AGAIN_S):
                    tell(f"A worker ended (code {one.exitcode}); another takes its place.")
                    crew[n] = _started(spawn.Process(target=_worker, args=arguments))
        _end(crew)


def _end(crew: list[BaseProcess]) -> None:
    try:
        _signal_all(crew)
    except KeyboardInterrupt:
        _signal_all(crew)


def _signal_all(crew: list[BaseProcess]) -> None:
    for one in crew:
        one.terminate()
    for one in crew:
        one.join()


def _started(process: BaseProcess) -> BaseProcess:
    process.start()
    return process


def _worker(until_done: bool) -> None:
    stop = Event()

    def asked_to_stop(number: int, frame: FrameType | None) -> None:
        if stop.is_set():
            raise SystemExit(1)
        stop.set()

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C reaches all; the first process decides
    signal.signal(signal.SIGTERM, asked_to_stop)
    try:
        take_turns(open_desk(tell=_print), stop, _print, until_done=until_done)
    except JobnotesError as error:
        _print(str(error))
        raise SystemExit(error.exit_code) from error


def _print(what: str) -> None:
    print(f"jobnotes: {what}", file=sys.stderr)

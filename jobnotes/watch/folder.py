"""Watching a folder: each recording and photo in it is taken in once, into the job of its time."""

from collections.abc import Callable
from pathlib import Path
from threading import Event

from jobnotes.desk import Desk, Tell
from jobnotes.errors import BusyError
from jobnotes.record import Job
from jobnotes.spool.spool import held
from jobnotes.watch.round import Round, take_round
from jobnotes.watch.settled import State, seen_in, settled

LOOK_S = 5.0  # between two looks; a file that did not change from one to the next has come whole


def watched(
    desk: Desk,
    folder: Path,
    tell: Tell,
    show: Callable[[Job], None],
    stop: Event,
    once: bool = False,
) -> None:
    """Take in what comes into a folder until `stop` is set; with `once`, what is there now.

    `tell` is told, once each, where a file went or why it is left; `show` is shown the jobs that
    were run. What is in the store already is not taken in again, so nothing else is remembered.
    Raises MissingFileError without the folder, BusyError where another program watches.
    """
    with held(desk.settings.data_folder / "watch") as alone:
        if not alone:
            raise BusyError("Another window watches a folder for this shop.")
        before, done = seen_in(folder), dict[Path, State]()
        while not stop.wait(LOOK_S):
            now = seen_in(folder)
            fresh = [path for path in settled(before, now) if done.get(path) != now[path]]
            later = take_round(Round(desk, tell, show), fresh) if fresh else frozenset[Path]()
            done.update({path: now[path] for path in fresh if path not in later})
            before = now
            if once:
                return

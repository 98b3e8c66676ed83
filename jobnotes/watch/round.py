"""One round over files that have come whole: those that are new are taken in, then jobs are run."""

import hashlib
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from jobnotes.desk import Desk, Tell
from jobnotes.errors import InputError, StaleJobError
from jobnotes.pipeline import was_run
from jobnotes.record import Job
from jobnotes.store.erasures import erased_files
from jobnotes.watch.placing import NEAR, Span, Worked, belongs_to, worked_on
from jobnotes.watch.settled import check_whole
from jobnotes.watch.taking import take, time_of


@dataclass(frozen=True)
class Round:
    """What a round needs: the desk, whom to tell, and whom to show the jobs that were run."""

    desk: Desk
    tell: Tell
    show: Callable[[Job], None]


class _Timed(NamedTuple):
    when: Span
    path: Path


def take_round(here: Round, paths: Sequence[Path]) -> frozenset[Path]:
    """Take in files that no job has or had, and run their jobs; return those to be tried again.

    What was erased from the shop is not taken in anew because a phone still has it.
    Also run are jobs that hold one of these files and were not run to their end, as after a kill.
    """
    hashes = _hashes(here, paths)
    known = here.desk.store.originals().keys() | erased_files(here.desk.store)
    new = {sha: path for sha, path in hashes.items() if sha not in known}
    jobs = [here.desk.load(line.id) for line in here.desk.jobs()]
    worked = {job.id: worked_on(job) for job in jobs}
    to_run = {job.id for job in jobs if not was_run(job) and _holds(job, hashes)}
    later = set[Path]()
    for timed in sorted(_timed(here, new.values())):
        try:
            to_run |= _placed(here, timed, worked)
        except StaleJobError:  # somebody changes the job at this moment
            later.add(timed.path)
    for job_id in sorted(to_run):
        _run(here, job_id)
    return frozenset(later)


def _hashes(here: Round, paths: Iterable[Path]) -> dict[str, Path]:
    """Return the files by their SHA-256, so that a second name of the same content falls away."""
    found: dict[str, Path] = {}
    for path in paths:
        try:
            with path.open("rb") as stream:
                found.setdefault(hashlib.file_digest(stream, "sha256").hexdigest(), path)
        except OSError as error:
            here.tell(f"{path} is left: it cannot be read ({error.strerror}).")
    return found


def _timed(here: Round, paths: Iterable[Path]) -> Iterable[_Timed]:
    """Yield the files that are whole, with their times; the others are told and left."""
    for path in paths:
        try:
            check_whole(path)
            yield _Timed(time_of(path), path)
        except InputError as error:
            here.tell(f"{path} is left: {error}")


def _placed(here: Round, timed: _Timed, worked: dict[str, Worked]) -> set[str]:
    """Take a file into the one job it can belong to, or into a new one; return the job's number.

    Where several jobs are as likely the file is left, and the person is told how to say which.
    """
    found = belongs_to(timed.when, worked.values())
    if len(found) > 1:
        here.tell(_which(timed, found))
        return set()
    try:
        job = take(here.desk, timed.path, found[0] if found else "", timed.when)
    except InputError as error:
        here.tell(f"{timed.path} is left: {error}")
        return set()
    worked[job.id] = worked_on(job)
    here.tell(f"{timed.path.name}: taken into {'job' if found else 'the new job'} {job.id}.")
    return {job.id}


def _which(timed: _Timed, found: Sequence[str]) -> str:
    minutes = NEAR.total_seconds() / 60
    return (
        f"{timed.path} is left: work on the jobs {', '.join(found)} was going on within"
        f" {minutes:.0f} minutes of it. Say which with `jobnotes add JOB {timed.path}`."
    )


def _run(here: Round, job_id: str) -> None:
    try:
        here.show(here.desk.run(job_id))
    except StaleJobError as error:
        here.tell(f"Job {job_id} is not finished: {error} Then use `jobnotes run {job_id}`.")


def _holds(job: Job, hashes: dict[str, Path]) -> bool:
    recorded, taken = (one.sha256 for one in job.recordings), (one.sha256 for one in job.photos)
    return not hashes.keys().isdisjoint([*recorded, *taken])

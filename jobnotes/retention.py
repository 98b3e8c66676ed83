"""Erasing what the shop may or must not keep: a customer on request, private remarks in time."""

import shutil
import time
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from jobnotes.desk import Desk
from jobnotes.erasing import (
    Erasing,
    emptied,
    originals_of,
    private_recordings,
    without_private,
)
from jobnotes.errors import StaleJobError
from jobnotes.record import Job
from jobnotes.store import erasures
from jobnotes.store.erasures import Taken

_DAY_S = 86_400.0
SETTING = "the shop's setting keep_private_days"


class Due(NamedTuple):
    """What an erasure takes, or took, of one job: numbers of recordings, photos and reports."""

    job: str
    started: datetime
    machine: str
    recordings: int
    photos: int
    reports: int


def of_customer(desk: Desk, customer: str) -> tuple[Due, ...]:
    """Return what erasing a customer takes: all jobs of that name, whatever its case."""
    wanted, found, skip = customer.casefold().strip(), list[Due](), 0
    while wanted and (page := desk.store.list(customer, skip=skip)):
        skip += len(page)
        same = [one.id for one in page if one.customer.casefold().strip() == wanted]
        found += [_whole(desk.load(job)) for job in same]
    return tuple(found)


def erase_customer(desk: Desk, customer: str, who: str) -> tuple[Due, ...]:
    """Erase all jobs of a customer for good, but for their numbers and a note; return what went.

    Sound, photos, issued reports, words, facts and what still waits to be taken in go from the
    database and the disk. Killed half way, the next command of this kind ends it.
    """
    due = of_customer(desk, customer)
    for one in due:
        kept = desk.store.load(one.job)
        erasing = Erasing(who, datetime.now(UTC), "the customer asked for it")
        files = originals_of(kept.job)
        left = emptied(kept.job, erasing)
        erasures.erase(desk.store, kept, left, files, erasing, whole=True)
        _forget_beside(desk, one.job, files)
    erasures.finish(desk.store, desk.media)
    return due


def private_due(desk: Desk, now: datetime) -> tuple[Due, ...]:
    """Return the jobs of which private remarks are older than the shop keeps them; not if unset."""
    before = _before(desk, now)
    if before is None:
        return ()
    latest = (before + timedelta(days=2)).isoformat()  # jobs are held apart by zone below
    jobs = [desk.load(job) for job in erasures.with_private_remarks(desk.store, latest)]
    found = [(job, len(private_recordings(job, before))) for job in jobs]
    return tuple(
        _whole(job)._replace(recordings=count, photos=0, reports=0) for job, count in found if count
    )


def erase_private(desk: Desk, now: datetime, who: str = SETTING) -> tuple[Due, ...]:
    """Erase private remarks that are too old, with the sound they are in; return what went."""
    due, before = private_due(desk, now), _before(desk, now) or now
    for one in due:
        kept = desk.store.load(one.job)
        erasing = Erasing(
            who, now, f"private remarks are kept {desk.settings.keep_private_days} days"
        )
        files = tuple(old.sha256 for old in private_recordings(kept.job, before) if old.sha256)
        left = without_private(kept.job, before, erasing)
        with suppress(StaleJobError):  # somebody is at this job; the next time will do
            erasures.erase(desk.store, kept, left, files, erasing, whole=False)
            _forget_beside(desk, "", files)
    erasures.finish(desk.store, desk.media)
    return due


class Daily:
    """Erases old private remarks once a day, as long as the program runs."""

    def __init__(self, desk: Desk) -> None:
        """Begin; the first time is due at once."""
        self._desk, self._next = desk, 0.0

    def erase(self) -> None:
        """Erase what is due, unless that was done within a day."""
        if time.monotonic() >= self._next:
            erase_private(self._desk, datetime.now(UTC))
            self._next = time.monotonic() + _DAY_S


def still_held_by(desk: Desk) -> tuple[Taken, ...]:
    """Return the backups that were taken so far: each still holds what is erased after it."""
    return erasures.backups(desk.store)


def _before(desk: Desk, now: datetime) -> datetime | None:
    days = desk.settings.keep_private_days
    return None if days is None else now - timedelta(days=days)


def _whole(job: Job) -> Due:
    numbers = len(job.recordings), len(job.photos), len(job.reports)
    return Due(job.id, job.created_at, job.machine.description, *numbers)


def _forget_beside(desk: Desk, job: str, files: tuple[str, ...]) -> None:
    """Delete what lies outside the store: half-heard sound, and files that wait to be taken in."""
    data = desk.settings.data_folder
    for sha256 in files:
        for left in (data / "unfinished").glob(f"*/{sha256}.*"):
            left.unlink()
    if job and (waiting := data / "incoming" / job).is_dir():
        shutil.rmtree(waiting)

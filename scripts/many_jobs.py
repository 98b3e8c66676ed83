"""Invented jobs in any number, for measuring a large shop.

The words of each job are those of a dictation of tests/corpus (its first lines), understood once
by the real stages; customer, machine, serial number and a part differ from job to job.
"""

import json
import random
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import insert

from jobnotes.desk import Desk
from jobnotes.record import Job, Machine, Part, State
from jobnotes.store import rows
from jobnotes.store.tables import JOBS, NUMBERS, PARTS
from jobnotes.unstored import understood

ROOT = Path(__file__).resolve().parent.parent
KINDS, LINES, BATCH = 12, 12, 500
FIRST = datetime(2020, 1, 7, 8, 0, tzinfo=UTC)
NAMES = (
    "Okafor",
    "Ibekwe",
    "Marlow",
    "Tessaro",
    "Quillan",
    "Brandvik",
    "Osei",
    "Lindqvist",
    "Varga",
    "Dunmore",
)
TRADES = ("Paving", "Gardens", "Hire", "Farm")
MAKES = ("Torvane", "Kestrun", "Holdway", "Ombrel", "Fennick")
SORTS = (
    "plate compactor",
    "tiller",
    "edger",
    "trash pump",
    "generator",
    "log splitter",
    "snow thrower",
)


def fill(desk: Desk, count: int) -> None:
    """Put that many jobs into an empty store, some hundreds in each transaction."""
    kinds = [said(file) for file in sorted((ROOT / "tests" / "corpus").glob("[abc]*.json"))[:KINDS]]
    for batch in (range(at, min(at + BATCH, count)) for at in range(0, count, BATCH)):
        jobs = [varied(kinds[n % KINDS], n) for n in batch]
        with desk.store.transaction(writing=True) as connection:
            listed = [
                {**rows.job_row(job), "key": n + 1, "revision": 1}
                for n, job in zip(batch, jobs, strict=True)
            ]
            connection.execute(insert(JOBS), listed)
            for name, table in PARTS.items():
                parts = [
                    {"job": n + 1, **row}
                    for n, job in zip(batch, jobs, strict=True)
                    for row in rows.part_rows(name, job)
                ]
                if parts:
                    connection.execute(insert(table), parts)
    with desk.store.transaction(writing=True) as connection:
        years = {int(number(n)[:4]): int(number(n)[5:]) for n in range(count)}
        connection.execute(
            insert(NUMBERS), [{"year": year, "last": last} for year, last in years.items()]
        )


def said(file: Path) -> Job:
    """Return a job of the first lines of a dictation."""
    lines = [line["text"] for line in json.loads(file.read_text())["utterances"][:LINES]]
    with tempfile.TemporaryDirectory() as scratch:
        text = Path(scratch) / "said.txt"
        text.write_text("\n".join(lines))
        return understood(text)


def number(n: int) -> str:
    """Return the number of the nth job: 3,000 a year."""
    year, place = divmod(n, 3000)
    return f"{2020 + year}-{place + 1:04}"


def varied(job: Job, n: int) -> Job:
    """Return the job as the nth: three in four are read by the office, the newest are not."""
    dice = random.Random(n)
    make, sort = dice.choice(MAKES), dice.choice(SORTS)
    machine = Machine(
        description=f"{make} {sort}",
        make=make,
        model=f"{dice.choice('HKT')}{dice.randrange(100, 999)}",
        serial=f"TV-{dice.randrange(10**6):06}",
    )
    state = State.PROPOSED if n % 4 == 0 else State.CONFIRMED
    facts = tuple(fact.having(state=state) for fact in job.facts if not isinstance(fact, Part))
    part = Part(
        id="p",
        rule="office.entered",
        name="belt",
        number=f"{dice.choice('ABCDEF')}{dice.randrange(10**5):05}",
        status="installed",
        state=state,
    )
    customer = f"{dice.choice(NAMES)} {dice.choice(TRADES)} {dice.randrange(400)}"
    at = FIRST + timedelta(hours=3 * n)
    return job.having(
        id=number(n), created_at=at, machine=machine, customer=customer, facts=(*facts, part)
    )

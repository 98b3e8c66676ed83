"""From a job to its rows and back, losing nothing."""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import BaseModel
from sqlalchemy import Table

from jobnotes.record import Job, Part, State
from jobnotes.store.tables import JOBS, PARTS

Row = dict[str, Any]
ERASED = '"erased_at":"'  # in the body of a recording whose original was erased
_APART = {"job", "position", "key", "revision", "machine_name", "sought", "body"}


def job_row(job: Job) -> Row:
    """Return the row of the job itself; `sought` is the folded text that a search looks through."""
    machine = job.machine
    name = machine.description or f"{machine.make} {machine.model}".strip()
    return {**_packed(JOBS, job, set(PARTS)), "machine_name": name, "sought": _sought(job)}


def part_rows(name: str, job: Job) -> list[Row]:
    """Return the rows of one part of a job ("words", "facts" ...), numbered by position."""
    items: tuple[BaseModel, ...] = getattr(job, name)
    return [{"position": n, **_packed(PARTS[name], item)} for n, item in enumerate(items)]


def job_of(row: Mapping[str, Any], parts: Mapping[str, Iterable[Mapping[str, Any]]]) -> Job:
    """Return the job that the rows hold; raises ValueError for rows that no job was packed into."""
    held = {name: [_unpacked(PARTS[name], part) for part in rows] for name, rows in parts.items()}
    return Job.model_validate({**_unpacked(JOBS, row), **held})


def reports_in(job: str, body: str) -> dict[str, str]:
    """Return the hash of each report that a job's row holds, and what it is in words."""
    told = json.loads(body).get("reports", [])
    return {report["sha256"]: f"the report {report['name']} of job {job}" for report in told}


def folded(text: str) -> str:
    """Return text as a search compares it: without case, and part numbers without their marks."""
    return "".join(letter for letter in text.casefold() if letter.isalnum() or letter.isspace())


def _sought(job: Job) -> str:
    numbers = (
        number
        for fact in job.facts
        if isinstance(fact, Part) and fact.state is not State.REJECTED
        for number in (fact.number, fact.supersedes)
    )
    machine = job.machine
    named = (
        machine.description,
        machine.make,
        machine.model,
        machine.serial,
        "".join(machine.serial.split()),
    )
    spoken = " ".join(word.text for word in job.words)
    known_by = (job.id, job.customer, *named, *dict.fromkeys(numbers), job.bundle, spoken)
    return folded("\n".join(known_by))


def _packed(table: Table, item: BaseModel, apart: set[str] | None = None) -> Row:
    fields = item.model_dump(mode="json", exclude=apart)
    row = {name: fields.pop(name) for name in _fields(table)}
    return {**row, "body": json.dumps(fields, ensure_ascii=False, separators=(",", ":"))}


def _unpacked(table: Table, row: Mapping[str, Any]) -> Row:
    return {**json.loads(row["body"]), **{name: row[name] for name in _fields(table)}}


def _fields(table: Table) -> list[str]:
    return [column.name for column in table.columns if column.name not in _APART]

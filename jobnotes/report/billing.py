"""What the office bills, as a table for a spreadsheet: parts and labour, a line each."""

import csv
from collections.abc import Iterator
from io import StringIO

from jobnotes.record import Job, Labour, Part, State
from jobnotes.report.spans import clock, place

COLUMNS = (
    "job", "started", "customer", "machine", "serial", "line", "number", "in place of", "name",
    "status", "quantity", "price as said", "minutes", "review", "doubt", "recording", "at",
)  # fmt: skip

# Spreadsheets take a cell that begins with one of these for a formula; an apostrophe before it
# makes it text (OWASP, "CSV Injection").
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def billing_csv(job: Job) -> str:
    """Return the parts and the labour of a job as CSV by RFC 4180, in the order said.

    Rejected facts stay out; `doubt` says why a line must still be looked at, `review` what a
    person has said of it. Quantity and minutes are figures, the price is as it was said.
    """
    kept = StringIO()
    table = csv.writer(kept, lineterminator="\r\n")
    table.writerow(COLUMNS)
    table.writerows([_safe(cell) for cell in row] for row in _rows(job))
    return kept.getvalue()


def _rows(job: Job) -> Iterator[tuple[str, ...]]:
    head = (
        job.id,
        f"{job.created_at:%Y-%m-%d}",
        job.customer,
        job.machine.description,
        job.machine.serial,
    )
    for fact in sorted(job.facts, key=lambda fact: place(job, fact.evidence)):
        if isinstance(fact, Part | Labour) and fact.state is not State.REJECTED:
            yield (*head, *_line(fact), *_source(job, fact))


def _line(fact: Part | Labour) -> tuple[str, ...]:
    if isinstance(fact, Labour):
        return ("labour", "", "", "", "", "", "", f"{fact.minutes:f}")
    quantity = "" if fact.quantity is None else str(fact.quantity)
    named = (fact.number, fact.supersedes, fact.name)
    return ("part", *named, fact.status, quantity, fact.price, "")


def _source(job: Job, fact: Part | Labour) -> tuple[str, ...]:
    names = {recording.id: recording.name for recording in job.recordings}
    first = fact.evidence[0] if fact.evidence else None
    said = (names.get(first.recording, ""), clock(first.start_s)) if first else ("", "")
    return (fact.state, " ".join(flag.why for flag in fact.open_flags), *said)


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(FORMULA) else cell

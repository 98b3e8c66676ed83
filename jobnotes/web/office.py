"""The office's pages: the list of jobs, one job, and each step of its review."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from starlette.responses import Response

from jobnotes.errors import OpenFlagsError, ReviewError, StaleJobError
from jobnotes.photos.clock_notes import clock_notes
from jobnotes.pipeline import NAMES, incomplete
from jobnotes.record import Event, Job
from jobnotes.report import gate
from jobnotes.report.unprinted import unprinted
from jobnotes.review.history import standing
from jobnotes.store.attention import Attention, attention
from jobnotes.store.issued import issued_of
from jobnotes.store.store import Summary
from jobnotes.web import shown
from jobnotes.web.shown import Shown
from jobnotes.web.site import Ask, go, page
from jobnotes.web.steps import FIELD, step_of

MOST_JOBS = 50
"""Jobs of one page: a week's work; counting what waits on each is most of the page's time."""

AT_ONCE = ("undo", "unflagged", "correct", "settle")
"""Steps after which the same fact stays chosen; after others the next one that waits is."""


@dataclass(frozen=True)
class Row:
    """One line of the list: a job, what waits on it, and its rank (0 waits, 3 issued)."""

    job: Summary
    waits: Attention
    rank: int
    words: str


def jobs(ask: Ask) -> Response:
    """List the jobs, newest first within what waits, may go out, is empty, went out."""
    search, skip = ask.query("q")[:200], _skipped(ask.query("skip"))
    found = ask.desk.store.list(search, limit=MOST_JOBS + 1, skip=skip)
    older = skip + MOST_JOBS if len(found) > MOST_JOBS else 0
    found = found[:MOST_JOBS]
    waits = attention(ask.desk.store, [job.id for job in found])
    rows = [_row(job, waits[job.id], ask.site.worker.busy(job.id)) for job in found]
    rows.sort(key=lambda row: row.rank)
    newer = max(0, skip - MOST_JOBS) if skip else None
    return page(ask, "jobs.html", rows=rows, search=search, older=older, newer=newer)


def _skipped(told: str) -> int:
    """Return how many of the newest jobs a page leaves out; 0 for what is no count."""
    return int(told) if told.isascii() and told.isdigit() and len(told) <= 9 else 0


def _row(job: Summary, waits: Attention, busy: bool) -> Row:
    words = _waits_in_words(job, waits, busy)
    issued = waits.version and waits.issued_revision == job.revision
    rank = 3 if issued else 2 if words == EMPTY else 1 if words == READY else 0
    return Row(job, waits, rank, words)


READY = "Everything is read: the report can be issued"
EMPTY = "No recording yet"


def _waits_in_words(job: Summary, waits: Attention, busy: bool) -> str:
    if busy:
        return "The computer is working on it"
    if waits.version and waits.issued_revision == job.revision:
        return f"Report {waits.version} issued"
    if not waits.recordings:
        return EMPTY
    if waits.steps_done < len(NAMES):
        return "A step did not finish"
    said = [
        f"{waits.flagged} flagged" if waits.flagged else "",
        f"{waits.unread} to read" if waits.unread else "",
        f"changed since report {waits.version}" if waits.version else "",
    ]
    return ", ".join(filter(None, said)) or READY


def new_job(ask: Ask) -> Response:
    """Start a job."""
    machine, serial, customer = (
        ask.form.get(name, "").strip()[:200] for name in ("machine", "serial", "customer")
    )
    return go(f"/jobs/{ask.desk.new(machine, serial, customer).id}")


def job(ask: Ask) -> Response:
    """Show one job."""
    return job_page(ask)


def job_page(
    ask: Ask, status: int = 200, wrong: str = "", form: Mapping[str, str] | None = None
) -> Response:
    """Show a job; `wrong` says why a step was not taken, `form` keeps what was typed for it."""
    held, revision = ask.desk.store.load(ask.part("job"))
    facts = shown.facts(held)
    typed = form or {}
    chosen = typed.get("subject") or ask.query("fact") or (facts[0].id if facts else "")
    evidence = [place for fact in held.facts if fact.id == chosen for place in fact.evidence]
    return page(
        ask, "job.html", status, job=held, revision=revision, facts=facts, chosen=chosen,
        lines=shown.lines(held), marked=shown.marked(evidence), wrong=wrong, typed=typed,
        unfinished=incomplete(held), holds=_holds(held), busy=ask.site.worker.busy(held.id),
        said=ask.site.worker.said.get(held.id, ""), last=_last(held), field_prefix=FIELD,
        issued=issued_of(ask.desk.store, held.id), unprinted=unprinted(held),
        clocks=clock_notes(held),
    )  # fmt: skip


def _holds(job: Job) -> str:
    """Say what still holds the report back; empty when it may go out."""
    if incomplete(job):
        return "A step has not finished."
    try:
        gate.issue(job)
    except OpenFlagsError as error:
        return error.what
    return ""


def _last(job: Job) -> Event | None:
    """Return the step that an undo would take back."""
    steps = standing(job)
    return steps[-1] if steps else None


def review(ask: Ask) -> Response:
    """Take one step of review, or say why not and keep what was typed."""
    job_id, form = ask.part("job"), ask.form
    if ask.site.worker.busy(job_id):
        return job_page(ask, 409, "The computer is working on this job. Try again soon.", form)
    before = shown.facts(ask.desk.load(job_id))
    try:
        ask.desk.review(job_id, step_of(form, ask.who), seen(form))
    except StaleJobError:
        return _stale(ask)
    except ReviewError as error:
        return job_page(ask, 422, str(error), form)
    chosen = _next(before, form)
    return go(f"/jobs/{job_id}?fact={chosen}#{_anchor(form, chosen)}")


def _anchor(form: Mapping[str, str], chosen: str) -> str:
    subject = form.get("subject", "")
    is_photo = form.get("step") in ("caption", "show", "leave-out")
    return f"photo-{subject}" if is_photo else f"fact-{chosen}"


def seen(form: Mapping[str, str]) -> int:
    """Return the revision that the clerk has looked at; raises ReviewError without one."""
    told = form.get("revision", "")
    if not told.isascii() or not told.isdigit() or len(told) > 9:
        raise ReviewError("The form does not say which state of the job it saw.", "Load it anew.")
    return int(told)


def _next(before: Sequence[Shown], form: Mapping[str, str]) -> str:
    """Return the fact to look at next: the first after this one that nobody has settled."""
    ids, subject = [fact.id for fact in before], form.get("subject", "")
    if subject not in ids or form.get("step") in AT_ONCE:
        return subject if subject in ids else form.get("chosen", "")
    place = ids.index(subject)
    later = (*before[place + 1 :], *before[:place])
    waiting = [fact.id for fact in later if fact.flags or not (fact.settled or fact.office)]
    return waiting[0] if waiting else subject


def _stale(ask: Ask) -> Response:
    """Show what somebody else changed, and the step that was not taken, ready to be repeated."""
    held, revision = ask.desk.store.load(ask.part("job"))
    seen = ask.form.get("events", "")
    news = held.events[int(seen) :] if seen.isascii() and seen.isdigit() else held.events
    fact = next((one for one in shown.facts(held) if one.id == ask.form.get("subject")), None)
    kept = {k: v for k, v in ask.form.items() if k not in ("csrf", "revision", "events")}
    return page(
        ask, "stale.html", 409, job=held, revision=revision, news=news, fact=fact, kept=kept,
        field_prefix=FIELD, titles={one.id: one.title for one in shown.facts(held)},
    )  # fmt: skip

"""The office's pages: the list of jobs, one job, and each step of its review."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, NamedTuple

from starlette.responses import Response

from jobnotes.errors import OpenFlagsError, ReviewError, StaleJobError
from jobnotes.photos.clock_notes import clock_notes
from jobnotes.pipeline import NAMES, incomplete
from jobnotes.record import Event, Issued, Job
from jobnotes.report import gate
from jobnotes.report.unprinted import unprinted
from jobnotes.review.corrections import FIXED
from jobnotes.review.corrections import KINDS as MODELS
from jobnotes.review.history import standing
from jobnotes.review.whole import OF_JOB, OF_MACHINE
from jobnotes.store.attention import Attention, attention
from jobnotes.store.issued import Version, issued_of
from jobnotes.store.links import links_of
from jobnotes.store.store import Summary
from jobnotes.web import shown
from jobnotes.web.entering import enter_page
from jobnotes.web.files import forms_of
from jobnotes.web.marking import marks_page, view
from jobnotes.web.shown import Say, Shown
from jobnotes.web.site import Ask, go, page
from jobnotes.web.steps import FIELD, step_of

MOST_JOBS = 50
"""Jobs of one page: a week's work; counting what waits on each is most of the page's time."""

OF_PHOTO = ("caption", "show", "leave-out", "earlier", "later")
MARKING = ("mark", "unmark")
AT_ONCE = ("undo", "unflagged", "correct", "settle")
"""Steps after which the same fact stays chosen; after others the next one that waits is."""


class Gone(NamedTuple):
    """An issued version and its files by their form."""

    version: Version
    files: Mapping[str, Issued]


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
    busy = ask.site.worker.busy
    rows = [_row(job, waits[job.id], busy(job.id), ask.say) for job in found]
    rows.sort(key=lambda row: row.rank)
    newer = max(0, skip - MOST_JOBS) if skip else None
    return page(ask, "jobs.html", rows=rows, search=search, older=older, newer=newer)


def _skipped(told: str) -> int:
    """Return how many of the newest jobs a page leaves out; 0 for what is no count."""
    return int(told) if told.isascii() and told.isdigit() and len(told) <= 9 else 0


def _row(job: Summary, waits: Attention, busy: bool, say: Say) -> Row:
    issued = waits.version and waits.issued_revision == job.revision
    if issued:
        told = "waits-answered" if waits.answers else "waits-issued"
        return Row(job, waits, 3, say(told, number=waits.version))
    if busy:
        return Row(job, waits, 0, say("waits-busy"))
    if not waits.recordings:
        return Row(job, waits, 2, say("waits-empty"))
    words = _waits_in_words(waits, say)
    return Row(job, waits, 0, words) if words else Row(job, waits, 1, say("waits-ready"))


def _waits_in_words(waits: Attention, say: Say) -> str:
    if waits.steps_done < len(NAMES):
        return say("waits-step")
    said = [
        say("waits-flagged", count=waits.flagged) if waits.flagged else "",
        say("waits-unread", count=waits.unread) if waits.unread else "",
        say("waits-changed", number=waits.version) if waits.version else "",
    ]
    return ", ".join(filter(None, said))


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
    ask: Ask,
    status: int = 200,
    wrong: str = "",
    form: Mapping[str, str] | None = None,
    link: str = "",
) -> Response:
    """Show a job; `wrong` says why a step was not taken, `form` keeps what was typed for it.

    `link` is a new one for the customer, shown this once.
    """
    held, revision = ask.desk.store.load(ask.part("job"))
    facts = shown.facts(held, ask.say)
    typed = form or {}
    chosen = typed.get("subject") or ask.query("fact") or (facts[0].id if facts else "")
    evidence = [place for fact in held.facts if fact.id == chosen for place in fact.evidence]
    return page(
        ask, "job.html", status, job=held, revision=revision, facts=facts, chosen=chosen,
        lines=shown.lines(held), marked=shown.marked(evidence), wrong=wrong, typed=typed,
        unfinished=incomplete(held), holds=_holds(held, ask.say), last=_last(held),
        busy=ask.site.worker.busy(held.id), said=ask.site.worker.said.get(held.id, ""),
        details=_details(held), views={photo.id: view(photo) for photo in held.photos},
        field_prefix=FIELD, link=link, unprinted=unprinted(held),
        clocks=clock_notes(held), **_gone_out(ask, held),
    )  # fmt: skip


def _gone_out(ask: Ask, job: Job) -> dict[str, Any]:
    """Return what the page says of a job's issued reports and its links for the customer."""
    return {
        "issued": [Gone(one, forms_of(job, one)) for one in issued_of(ask.desk.store, job.id)],
        "links": links_of(ask.desk.store, job.id),
        "links_on": ask.desk.settings.customer_links,
        "now": datetime.now(UTC),
    }


def _details(job: Job) -> dict[str, str]:
    """Return whose job it is and which machine, as the form has them."""
    machine = job.machine.model_dump()
    return {"customer": job.customer, "technician": job.technician, **machine}


def _holds(job: Job, say: Say) -> str:
    """Say what still holds the report back; empty when it may go out."""
    if incomplete(job):
        return say("report-unfinished")
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
        return _again(ask, 409, ask.say("busy-now"))
    before = shown.facts(ask.desk.load(job_id), ask.say)
    try:
        done = ask.desk.review(job_id, step_of(form, ask.who), seen(form))
    except StaleJobError:
        return _stale(ask)
    except ReviewError as error:
        return _again(ask, 422, str(error))
    return go(_after(done, before, form))


def _again(ask: Ask, status: int, wrong: str) -> Response:
    """Show the page of a step that was not taken, with what was typed."""
    form = ask.form
    if form.get("step") == "enter":
        return enter_page(ask, status, wrong, form)
    if form.get("step") in MARKING:
        return marks_page(ask, form.get("subject", ""), status, wrong, form)
    return job_page(ask, status, wrong, form)


def _after(done: Job, before: Sequence[Shown], form: Mapping[str, str]) -> str:
    """Return where to go on after a step: to its photo, its new fact, or the next that waits."""
    step, subject = form.get("step"), form.get("subject", "")
    chosen = done.events[-1].subject if step == "enter" else _next(before, form)
    if step in MARKING:
        return f"/jobs/{done.id}/photos/{subject}/marks"
    anchor = f"photo-{subject}" if step in OF_PHOTO else f"fact-{chosen}"
    return f"/jobs/{done.id}?fact={chosen}#{anchor}"


LABELS = {
    "text": "caption", "words": "enter-words",
    **{name: f"detail-{name}" for name in (*OF_JOB, *OF_MACHINE)},
}  # fmt: skip
"""The messages that name what a form has beside the fields of a fact."""

TOLD = frozenset(name for model in MODELS.values() for name in model.model_fields) - FIXED
"""The fields that are told of a step that somebody else took."""


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
    facts = {one.id: one for one in shown.facts(held, ask.say)}
    kept = {k: v for k, v in ask.form.items() if k not in ("csrf", "revision", "events")}
    return page(
        ask, "stale.html", 409, job=held, revision=revision, news=news, kept=kept,
        fact=facts.get(ask.form.get("subject", "")), field_prefix=FIELD,
        titles={one.id: one.title for one in facts.values()}, labels=LABELS, told_fields=TOLD,
    )  # fmt: skip

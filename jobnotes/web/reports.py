"""The report as it would go out now, and issuing it: frozen by version under its hash."""

from starlette.responses import Response

from jobnotes.desk import Desk
from jobnotes.errors import (
    IncompleteJobError,
    OpenFlagsError,
    ReviewError,
    StaleJobError,
)
from jobnotes.record import Job
from jobnotes.report.content import story
from jobnotes.report.pdf import pdf
from jobnotes.report.story import Block
from jobnotes.store.issued import Version
from jobnotes.web.files import pdf_answer
from jobnotes.web.office import job_page, seen
from jobnotes.web.site import Ask, go, page


def preview(ask: Ask) -> Response:
    """Show each sentence that the customer would read now, with the facts it rests on."""
    job = ask.desk.load(ask.part("job"))
    told = story(job, ask.desk.shop(), True)
    return page(ask, "preview.html", job=job, story=told, sort=_sort)


def _sort(block: Block) -> str:
    """Tell a template which kind of block it has before it."""
    return type(block).__name__.lower()


def draft(ask: Ask) -> Response:
    """Print the report as it stands, marked as a draft."""
    job = ask.desk.load(ask.part("job"))
    return pdf_answer(printed(ask.desk, job, draft=True), f"{job.id}-draft.pdf")


def issue(ask: Ask) -> Response:
    """Issue the report, if the gate lets it out and nobody changed the job meanwhile."""
    job, revision = ask.desk.store.load(ask.part("job"))
    try:
        if revision != seen(ask.form):
            raise StaleJobError(f"Somebody else changed job {job.id} since it was opened.")
        frozen(ask.desk, job, revision, ask.who)
    except (OpenFlagsError, IncompleteJobError, StaleJobError, ReviewError) as error:
        return job_page(ask, 409, str(error))
    return go(f"/jobs/{job.id}#report")


def frozen(desk: Desk, job: Job, revision: int, who: str) -> Version:
    """Print a job's final report and keep it by its hash; raises what `gate.issue` raises."""
    whole = printed(desk, job, draft=False)
    return desk.issued(job.id, f"{job.id}.pdf", whole, who, revision)


def printed(desk: Desk, job: Job, *, draft: bool) -> bytes:
    """Return the report of a job as a PDF."""
    told = story(job, desk.shop(), draft, prices=desk.settings.print_prices)
    return pdf(told, desk.photo_bytes, desk.settings.page_size)

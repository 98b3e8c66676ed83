"""The report as it would go out now, and issuing it: frozen by version under its hash."""

from pathlib import Path

from starlette.responses import Response

from jobnotes.desk import Desk
from jobnotes.errors import (
    IncompleteJobError,
    OpenFlagsError,
    ReviewError,
    StaleJobError,
)
from jobnotes.record import Job
from jobnotes.store.issued import Version
from jobnotes.web.files import FORMS, pdf_answer, report_answer
from jobnotes.web.office import job_page, seen
from jobnotes.web.site import Ask, go


def draft_page(ask: Ask) -> Response:
    """Show the report as it stands, as the page that the customer would get, marked as a draft."""
    job = ask.desk.load(ask.part("job"))
    return report_answer(ask.desk.report(job, Path("draft.html"), draft=True))


def draft(ask: Ask) -> Response:
    """Print the report as it stands, marked as a draft."""
    job = ask.desk.load(ask.part("job"))
    printed = ask.desk.report(job, Path("draft.pdf"), draft=True)
    return pdf_answer(printed, f"{job.id}-draft.pdf")


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
    """Keep a job's final report in each form by its hash; raises what `gate.issue` raises."""
    names = [f"{job.id}.{form}" for form in FORMS]
    files = {name: desk.report(job, Path(name), draft=False) for name in names}
    return desk.issued(job, revision, files, who)

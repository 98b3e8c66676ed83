"""Links that the office gives to customers: one issued report each, for some days."""

import secrets
from datetime import UTC, datetime, timedelta

from starlette.exceptions import HTTPException
from starlette.responses import Response

from jobnotes.store.issued import issued_of
from jobnotes.store.links import Link, keep_link, revoke_link
from jobnotes.web.accounts import hashed
from jobnotes.web.files import forms_of
from jobnotes.web.office import job_page
from jobnotes.web.site import Ask, go

SECRET_BYTES = 32


def make(ask: Ask) -> Response:
    """Make a link to an issued version and show it, this once: only its hash is kept."""
    if not ask.desk.settings.customer_links:
        raise HTTPException(404, "Links for customers are off. They are put on in the settings.")
    job = ask.desk.load(ask.part("job"))
    wanted = [v for v in issued_of(ask.desk.store, job.id) if str(v.version) == ask.part("version")]
    if not wanted or "html" not in forms_of(job, wanted[0]):
        raise HTTPException(404, "This job has no such report.")
    now, secret = datetime.now(UTC), secrets.token_urlsafe(SECRET_BYTES)
    ends = now + timedelta(days=ask.desk.settings.link_days)
    link = Link(0, job.id, wanted[0].version, ask.who, now, ends, revoked=False)
    keep_link(ask.desk.store, link, hashed(secret))
    return job_page(ask, link=f"{str(ask.request.base_url).rstrip('/')}/report/{secret}")


def revoke(ask: Ask) -> Response:
    """Shut a link of the job for good."""
    job_id = ask.desk.load(ask.part("job")).id
    revoke_link(ask.desk.store, job_id, int(ask.part("link")))
    return go(f"/jobs/{job_id}#report")

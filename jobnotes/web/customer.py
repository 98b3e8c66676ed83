"""What a customer reaches by a link, without signing in: one issued report, and yes or no to it."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import NoReturn

from starlette.exceptions import HTTPException
from starlette.responses import Response

from jobnotes.record import Event, Job
from jobnotes.review.whole import answers
from jobnotes.store.issued import Version, issued_of
from jobnotes.store.links import Link, link_of
from jobnotes.web.accounts import hashed
from jobnotes.web.doors import address
from jobnotes.web.files import forms_of, frozen_answer
from jobnotes.web.signin import LONGEST_NAME, with_token
from jobnotes.web.site import Ask, go

ANSWER = "answer-"
"""What the names of the answers in the form begin with; the fact's id follows."""


@dataclass(frozen=True)
class Opened:
    """What a link opens: its job, and the issued version of its report."""

    link: Link
    job: Job
    version: Version

    def given(self) -> dict[str, Event]:
        """Return the last answer to each piece of advice of this version, by its fact."""
        mine = (one for one in self.job.events if one.after.get("report") == self.version.version)
        return answers(self.job.having(events=tuple(mine)))


def show(ask: Ask) -> Response:
    """Show the link's page: the report to read or keep, and what is advised."""
    return _page(ask, _opened(ask))


def report(ask: Ask) -> Response:
    """Serve the report itself, as it was frozen."""
    opened = _opened(ask)
    return frozen_answer(ask, opened.job, opened.version, ask.part("form"))


def answer(ask: Ask) -> Response:
    """Note a yes or no to each piece of advice that got one, with time and name."""
    opened = _opened(ask)
    said = {
        one.fact: ask.form[ANSWER + one.fact] == "yes"
        for one in opened.version.advice
        if ask.form.get(ANSWER + one.fact) in ("yes", "no")
    }
    name = " ".join(ask.form.get("name", "").split())[:LONGEST_NAME]
    if not said or not name:
        return _page(ask, opened, 422, ask.say("customer-answer-lacks"))
    ask.desk.answered(opened.job.id, opened.version.version, said, name)
    return go(f"/report/{ask.part('secret')}?kept=yes")


def _opened(ask: Ask) -> Opened:
    """Return what the secret opens; every reason to refuse looks the same from outside."""
    key, throttle = f"link {address(ask.request)}", ask.site.throttle
    if (wait := throttle.wait_s(key)) > 0:
        told = {"Retry-After": f"{wait:.0f}"}
        raise HTTPException(429, ask.say("customer-too-often", seconds=f"{wait:.0f}"), told)
    link = link_of(ask.desk.store, hashed(ask.part("secret")))
    if link is None:
        throttle.failed(key)
        _refuse(ask)
    if not ask.desk.settings.customer_links or not link.opens(datetime.now(UTC)):
        _refuse(ask)
    job = ask.desk.load(link.job)
    version = next(one for one in issued_of(ask.desk.store, job.id) if one.version == link.version)
    return Opened(link, job, version)


def _refuse(ask: Ask) -> NoReturn:
    raise HTTPException(404, ask.say("customer-no-link"))


def _page(ask: Ask, opened: Opened, status: int = 200, wrong: str = "") -> Response:
    return with_token(
        ask, "customer.html", status, opened=opened, job=opened.job, given=opened.given(),
        forms=forms_of(opened.job, opened.version), prefix=ANSWER, typed=ask.form, wrong=wrong,
        kept=ask.query("kept"), secret=ask.part("secret"), phone=ask.desk.settings.shop.phone,
    )  # fmt: skip

"""The link for a customer: what it opens, what it notes, and when it opens nothing."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import select, update
from web_shop import step

from jobnotes.record import Recommendation
from jobnotes.retention import erase_customer
from jobnotes.review import entering
from jobnotes.review.history import ANSWER
from jobnotes.store.issued import issued_of
from jobnotes.store.links import links_of
from jobnotes.store.tables import LINKS
from jobnotes.web.throttle import FREE_TRIES


@pytest.fixture
def issued(clerk, desk, job):
    """The job with one piece of advice, issued once, while links are on."""
    desk.set_up({"customer_links": True}, "")
    advice = {"text": "change the drive belt every year"}
    span = entering.span_of(job, "fitted a new drive belt")
    desk.review(
        job.id,
        lambda held: entering.enter(held, "recommendation", advice, span, "Ada", datetime.now(UTC)),
    )
    review = f"/jobs/{job.id}/review"
    clerk.post(review, data=step(desk, job.id, "unflagged"))
    for fact in desk.load(job.id).facts:
        if fact.open_flags:
            clerk.post(review, data=step(desk, job.id, "listened", fact.id))
    assert clerk.post(f"/jobs/{job.id}/issue", data=step(desk, job.id, "issue")).is_redirect
    return desk.load(job.id)


@pytest.fixture
def link(clerk, issued):
    page = clerk.post(f"/jobs/{issued.id}/reports/1/link").text
    return "/report/" + re.search(r"/report/([\w-]{43})", page)[1]


def advice_id(job):
    return next(fact.id for fact in job.facts if isinstance(fact, Recommendation))


def answered(anybody, link, job, said, name="Jo Okafor"):
    token = re.search('name="csrf" value="([^"]+)"', anybody.get(link).text)[1]
    form = {"csrf": token, "name": name, f"answer-{advice_id(job)}": said}
    return anybody.post(link, data=form)


def test_a_link_opens_the_report_as_it_was_frozen(anybody, desk, issued, link):
    page = anybody.get(link)
    assert "change the drive belt every year" in page.text.lower()
    html = anybody.get(f"{link}/file.html")
    frozen = next(one for one in issued.reports if one.name.endswith(".html"))
    assert html.content == desk.media.path(frozen.sha256).read_bytes()
    assert "default-src 'none'" in html.headers["content-security-policy"]
    assert anybody.get(f"{link}/file.pdf").content.startswith(b"%PDF")
    assert page.headers["referrer-policy"] == "no-referrer"


@pytest.mark.parametrize("said", ["yes", "no"])
def test_an_answer_is_noted_with_time_and_name_and_the_office_sees_it(
    anybody, clerk, desk, issued, link, said
):
    assert answered(anybody, link, issued, said).is_redirect
    (event,) = [one for one in desk.load(issued.id).events if one.what == ANSWER]
    assert (event.who, event.subject) == ("Jo Okafor", advice_id(issued))
    assert event.after == {"answer": said, "report": 1}
    assert abs(datetime.now(UTC) - event.at) < timedelta(minutes=1)
    assert f"Customer: {said} (Jo Okafor" in clerk.get(f"/jobs/{issued.id}").text
    assert "Report 1 issued, the customer has answered" in clerk.get("/jobs").text


def test_an_answer_stands_in_the_job_record(anybody, desk, issued, link, tmp_path):
    answered(anybody, link, issued, "no")
    desk.record(issued.id, tmp_path / "record.html")
    assert "The customer said no to report 1 (Jo Okafor" in (tmp_path / "record.html").read_text()


def test_what_is_erased_with_a_customer_has_no_link(anybody, desk, issued, link):
    assert erase_customer(desk, issued.customer, "Ada")
    assert refused(anybody, link)
    assert links_of(desk.store, issued.id) == ()


def test_an_answer_changes_nothing_in_the_report(anybody, clerk, desk, issued, link):
    answered(anybody, link, issued, "yes")
    (version,) = issued_of(desk.store, issued.id)
    assert version.revision == desk.store.load(issued.id).revision
    assert "the job was changed since" not in clerk.get(f"/jobs/{issued.id}").text


def test_an_answer_does_not_reach_a_clerk_who_works_on_the_job_unseen(
    anybody, clerk, desk, issued, link
):
    mine = step(desk, issued.id, "undo")
    answered(anybody, link, issued, "yes")
    answer = clerk.post(f"/jobs/{issued.id}/review", data=mine)
    assert answer.status_code == 409
    assert "Jo Okafor: customer&#39;s answer" in answer.text


def test_a_later_answer_takes_the_place_of_the_first_on_the_page(anybody, issued, link):
    answered(anybody, link, issued, "yes")
    answered(anybody, link, issued, "no")
    assert "Customer: no" in anybody.get(link).text


@pytest.mark.parametrize(
    "form",
    [{"name": "Jo"}, {"name": " "}, {"name": "Jo", "answer-e1": "maybe"}, {"answer-e1": "yes"},
     {"name": "Jo", "answer-nothing": "yes"}],
)  # fmt: skip
def test_half_an_answer_is_not_noted(anybody, desk, issued, link, form):
    token = re.search('name="csrf" value="([^"]+)"', anybody.get(link).text)[1]
    assert anybody.post(link, data={"csrf": token, **form}).status_code == 422
    assert not any(one.what == ANSWER for one in desk.load(issued.id).events)


def test_an_answer_from_another_site_is_refused(anybody, desk, issued, link):
    anybody.get(link)
    form = {"name": "Jo", f"answer-{advice_id(issued)}": "yes"}
    assert anybody.post(link, data=form).status_code == 403
    assert not any(one.what == ANSWER for one in desk.load(issued.id).events)


def refused(client, link):
    answers = [client.get(link + more) for more in ("", "/file.html", "/file.pdf")]
    return [answer.status_code for answer in answers] == [404] * 3


def test_an_expired_link_opens_nothing(anybody, desk, link):
    past = (datetime.now(UTC) - timedelta(seconds=1)).isoformat()
    with desk.store.transaction(writing=True) as connection:
        connection.execute(update(LINKS).values(ends=past))
    assert refused(anybody, link)


def test_a_link_ends_after_the_days_that_are_set(desk, issued, link):
    (one,) = links_of(desk.store, issued.id)
    assert one.ends - one.made_at == timedelta(days=desk.settings.link_days)


def test_a_link_that_was_taken_back_opens_nothing(anybody, clerk, desk, issued, link):
    (one,) = links_of(desk.store, issued.id)
    assert clerk.post(f"/jobs/{issued.id}/links/{one.id}/revoke").is_redirect
    assert refused(anybody, link)


def test_a_link_is_not_taken_back_through_another_job(anybody, clerk, desk, issued, link):
    (one,) = links_of(desk.store, issued.id)
    clerk.post(f"/jobs/{desk.new(machine='edger').id}/links/{one.id}/revoke")
    assert anybody.get(link).status_code == 200


def test_links_that_are_off_open_nothing_and_are_not_made(anybody, clerk, desk, issued, link):
    from jobnotes.toml_file import seen

    file = desk.settings.data_folder / "settings.toml"
    desk.set_up({"customer_links": False}, seen(file))
    assert refused(anybody, link)
    assert clerk.post(f"/jobs/{issued.id}/reports/1/link").status_code == 404


def test_links_are_off_until_the_shop_puts_them_on(desk):
    assert not desk.settings.customer_links


def test_a_link_shows_no_other_job_and_lets_nobody_into_the_pages(anybody, desk, issued, link):
    other = desk.new(machine="edger", customer="Marlow Paving")
    page = anybody.get(link).text
    assert "Marlow" not in page
    for path in ("/jobs", f"/jobs/{issued.id}", f"/jobs/{other.id}", "/phones", "/bench"):
        assert anybody.get(path).headers["location"] == "/sign-in"
    assert anybody.get(f"/report/{issued.id}").status_code == 404


def test_guessing_is_held_back_whatever_is_guessed_then(anybody, link):
    for n in range(FREE_TRIES):
        assert anybody.get(f"/report/{'x' * 42}{n}").status_code == 404
    answer = anybody.get(link)
    assert answer.status_code == 429
    assert int(answer.headers["retry-after"]) > 0


def test_only_the_hash_of_a_link_is_kept(desk, link):
    secret = link.removeprefix("/report/")
    with desk.store.transaction() as connection:
        (kept,) = connection.execute(select(LINKS.c.token)).scalars()
    assert len(kept) == 64
    assert secret not in kept
    files = [file for file in desk.settings.data_folder.rglob("*") if file.is_file()]
    assert not any(secret.encode() in file.read_bytes() for file in files)


def test_only_the_office_makes_links(technician, issued):
    assert technician.post(f"/jobs/{issued.id}/reports/1/link").status_code == 403


def test_a_report_that_was_not_issued_has_no_link(clerk, issued):
    assert clerk.post(f"/jobs/{issued.id}/reports/2/link").status_code == 404

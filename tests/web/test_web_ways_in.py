"""Who is let in where: sign-in, roles, tokens, hosts, limits, headers."""

import logging
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import select, update
from starlette.routing import Route
from starlette.testclient import TestClient
from web_shop import PASSWORD, signed_in, step

from jobnotes.errors import AccessError
from jobnotes.store.tables import PEOPLE, SESSIONS
from jobnotes.web.accounts import make_account
from jobnotes.web.app import build, routes
from jobnotes.web.doors import FORM_BYTES
from jobnotes.web.throttle import FREE_TRIES, Rate

REPORT = "/report/{secret}"
OPEN_TO_ALL = {"/sign-in", "/pair", "/authority.crt", REPORT, REPORT + "/file.{form}"}


def filled(path, job):
    values = {"job": job.id, "recording": "r1", "photo": "p1", "version:int": "1", "phone:int": "1"}
    values |= {"form": "pdf", "link:int": "1", "secret": "0" * 43}
    values |= {"take": "0" * 32, "part:int": "0", "number:int": "0", "sha256": "0" * 64}
    for name, value in values.items():
        path = path.replace(f"{{{name}}}", value)
    return path


def ways(role=None):
    found = [route for route in routes() if isinstance(route, Route)]
    wanted = [one for one in found if role is None or one.endpoint.role == role]
    return [
        pytest.param(method, one.path, id=f"{method} {one.path}")
        for one in wanted
        for method in sorted(one.methods - {"HEAD"})
    ]


def ask(client, method, path):
    body = b"" if method != "GET" else None
    return client.request(method, path, content=body)


@pytest.mark.parametrize(("method", "path"), ways())
def test_nobody_gets_anywhere_without_signing_in(anybody, job, method, path):
    if path in OPEN_TO_ALL:
        pytest.skip("meant for those who have not signed in")
    answer = ask(anybody, method, filled(path, job))
    if path.startswith("/api/"):
        assert answer.status_code == 401
    else:
        assert (answer.status_code, answer.headers["location"]) == (303, "/sign-in")


@pytest.mark.parametrize(("method", "path"), ways("office"))
def test_the_bench_is_kept_out_of_the_office(technician, job, method, path):
    assert ask(technician, method, filled(path, job)).status_code == 403


@pytest.mark.parametrize(("method", "path"), [w for w in ways() if w.values[0] != "GET"])
def test_nothing_is_changed_without_the_token_of_the_session(clerk, desk, job, method, path):
    del clerk.headers["x-csrf"]
    before = desk.store.load(job.id)
    assert ask(clerk, method, filled(path, job)).status_code == 403
    assert desk.store.load(job.id) == before
    assert clerk.get("/jobs").status_code == 200


def test_a_token_of_another_session_is_refused(clerk, other_clerk, desk, job):
    clerk.headers["x-csrf"] = other_clerk.headers["x-csrf"]
    form = step(desk, job.id, "unflagged")
    assert clerk.post(f"/jobs/{job.id}/review", data=form).status_code == 403


def test_a_form_sent_by_another_site_is_refused(clerk, desk, job):
    form = step(desk, job.id, "unflagged")
    foreign = {"sec-fetch-site": "cross-site"}
    assert clerk.post(f"/jobs/{job.id}/review", data=form, headers=foreign).status_code == 403


def try_password(client, name, password):
    client.get("/sign-in")
    form = {"csrf": client.cookies["jobnotes_form"], "name": name, "password": password}
    return client.post("/sign-in", data=form)


def test_name_and_password_let_a_clerk_in(anybody):
    anybody.get("/sign-in")
    form = {"csrf": anybody.cookies["jobnotes_form"], "name": "Ada", "password": PASSWORD}
    assert anybody.post("/sign-in", data=form).headers["location"] == "/jobs"
    assert anybody.get("/jobs").status_code == 200


def test_a_wrong_password_does_not_say_what_was_wrong(anybody):
    told = [try_password(anybody, name, "wrong wrong wrong") for name in ("Ada", "Nobody")]
    assert [one.status_code for one in told] == [401, 401]
    said = "Name and password do not fit"
    assert all(said in one.text for one in told)


def test_wrong_passwords_are_held_back_also_when_the_right_one_follows(anybody):
    for _ in range(FREE_TRIES):
        try_password(anybody, "Ada", "wrong wrong wrong")
    answer = try_password(anybody, "Ada", PASSWORD)
    assert answer.status_code == 429
    assert int(answer.headers["retry-after"]) > 0


def test_the_cookie_is_out_of_reach_of_scripts_and_of_other_sites(anybody):
    anybody.get("/sign-in")
    form = {"csrf": anybody.cookies["jobnotes_form"], "name": "Ada", "password": PASSWORD}
    cookie = anybody.post("/sign-in", data=form).headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie


def test_over_https_the_cookie_never_travels_in_the_clear(desk):
    from jobnotes.web.site import Site
    from jobnotes.web.worker import Worker

    site = Site(desk, Worker(), ("testserver",), secure=True)
    client = TestClient(build(site), "https://testserver", follow_redirects=False)
    client.get("/sign-in")
    form = {"csrf": client.cookies["jobnotes_form"], "name": "Ada", "password": PASSWORD}
    cookie = client.post("/sign-in", data=form).headers["set-cookie"]
    assert cookie.startswith("__Host-jobnotes=")
    assert "; Secure" in cookie


def test_signing_out_ends_the_session_on_the_server(clerk, site):
    stolen = dict(clerk.cookies)
    clerk.post("/sign-out")
    thief = TestClient(build(site), cookies=stolen, follow_redirects=False)
    assert thief.get("/jobs").status_code == 303


def test_a_session_ends_by_itself(clerk, desk):
    ended = (datetime.now(UTC) - timedelta(seconds=1)).isoformat()
    with desk.store.transaction(writing=True) as connection:
        connection.execute(update(SESSIONS).values(ends=ended))
    assert clerk.get("/jobs").status_code == 303


def test_a_new_password_ends_the_sessions_of_the_old_one(clerk, desk):
    make_account(desk.store, "Ada", "office", "another long password")
    assert clerk.get("/jobs").status_code == 303


def test_the_store_holds_neither_passwords_nor_what_cookies_hold(clerk, desk):
    with desk.store.transaction() as connection:
        rows = [*connection.execute(select(PEOPLE)), *connection.execute(select(SESSIONS.c.token))]
    kept = str(rows)
    assert "$argon2id$" in kept
    assert PASSWORD not in kept
    assert clerk.cookies["jobnotes"] not in kept


@pytest.mark.parametrize("password", ["short", "x" * 200])
def test_a_weak_password_is_refused(desk, password):
    with pytest.raises(AccessError):
        make_account(desk.store, "Cy", "office", password)


def test_an_unknown_host_is_refused(clerk):
    assert clerk.get("/jobs", headers={"host": "evil.example"}).status_code == 400


@pytest.mark.parametrize("path", ["/sign-in", "/jobs", "/jobs/none", "/static/look.css", "/x"])
def test_every_answer_has_the_guarding_headers(clerk, path):
    head = clerk.get(path).headers
    policy = head["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert head["x-content-type-options"] == "nosniff"


def test_no_page_has_script_or_style_of_its_own(clerk, job):
    for path in ("/sign-in", "/jobs", f"/jobs/{job.id}", f"/bench/{job.id}", "/phones"):
        page = clerk.get(path).text
        assert "<style" not in page
        assert " style=" not in page
        assert " onclick=" not in page
        assert page.count("<script") == page.count('<script src="/static/')


def test_a_form_that_is_too_large_is_refused_unread(clerk, job):
    answer = clerk.post(f"/jobs/{job.id}/review", content=b"x" * (FORM_BYTES + 1))
    assert answer.status_code == 413


def test_a_body_of_untold_length_is_refused(clerk, job):
    answer = clerk.post(f"/jobs/{job.id}/review", content=iter([b"x"]))
    assert answer.status_code == 411


def test_too_many_requests_are_held_back():
    rate = Rate(most=3, within_s=60)
    assert [rate.allows("a") for _ in range(4)] == [True, True, True, False]
    assert rate.allows("b")


def test_what_a_customer_is_called_is_never_markup(clerk, desk):
    desk.new(machine="<script>alert(1)</script>", customer='"><img src=x>')
    page = clerk.get("/jobs").text
    assert "<script>alert" not in page
    assert "<img src=x>" not in page


def test_the_log_has_no_name_no_words_and_no_token(caplog, site, desk, job):
    caplog.set_level(logging.INFO, logger="jobnotes")
    clerk = signed_in(site, "Ada")
    clerk.get(f"/jobs/{job.id}")
    clerk.post(f"/jobs/{job.id}/review", data=step(desk, job.id, "unflagged"))
    ours = [one.getMessage() for one in caplog.records if not one.name.startswith("http")]
    assert ours == []


def test_an_error_under_api_is_a_problem_of_rfc_9457(anybody, technician):
    for client, status in ((anybody, 401), (technician, 404)):
        answer = client.put(f"/api/jobs/none/photos/{'0' * 64}", content=b"x")
        assert answer.status_code == status
        assert answer.headers["content-type"] == "application/problem+json"
        assert answer.json()["status"] == status
        assert answer.json()["detail"]


def test_the_description_names_every_way_under_api(technician):
    told = technician.get("/api/openapi.json").json()["paths"]
    wanted = {
        (one.path.replace(":int", ""), method.lower())
        for one in routes()
        if isinstance(one, Route) and one.path.startswith("/api/")
        for method in one.methods - {"HEAD"}
    }
    assert {(path, method) for path, ways in told.items() for method in ways} == wanted


def test_a_phone_is_paired_once_by_its_code_and_shut_out_for_good(clerk, anybody, site):
    shown = clerk.post("/phones", data={"name": "blue phone", "person": "Rune"}).text
    assert "<svg" in shown
    code = shown.partition("/pair?code=")[2].partition("<")[0].strip()
    assert anybody.get(f"/pair?code={code}").status_code == 200
    form = {"code": code, "csrf": anybody.cookies["jobnotes_form"]}
    assert anybody.post("/pair", data=form).headers["location"] == "/bench"
    assert "Rune" in anybody.get("/bench").text
    second = TestClient(build(site), follow_redirects=False)
    second.get("/pair")
    form["csrf"] = second.cookies["jobnotes_form"]
    assert second.post("/pair", data=form).status_code == 403
    clerk.post("/phones/1/revoke")
    assert anybody.get("/bench").status_code == 303


def test_a_paired_phone_does_not_get_into_the_office(clerk, anybody):
    shown = clerk.post("/phones", data={"name": "phone", "person": "Rune"}).text
    code = shown.partition("/pair?code=")[2].partition("<")[0].strip()
    anybody.get("/pair")
    anybody.post("/pair", data={"code": code, "csrf": anybody.cookies["jobnotes_form"]})
    assert anybody.get("/jobs").status_code == 403

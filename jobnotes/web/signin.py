"""Signing in and out, and pairing a phone."""

import secrets
from typing import Any

from starlette.exceptions import HTTPException
from starlette.responses import Response

from jobnotes.errors import AccessError
from jobnotes.store import people
from jobnotes.store.people import Role
from jobnotes.web import accounts
from jobnotes.web.doors import FORM_COOKIE, address
from jobnotes.web.site import Ask, go, page

LONGEST_NAME = 80


def sign_in_page(ask: Ask) -> Response:
    """Show the form for name and password."""
    return with_token(ask, "sign_in.html", name="", wrong="")


def sign_in(ask: Ask) -> Response:
    """Let somebody in, or say that name and password do not fit, without saying which."""
    name = ask.form.get("name", "")[:LONGEST_NAME].strip()
    keys = (f"name {name.casefold()}", f"address {address(ask.request)}")
    wait = max(ask.site.throttle.wait_s(key) for key in keys)
    if wait > 0:
        raise HTTPException(
            429,
            ask.say("sign-in-wait", seconds=f"{wait:.0f}"),
            {"Retry-After": f"{wait:.0f}"},
        )
    person = accounts.knows(ask.desk.store, name, ask.form.get("password", ""))
    for key in keys:
        (ask.site.throttle.passed if person else ask.site.throttle.failed)(key)
    if person is None:
        wrong = ask.say("sign-in-wrong")
        return with_token(ask, "sign_in.html", 401, name=name, wrong=wrong)
    return _signed_in(ask, person.name, person.role)


def sign_out(ask: Ask) -> Response:
    """End the session on the server as well as in the browser."""
    if ask.session:
        people.end_session(ask.desk.store, ask.session.token)
    answer = go("/sign-in")
    answer.delete_cookie(ask.site.cookie, path="/", secure=ask.site.secure, httponly=True)
    return answer


def pair_page(ask: Ask) -> Response:
    """Ask before a code is used up, since programs that look at links only follow them."""
    return with_token(ask, "pair.html", code=ask.query("code"), wrong="")


def pair(ask: Ask) -> Response:
    """Use up a code and keep this phone signed in."""
    try:
        phone = accounts.pair(ask.desk.store, ask.form.get("code", ""))
    except AccessError as error:
        return with_token(ask, "pair.html", 403, code="", wrong=str(error))
    return _signed_in(ask, phone.person, "bench", phone.id)


def _signed_in(ask: Ask, person: str, role: Role, phone: int | None = None) -> Response:
    secret, session = accounts.sign_in(ask.desk.store, person, role, phone)
    answer = go("/jobs" if role == "office" else "/bench")
    answer.set_cookie(
        ask.site.cookie,
        secret,
        expires=session.ends,
        path="/",
        secure=ask.site.secure,
        httponly=True,
        samesite="strict" if phone is None else "lax",
    )
    return answer


def with_token(ask: Ask, template: str, status: int = 200, **shown: Any) -> Response:
    """Show a form before anybody is signed in; a cookie holds what its hidden field repeats."""
    token = ask.session.csrf if ask.session else secrets.token_urlsafe(32)
    answer = page(ask, template, status, csrf=token, **shown)
    answer.set_cookie(FORM_COOKIE, token, secure=ask.site.secure, httponly=True, samesite="strict")
    return answer

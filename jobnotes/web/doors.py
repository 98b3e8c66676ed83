"""The one way in: every handler is reached through `door`, which checks size, person and token."""

import asyncio
import secrets
from collections.abc import Awaitable, Callable

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from jobnotes.store.people import Role, Session
from jobnotes.web.accounts import session_for
from jobnotes.web.site import Ask, Site, go

Handler = Callable[[Ask], Response]
Endpoint = Callable[[Request], Awaitable[Response]]

FORM_BYTES = 256 * 1024
PIECE_BYTES = 1024 * 1024  # a second of sound is about 16 kB at 128 kbit/s
LOGO_BYTES = 4 * 1024 * 1024
PHOTO_BYTES = 60 * 1024 * 1024  # a 200-megapixel phone photo has about 50 MB
PATIENCE_S = 30.0
SLOWEST = 32 * 1024
"""Bytes a second below which, after `PATIENCE_S`, a body is not waited for; no source."""

MOST_FIELDS, MOST_FILES = 100, 20
FORM_KINDS = ("application/x-www-form-urlencoded", "multipart/form-data")
FORM_COOKIE = "jobnotes_form"


def door(handler: Handler, role: Role | None, limit: int = FORM_BYTES) -> Endpoint:
    """Return the endpoint of a handler; `role` none lets anybody in, "bench" also the office."""

    async def endpoint(request: Request) -> Response:
        site: Site = request.app.state.site
        _check_size(request, limit)
        secret = request.cookies.get(site.cookie, "")
        session = await run_in_threadpool(session_for, site.desk.store, secret)
        _check_rate(site, request, session)
        if role is not None and session is None:
            return _not_signed_in(request)
        if role == "office" and session and session.role != "office":
            raise HTTPException(403, "This page is for the office.")
        ask = await _read_in_time(site, request, session)
        if request.method not in ("GET", "HEAD"):
            _check_token(ask)
        return await run_in_threadpool(handler, ask)

    endpoint.__name__ = handler.__name__
    endpoint.role = role  # type: ignore[attr-defined]
    return endpoint


def _check_size(request: Request, limit: int) -> None:
    """Refuse a body that is too large before it is read; the server holds it to its own word."""
    if request.method in ("GET", "HEAD"):
        return
    told = request.headers.get("content-length", "")
    if not (told.isascii() and told.isdigit()):
        raise HTTPException(411, "The length of what is sent must be told.")
    if int(told) > limit:
        raise HTTPException(413, f"That is larger than {limit // 1024} kB.")


def _check_rate(site: Site, request: Request, session: Session | None) -> None:
    key = session.token if session else address(request)
    if not site.rate.allows(key):
        raise HTTPException(429, "Too much at once. Wait a minute.", {"Retry-After": "60"})


def address(request: Request) -> str:
    """Return the address a request comes from."""
    return request.client.host if request.client else ""


def _not_signed_in(request: Request) -> Response:
    if request.url.path.startswith("/api/"):
        raise HTTPException(401, "Sign in, or pair this phone again.")
    return go("/sign-in")


async def _read_in_time(site: Site, request: Request, session: Session | None) -> Ask:
    """Read a request; one that holds its connection without sending is let go."""
    length = int(request.headers.get("content-length") or 0)
    try:
        async with asyncio.timeout(PATIENCE_S + length / SLOWEST):
            return await _read(site, request, session)
    except TimeoutError as error:
        raise HTTPException(408, "It came too slowly. Send it again.") from error


async def _read(site: Site, request: Request, session: Session | None) -> Ask:
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind not in FORM_KINDS:
        return Ask(site, request, session, body=await request.body())
    sent = await request.form(max_files=MOST_FILES, max_fields=MOST_FIELDS)
    texts = {name: value for name, value in sent.multi_items() if isinstance(value, str)}
    files = [value for _, value in sent.multi_items() if isinstance(value, UploadFile)]
    return Ask(site, request, session, texts, [one for one in files if one.filename])


def _check_token(ask: Ask) -> None:
    """A form must hold what only our own pages know: the session's token, or the form cookie."""
    request = ask.request
    right = ask.session.csrf if ask.session else request.cookies.get(FORM_COOKIE, "")
    given = ask.form.get("csrf") or request.headers.get("x-csrf", "")
    foreign = request.headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none")
    if foreign or not right or not secrets.compare_digest(given.encode(), right.encode()):
        raise HTTPException(403, "This form is too old. Go back, load the page anew and repeat.")

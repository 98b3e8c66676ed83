"""The application: its routes, each with who may use it, and the headers on every answer."""

from collections.abc import AsyncIterator, Mapping, Sequence
from contextlib import asynccontextmanager
from pathlib import Path

from starlette.applications import Starlette
from starlette.datastructures import MutableHeaders
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from jobnotes.errors import (
    InputError,
    JobnotesError,
    ReviewError,
    StaleFileError,
    StaleJobError,
    TooLargeError,
    UnknownJobError,
)
from jobnotes.web import (
    account_pages,
    bench,
    customer,
    entering,
    files,
    incoming,
    links,
    marking,
    news,
    office,
    phones,
    reports,
    setting_pages,
    signin,
    spoken,
)
from jobnotes.web import book as shop_book
from jobnotes.web.doors import LOGO_BYTES, PHOTO_BYTES, PIECE_BYTES, door
from jobnotes.web.site import Ask, Site, go, page

STATIC = Path(__file__).parent / "static"
TAKE = "/api/jobs/{job}/takes/{take}"

CSP = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; "
    "media-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": CSP,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Service-Worker-Allowed": "/bench",
    "Permissions-Policy": "camera=(self), microphone=(self), geolocation=()",
}
SECRET_PATHS = ("/report/", "/pair")
"""Pages whose address is a secret that no other site may be told."""

STATUS: Mapping[type[JobnotesError], int] = {
    UnknownJobError: 404,
    StaleJobError: 409,
    StaleFileError: 409,
    ReviewError: 422,
    TooLargeError: 413,
    InputError: 422,
}


def build(site: Site) -> Starlette:
    """Return the application that serves a site; what waited on disk is taken up at its start."""

    @asynccontextmanager
    async def lifespan(_app: Starlette) -> AsyncIterator[None]:
        incoming.resume(site)
        yield
        site.worker.stop()

    hosts = Middleware(TrustedHostMiddleware, allowed_hosts=list(site.hosts), www_redirect=False)
    app = Starlette(
        routes=routes(),
        middleware=[Middleware(Guarded), hosts],
        exception_handlers={HTTPException: refused, JobnotesError: failed, Exception: broken},
        lifespan=lifespan,
    )
    app.state.site = site
    return app


def routes() -> Sequence[Route | Mount]:
    """Return every route; the role says who is let in, none meaning anybody."""
    return [
        Route("/", door(home, "bench")),
        Route("/sign-in", door(signin.sign_in_page, None)),
        Route("/sign-in", door(signin.sign_in, None), methods=["POST"]),
        Route("/sign-out", door(signin.sign_out, "bench"), methods=["POST"]),
        Route("/pair", door(signin.pair_page, None)),
        Route("/pair", door(signin.pair, None), methods=["POST"]),
        Route("/authority.crt", door(phones.authority, None)),
        *_office(),
        *_shop(),
        *_customer(),
        *_bench(),
        Mount("/static", StaticFiles(directory=STATIC)),
    ]


def _office() -> list[Route]:
    job = "/jobs/{job}"
    return [
        Route("/jobs", door(office.jobs, "office")),
        Route("/jobs", door(office.new_job, "office"), methods=["POST"]),
        Route(job, door(office.job, "office")),
        Route(job + "/review", door(office.review, "office"), methods=["POST"]),
        Route(job + "/run", door(bench.run_stages, "office"), methods=["POST"]),
        Route(job + "/sound/{recording}", door(files.sound, "office")),
        Route(job + "/photos/{photo}", door(files.photo, "office")),
        Route(job + "/draft.html", door(reports.draft_page, "office")),
        Route(job + "/draft.pdf", door(reports.draft, "office")),
        Route(job + "/issue", door(reports.issue, "office"), methods=["POST"]),
        Route(job + "/enter", door(entering.show, "office")),
        Route(job + "/photos/{photo}/marks", door(marking.show, "office")),
        Route(job + "/reports/{version:int}.{form}", door(files.issued_file, "office")),
        Route(job + "/reports/{version:int}/link", door(links.make, "office"), methods=["POST"]),
        Route(job + "/links/{link:int}/revoke", door(links.revoke, "office"), methods=["POST"]),
    ]


def _shop() -> list[Route]:
    accounts, settings, book = account_pages, setting_pages, "/spec-book"
    return [
        Route("/phones", door(phones.phones, "office")),
        Route("/phones", door(phones.offer, "office"), methods=["POST"]),
        Route("/phones/{phone:int}/revoke", door(phones.revoke, "office"), methods=["POST"]),
        Route("/accounts", door(accounts.show, "office")),
        Route("/accounts", door(accounts.make, "office"), methods=["POST"]),
        Route("/accounts/password", door(accounts.new_password, "office"), methods=["POST"]),
        Route("/accounts/lock", door(accounts.lock, "office"), methods=["POST"]),
        Route("/accounts/unlock", door(accounts.unlock, "office"), methods=["POST"]),
        Route("/accounts/remove", door(accounts.remove, "office"), methods=["POST"]),
        Route("/language", door(accounts.speak, "bench"), methods=["POST"]),
        Route("/settings", door(settings.show, "office")),
        Route("/settings", door(settings.keep, "office", LOGO_BYTES), methods=["POST"]),
        Route(book, door(shop_book.show, "office")),
        Route(book, door(shop_book.keep, "office"), methods=["POST"]),
        Route(book + "/drop", door(shop_book.drop, "office"), methods=["POST"]),
    ]


def _customer() -> list[Route]:
    report = "/report/{secret}"
    return [
        Route(report, door(customer.show, None)),
        Route(report, door(customer.answer, None), methods=["POST"]),
        Route(report + "/file.{form}", door(customer.report, None)),
    ]


def _bench() -> list[Route]:
    adding = door(bench.add_files, "bench", PHOTO_BYTES)
    piece = door(bench.keep_piece, "bench", PIECE_BYTES)
    photo = door(bench.keep_photo, "bench", PHOTO_BYTES)
    return [
        Route("/bench", door(bench.start, "bench")),
        Route("/bench", door(bench.start_job, "bench"), methods=["POST"]),
        Route("/bench/spoken", door(spoken.choose, "bench", PIECE_BYTES), methods=["POST"]),
        Route("/bench/{job}", door(bench.bench, "bench")),
        Route("/bench/{job}/heard", door(bench.heard, "bench")),
        Route("/bench/{job}/news", door(news.news, "bench")),
        Route("/bench/{job}/files", adding, methods=["POST"]),
        Route(TAKE + "/{part:int}/{number:int}", piece, methods=["PUT"]),
        Route(TAKE + "/end", door(bench.end_take, "bench"), methods=["POST"]),
        Route("/api/jobs/{job}/photos/{sha256}", photo, methods=["PUT"]),
        Route("/api/openapi.json", door(openapi, "bench")),
    ]


def home(ask: Ask) -> Response:
    """Send each to where they work."""
    office = ask.session is not None and ask.session.role == "office"
    return go("/jobs" if office else "/bench")


def openapi(ask: Ask) -> Response:
    """Serve the description of what lies under /api."""
    return Response((STATIC / "openapi.json").read_bytes(), media_type="application/json")


async def refused(request: Request, error: Exception) -> Response:
    """Say why a request was refused: RFC 9457 under /api, else a plain page."""
    if not isinstance(error, HTTPException):
        raise error
    head = dict(error.headers or {})
    return _say(request, error.status_code, error.detail, head)


async def failed(request: Request, error: Exception) -> Response:
    """Say what one of our own errors says, with the status that fits it."""
    status = next((code for kind, code in STATUS.items() if isinstance(error, kind)), 500)
    return _say(request, status, str(error), {})


async def broken(request: Request, error: Exception) -> Response:
    """Say that the fault is ours, and nothing of what it was; the log has its place."""
    answer = _say(request, 500, "Something went wrong on the shop's computer. Try again.", {})
    answer.headers.update(HEADERS)
    return answer


def _say(request: Request, status: int, detail: str, head: dict[str, str]) -> Response:
    if request.url.path.startswith("/api/"):
        problem = {"type": "about:blank", "status": status, "title": "Refused", "detail": detail}
        return JSONResponse(problem, status, head, media_type="application/problem+json")
    ask = Ask(request.app.state.site, request)
    answer = page(ask, "refused.html", status, detail=detail)
    answer.headers.update(head)
    return answer


class Guarded:
    """Puts the security headers on every answer; only our own static files may be cached."""

    def __init__(self, app: ASGIApp) -> None:
        """Stand in front of an application."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on and add the headers to its answer."""

        async def sending(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
                if scope["path"].startswith(SECRET_PATHS):
                    headers["Referrer-Policy"] = "no-referrer"
                static = scope["path"].startswith("/static/")
                headers["Cache-Control"] = "no-cache" if static else "no-store"
            await send(message)

        await self.app(scope, receive, sending)

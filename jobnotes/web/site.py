"""What every page needs: the desk, the worker, the templates, the limits, one request."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, partial
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse

from jobnotes.desk import Desk
from jobnotes.report.spans import clock
from jobnotes.store.people import Session, person_named
from jobnotes.web.listening import Listening
from jobnotes.web.throttle import Rate, Throttle
from jobnotes.web.words import LANGUAGES, day, moment, preferred, say
from jobnotes.web.worker import Worker

PER_MINUTE = 3000
"""Requests of one session or address a minute: a phone that sends an hour's pieces; no source."""


@dataclass(frozen=True)
class Site:
    """The shop's site: `hosts` are the names it answers to, `secure` that HTTPS is spoken."""

    desk: Desk
    worker: Worker
    hosts: tuple[str, ...] = ("127.0.0.1", "localhost")
    secure: bool = False
    listening: Listening = field(default_factory=Listening)
    throttle: Throttle = field(default_factory=Throttle)
    rate: Rate = field(default_factory=lambda: Rate(PER_MINUTE, 60.0))

    @property
    def cookie(self) -> str:
        """Return the name of the session's cookie; `__Host-` binds it to this host."""
        return "__Host-jobnotes" if self.secure else "jobnotes"


@dataclass(frozen=True)
class Ask:
    """One request, let in: who asks (if signed in), its form, files or raw body."""

    site: Site
    request: Request
    session: Session | None = None
    form: Mapping[str, str] = field(default_factory=dict)
    files: Sequence[UploadFile] = ()
    body: bytes = b""

    @property
    def desk(self) -> Desk:
        """Return the shop's desk."""
        return self.site.desk

    @property
    def who(self) -> str:
        """Return the name of the person who asks; empty where nobody is signed in."""
        return self.session.person if self.session else ""

    @property
    def language(self) -> str:
        """Return the language that whoever asks reads: by their account, else by their browser."""
        person = person_named(self.desk.store, self.who) if self.who else None
        asked = self.request.headers.get("accept-language", "")
        return person.language if person and person.language else preferred(asked)

    def say(self, message: str, **values: str | int) -> str:
        """Return a message of the pages in the language of whoever asks."""
        return say(self.language, message, **values)

    def part(self, name: str) -> str:
        """Return a part of the path."""
        return str(self.request.path_params[name])

    def query(self, name: str) -> str:
        """Return a value of the query, empty where it is not there."""
        return self.request.query_params.get(name, "")


@cache
def templates() -> Environment:
    """Return the templates; every value is escaped, and a name that is missing is an error."""
    loader = PackageLoader("jobnotes.web")
    pages = Environment(loader=loader, autoescape=True, undefined=StrictUndefined)
    pages.globals["languages"] = LANGUAGES
    pages.trim_blocks = pages.lstrip_blocks = True
    pages.filters.update(clock=clock, day=day, moment=moment)
    return pages


def page(ask: Ask, template: str, status: int = 200, **shown: Any) -> HTMLResponse:
    """Return a page from a template."""
    language, settings = ask.language, ask.desk.settings
    whole = (
        templates()
        .get_template(template)
        .render(
            session=ask.session,
            shop=settings.shop.name or "jobnotes",
            lang=language,
            t=partial(say, language),
            here=ask.request.url.path,
            **shown,
        )
    )
    return HTMLResponse(whole, status, {"Content-Language": language})


def go(path: str) -> RedirectResponse:
    """Send the browser to another page with a GET, as after a form (RFC 9110, 15.4.4)."""
    return RedirectResponse(path, 303)

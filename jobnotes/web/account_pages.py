"""The office's page of accounts: make one, give a new password, lock, let in again, remove."""

from collections.abc import Callable

from starlette.exceptions import HTTPException
from starlette.responses import Response

from jobnotes.errors import AccessError
from jobnotes.store import people
from jobnotes.web import accounts
from jobnotes.web.site import Ask, go, page
from jobnotes.web.words import LANGUAGES

LONGEST_NAME = 80


def show(ask: Ask) -> Response:
    """List the accounts."""
    return _page(ask)


def make(ask: Ask) -> Response:
    """Make an account, unless there is one of that name."""
    name = _name(ask)
    if people.person_named(ask.desk.store, name):
        return _page(ask, 409, ask.say("accounts-there", name=name))
    return _kept(ask, name, ask.form.get("role", ""))


def new_password(ask: Ask) -> Response:
    """Give somebody a new password, which ends what is open in their name."""
    person = _known(ask)
    return _kept(ask, person.name, person.role)


def lock(ask: Ask) -> Response:
    """Keep somebody from signing in."""
    return _done(ask, lambda name: people.lock_person(ask.desk.store, name, True))


def unlock(ask: Ask) -> Response:
    """Let somebody sign in again."""
    return _done(ask, lambda name: people.lock_person(ask.desk.store, name, False))


def remove(ask: Ask) -> Response:
    """Take an account away."""
    return _done(ask, lambda name: people.remove_person(ask.desk.store, name))


def speak(ask: Ask) -> Response:
    """Keep the language that whoever asks wants to read."""
    language = ask.form.get("language", "")
    if language not in LANGUAGES:
        raise HTTPException(422, "There is no such language.")
    people.speak(ask.desk.store, ask.who, language)
    return go("/")


def _done(ask: Ask, step: Callable[[str], None]) -> Response:
    """Take a step on somebody else's account: whoever asks stays, so that somebody can undo it."""
    person = _known(ask)
    if person.name == ask.who:
        return _page(ask, 409, ask.say("accounts-not-own"))
    step(person.name)
    return go("/accounts")


def _kept(ask: Ask, name: str, role: str) -> Response:
    try:
        accounts.make_account(ask.desk.store, name, role, ask.form.get("password", ""))
    except AccessError as error:
        return _page(ask, 422, str(error))
    return go("/accounts")


def _known(ask: Ask) -> people.Person:
    person = people.person_named(ask.desk.store, _name(ask))
    if person is None:
        raise HTTPException(404, "There is no such account.")
    return person


def _name(ask: Ask) -> str:
    return ask.form.get("name", "").strip()[:LONGEST_NAME]


def _page(ask: Ask, status: int = 200, wrong: str = "") -> Response:
    held = people.people(ask.desk.store)
    typed = _name(ask) if wrong else ""
    return page(ask, "accounts.html", status, people=held, wrong=wrong, typed=typed)

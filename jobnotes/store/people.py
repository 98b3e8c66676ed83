"""Who may sign in, their phones, and the sessions that are open; secrets only as hashes."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Literal, NamedTuple

from sqlalchemy import Connection, RowMapping, delete, insert, select, update

from jobnotes.store.store import Store
from jobnotes.store.tables import PEOPLE, PHONES, SESSIONS

Role = Literal["office", "bench"]
ROLES: tuple[Role, ...] = ("office", "bench")


class Person(NamedTuple):
    """Somebody with an account; `password` is an argon2 hash, no `language` the browser's."""

    name: str
    role: Role
    password: str
    locked: bool = False
    language: str = ""


class Phone(NamedTuple):
    """A phone: "waiting" until its code is used, then "paired" until it is "revoked"."""

    id: int
    name: str
    person: str
    state: str


class Session(NamedTuple):
    """A session; `token` is the hash of what the cookie holds, `csrf` goes with each form."""

    token: str
    person: str
    role: Role
    phone: int | None
    csrf: str
    ends: datetime


def person_named(store: Store, name: str) -> Person | None:
    """Return the person of that name, or none."""
    with store.transaction() as connection:
        row = connection.execute(select(PEOPLE).where(PEOPLE.c.name == name)).first()
    return Person(*row) if row else None


def people(store: Store) -> tuple[Person, ...]:
    """Return everybody who has an account, by name."""
    with store.transaction() as connection:
        return tuple(Person(*row) for row in connection.execute(select(PEOPLE).order_by("name")))


def keep_person(store: Store, person: Person) -> None:
    """Keep a person in place of the one of that name, whose sessions end."""
    with _writing(store) as connection:
        connection.execute(delete(SESSIONS).where(SESSIONS.c.person == person.name))
        connection.execute(delete(PEOPLE).where(PEOPLE.c.name == person.name))
        connection.execute(insert(PEOPLE).values(person._asdict()))


def lock_person(store: Store, name: str, locked: bool) -> None:
    """Keep somebody from signing in, or let them again; locking ends what is open in their name."""
    with _writing(store) as connection:
        connection.execute(update(PEOPLE).where(PEOPLE.c.name == name).values(locked=locked))
        if locked:
            _shut_out(connection, name)


def remove_person(store: Store, name: str) -> None:
    """Take an account away; what the person did stays in the jobs under their name."""
    with _writing(store) as connection:
        _shut_out(connection, name)
        connection.execute(delete(PEOPLE).where(PEOPLE.c.name == name))


def speak(store: Store, name: str, language: str) -> None:
    """Keep the language in which somebody wants the pages; empty for the browser's own."""
    with _writing(store) as connection:
        connection.execute(update(PEOPLE).where(PEOPLE.c.name == name).values(language=language))


def _shut_out(connection: Connection, name: str) -> None:
    """End a person's sessions, and revoke the phones that they use."""
    theirs = PHONES.c.person == name
    connection.execute(update(PHONES).where(theirs).values(state="revoked"))
    connection.execute(delete(SESSIONS).where(SESSIONS.c.person == name))


def add_phone(store: Store, name: str, person: str, code: str, ends: datetime) -> int:
    """Keep a phone that waits for its code, given as a hash, and return its number."""
    row = {"name": name, "person": person, "code": code, "state": "waiting"}
    query = insert(PHONES).values(code_ends=ends.isoformat(), **row).returning(PHONES.c.id)
    with _writing(store) as connection:
        phone: int = connection.execute(query).scalar_one()
    return phone


def pair_phone(store: Store, code: str, now: datetime) -> Phone | None:
    """Use up a code, given as a hash; none if it is unknown, used, revoked or too old."""
    fits = (PHONES.c.code == code) & (PHONES.c.state == "waiting")
    fits &= PHONES.c.code_ends > now.isoformat()
    query = update(PHONES).where(fits).values(state="paired").returning(PHONES)
    with _writing(store) as connection:
        row = connection.execute(query).mappings().first()
    return _phone(row) if row else None


def phones(store: Store) -> tuple[Phone, ...]:
    """Return every phone, newest first."""
    with store.transaction() as connection:
        rows = connection.execute(select(PHONES).order_by(PHONES.c.id.desc())).mappings()
        return tuple(_phone(row) for row in rows)


def revoke_phone(store: Store, phone: int) -> None:
    """Shut a phone out for good and end its sessions."""
    with _writing(store) as connection:
        connection.execute(update(PHONES).where(PHONES.c.id == phone).values(state="revoked"))
        connection.execute(delete(SESSIONS).where(SESSIONS.c.phone == phone))


def open_session(store: Store, session: Session, now: datetime) -> None:
    """Keep a session, and clear away those that have ended."""
    with _writing(store) as connection:
        connection.execute(delete(SESSIONS).where(SESSIONS.c.ends <= now.isoformat()))
        row = {**session._asdict(), "ends": session.ends.isoformat()}
        connection.execute(insert(SESSIONS).values(row))


def session_of(store: Store, token: str, now: datetime) -> Session | None:
    """Return the session of a token's hash, or none where there is none that still runs."""
    query = select(SESSIONS).where(SESSIONS.c.token == token, SESSIONS.c.ends > now.isoformat())
    with store.transaction() as connection:
        row = connection.execute(query).mappings().first()
    return Session(**{**row, "ends": datetime.fromisoformat(row["ends"])}) if row else None


def end_session(store: Store, token: str) -> None:
    """End the session of a token's hash."""
    with _writing(store) as connection:
        connection.execute(delete(SESSIONS).where(SESSIONS.c.token == token))


@contextmanager
def _writing(store: Store) -> Iterator[Connection]:
    with store.transaction(writing=True) as connection:
        yield connection


def _phone(row: RowMapping) -> Phone:
    return Phone(row["id"], row["name"], row["person"], row["state"])

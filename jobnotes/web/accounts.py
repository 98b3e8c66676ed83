"""Signing in: passwords, sessions, and phones that are paired by a one-time code."""

import hashlib
import secrets
from datetime import UTC, datetime, timedelta

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from jobnotes.errors import AccessError
from jobnotes.store import people
from jobnotes.store.people import Person, Phone, Role, Session
from jobnotes.store.store import Store

OFFICE_LASTS = timedelta(hours=12)
"""A long working day, so that a screen left on is shut by the next; no source."""

PHONE_LASTS = timedelta(days=180)
"""A phone stays paired for half a year unless it is revoked; no source."""

CODE_LASTS = timedelta(minutes=10)
"""Long enough to fetch the phone from the bench; no source."""

SHORTEST = 10
"""Letters of a password: above the 8 that NIST SP 800-63B-4 asks with a second factor."""

LONGEST = 128
"""Letters of a password; longer ones would only cost time to hash."""

_HASHER = PasswordHasher()  # argon2id, the library's defaults: RFC 9106, low-memory profile
_NOBODY = _HASHER.hash("nobody")  # checked where there is no such person, so that both take as long


def make_account(store: Store, name: str, role: str, password: str) -> None:
    """Let somebody sign in, or give them a new password; raises AccessError for a weak one."""
    if role not in people.ROLES:
        raise AccessError(f"There is no role '{role}'.", "It is 'office' or 'bench'.")
    if not name.strip() or not SHORTEST <= len(password) <= LONGEST:
        raise AccessError(
            "The name is empty, or the password is too short or too long.",
            f"Take {SHORTEST} to {LONGEST} letters; some words in a row are easy to keep in mind.",
        )
    known: Role = "office" if role == "office" else "bench"
    before = people.person_named(store, name.strip())
    language = before.language if before else ""
    person = Person(name.strip(), known, _HASHER.hash(password), language=language)
    people.keep_person(store, person)


def knows(store: Store, name: str, password: str) -> Person | None:
    """Return the person if the password is theirs and they are not locked out.

    It takes as long if there is no such person.
    """
    person = people.person_named(store, name.strip())
    try:
        _HASHER.verify(person.password if person else _NOBODY, password[: LONGEST + 1])
    except (VerificationError, InvalidHashError):
        return None
    return person if person and not person.locked else None


def sign_in(store: Store, person: str, role: Role, phone: int | None = None) -> tuple[str, Session]:
    """Open a session and return what its cookie holds; the store keeps only the hash of that."""
    secret, now = secrets.token_urlsafe(32), datetime.now(UTC)
    ends = now + (OFFICE_LASTS if phone is None else PHONE_LASTS)
    session = Session(hashed(secret), person, role, phone, secrets.token_urlsafe(32), ends)
    people.open_session(store, session, now)
    return secret, session


def session_for(store: Store, secret: str) -> Session | None:
    """Return the running session of a cookie's secret, or none."""
    return people.session_of(store, hashed(secret), datetime.now(UTC)) if secret else None


def offer_pairing(store: Store, name: str, person: str) -> str:
    """Return a new one-time code for a phone of that name, in the hands of that person."""
    code, ends = secrets.token_urlsafe(24), datetime.now(UTC) + CODE_LASTS
    people.add_phone(store, name, person, hashed(code), ends)
    return code


def pair(store: Store, code: str) -> Phone:
    """Use up a code; raises AccessError if it does not hold any more."""
    phone = people.pair_phone(store, hashed(code), datetime.now(UTC))
    if phone is None:
        raise AccessError("This code is used up or too old.", "Ask the office for a new one.")
    return phone


def hashed(secret: str) -> str:
    """Return the SHA-256 of a random secret, which is all that is kept of it."""
    return hashlib.sha256(secret.encode()).hexdigest()

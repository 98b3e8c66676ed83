"""The tables: one row a job, and one row for each part of it, in the order of the record.

A column named as a field of the record holds that field; `body` holds the other fields as JSON.
"""

from typing import Any

from sqlalchemy import (
    Boolean,
    Column,
    Double,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Table,
    UniqueConstraint,
    false,
)

from jobnotes.store.postgres import AnyString, AnyText

REVISION = "0007"
METADATA = MetaData()

JOBS = Table(
    "jobs",
    METADATA,
    Column("key", Integer, primary_key=True),
    Column("id", AnyString, nullable=False, unique=True),
    Column("revision", Integer, nullable=False),
    Column("created_at", AnyString, nullable=False),
    Column("customer", AnyString, nullable=False),
    Column("technician", AnyString, nullable=False),
    Column("machine_name", AnyString, nullable=False),
    Column("sought", AnyText, nullable=False),
    Column("body", AnyText, nullable=False),
)

NUMBERS = Table(
    "numbers",
    METADATA,
    Column("year", Integer, primary_key=True, autoincrement=False),
    Column("last", Integer, nullable=False),
)


def _part(name: str, *columns: Column[Any]) -> Table:
    return Table(
        name,
        METADATA,
        Column("job", ForeignKey("jobs.key"), primary_key=True),
        Column("position", Integer, primary_key=True, autoincrement=False),
        *columns,
        Column("body", AnyText, nullable=False),
    )


def _text(name: str) -> Column[str]:
    return Column(name, AnyText, nullable=False)


def _whole(name: str) -> Column[int]:
    return Column(name, Integer, nullable=False)


def _real(name: str) -> Column[float]:
    return Column(name, Double, nullable=False)


def _truth(name: str) -> Column[bool]:
    return Column(name, Boolean, nullable=False)


PARTS = {
    "recordings": _part("recordings", _text("id"), _text("name"), _text("sha256")),
    "words": _part(
        "words",
        _text("recording"),
        _whole("index"),
        _text("text"),
        _real("start_s"),
        _real("end_s"),
        _real("probability"),
    ),
    "utterances": _part(
        "utterances", _text("recording"), _whole("index"), _whole("first"), _whole("last")
    ),
    "photos": _part(
        "photos", _text("id"), _text("name"), _text("sha256"), _text("caption"), _truth("included")
    ),
    "facts": _part(
        "facts", _text("id"), _text("kind"), _text("rule"), _text("state"), _text("audience")
    ),
    "stages": _part("stages", _text("stage"), _truth("done")),
    "events": _part("events", _text("at"), _text("who"), _text("what"), _text("subject")),
}

ISSUED = Table(
    "issued",
    METADATA,
    Column("job", ForeignKey("jobs.key"), primary_key=True),
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("at", AnyString, nullable=False),
    Column("who", AnyString, nullable=False),
    Column("revision", Integer, nullable=False),
    Column("sha256", AnyString, nullable=False),
    Column("advice", AnyText, nullable=False, server_default="[]"),
)

LINKS = Table(
    "links",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("token", AnyString, nullable=False, unique=True),
    Column("job", ForeignKey("jobs.key"), nullable=False),
    Column("version", Integer, nullable=False),
    Column("made_by", AnyString, nullable=False),
    Column("made_at", AnyString, nullable=False),
    Column("ends", AnyString, nullable=False),
    Column("revoked", Boolean, nullable=False),
)

PEOPLE = Table(
    "people",
    METADATA,
    Column("name", AnyString, primary_key=True),
    Column("role", AnyString, nullable=False),
    Column("password", AnyString, nullable=False),
    Column("locked", Boolean, nullable=False, server_default=false()),
    Column("language", AnyString, nullable=False, server_default=""),
)

PHONES = Table(
    "phones",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("name", AnyString, nullable=False),
    Column("person", AnyString, nullable=False),
    Column("code", AnyString, nullable=False),
    Column("code_ends", AnyString, nullable=False),
    Column("state", AnyString, nullable=False),
)

SESSIONS = Table(
    "sessions",
    METADATA,
    Column("token", AnyString, primary_key=True),
    Column("person", AnyString, nullable=False),
    Column("role", AnyString, nullable=False),
    Column("phone", ForeignKey("phones.id")),
    Column("csrf", AnyString, nullable=False),
    Column("ends", AnyString, nullable=False),
)

TASKS = Table(
    "tasks",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("job", ForeignKey("jobs.key"), nullable=False),
    Column("kind", AnyString, nullable=False),
    Column("state", AnyString, nullable=False),
    Column("again", Boolean, nullable=False),
    Column("attempts", Integer, nullable=False),
    Column("owner", AnyString, nullable=False),
    Column("beats", Integer, nullable=False),
    Column("beat_at", AnyString, nullable=False),
    Column("error", AnyText, nullable=False),
    UniqueConstraint("job", "kind", name="one_task_a_job"),
    Index("tasks_by_state", "state", "id"),
)

ERASURES = Table(
    "erasures",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("job", AnyString, nullable=False),
    Column("at", AnyString, nullable=False),
    Column("who", AnyString, nullable=False),
    Column("why", AnyString, nullable=False),
    Column("sha256", AnyString, nullable=False),
    Column("gone", Boolean, nullable=False),
)

BACKUPS = Table(
    "backups",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("at", AnyString, nullable=False),
    Column("place", AnyString, nullable=False),
)

"""The first tables."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the jobs, their numbers by year, and a table for each part of a job."""
    op.create_table(
        "jobs",
        sa.Column("key", sa.Integer, primary_key=True),
        sa.Column("id", sa.String, nullable=False, unique=True),
        sa.Column("revision", sa.Integer, nullable=False),
        *_strings("created_at", "customer", "technician", "machine_name"),
        *_texts("sought", "body"),
    )
    op.create_table(
        "numbers",
        sa.Column("year", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("last", sa.Integer, nullable=False),
    )
    _part("recordings", *_texts("id", "name", "sha256"))
    _part("words", *_texts("recording"), *_wholes("index"), *_texts("text"), *_word_reals())
    _part("utterances", *_texts("recording"), *_wholes("index", "first", "last"))
    _part("photos", *_texts("id", "name", "sha256", "caption"), *_truths("included"))
    _part("facts", *_texts("id", "kind", "rule", "state", "audience"))
    _part("stages", *_texts("stage"), *_truths("done"))
    _part("events", *_texts("at", "who", "what", "subject"))


def _part(name: str, *columns: sa.Column[Any]) -> None:
    op.create_table(
        name,
        sa.Column("job", sa.Integer, sa.ForeignKey("jobs.key"), primary_key=True),
        sa.Column("position", sa.Integer, primary_key=True, autoincrement=False),
        *columns,
        *_texts("body"),
    )


def _strings(*names: str) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.String, nullable=False) for name in names]


def _texts(*names: str) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.Text, nullable=False) for name in names]


def _wholes(*names: str) -> list[sa.Column[int]]:
    return [sa.Column(name, sa.Integer, nullable=False) for name in names]


def _word_reals() -> list[sa.Column[float]]:
    names = ("start_s", "end_s", "probability")
    return [sa.Column(name, sa.Double, nullable=False) for name in names]


def _truths(*names: str) -> list[sa.Column[bool]]:
    return [sa.Column(name, sa.Boolean, nullable=False) for name in names]

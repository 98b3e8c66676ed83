"""Issued reports, people, their phones and sessions."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make the tables of issued reports, of who may sign in, and of who has."""
    op.create_table(
        "issued",
        sa.Column("job", sa.Integer, sa.ForeignKey("jobs.key"), primary_key=True),
        sa.Column("version", sa.Integer, primary_key=True, autoincrement=False),
        *_strings("at", "who"),
        sa.Column("revision", sa.Integer, nullable=False),
        *_strings("sha256"),
    )
    op.create_table(
        "people",
        sa.Column("name", sa.String, primary_key=True),
        *_strings("role", "password"),
    )
    op.create_table(
        "phones",
        sa.Column("id", sa.Integer, primary_key=True),
        *_strings("name", "person", "code", "code_ends", "state"),
    )
    op.create_table(
        "sessions",
        sa.Column("token", sa.String, primary_key=True),
        *_strings("person", "role"),
        sa.Column("phone", sa.Integer, sa.ForeignKey("phones.id")),
        *_strings("csrf", "ends"),
    )


def _strings(*names: str) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.String, nullable=False) for name in names]

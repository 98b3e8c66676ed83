"""Accounts that are locked or speak a language, what a report advised, links for customers."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """Add what an account and an issued report know, and make the table of links."""
    op.add_column("issued", sa.Column("advice", sa.Text, nullable=False, server_default="[]"))
    locked = sa.Column("locked", sa.Boolean, nullable=False, server_default=sa.false())
    op.add_column("people", locked)
    op.add_column("people", sa.Column("language", sa.String, nullable=False, server_default=""))
    op.create_table(
        "links",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("token", sa.String, nullable=False, unique=True),
        sa.Column("job", sa.Integer, sa.ForeignKey("jobs.key"), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        *(sa.Column(name, sa.String, nullable=False) for name in ("made_by", "made_at", "ends")),
        sa.Column("revoked", sa.Boolean, nullable=False),
    )

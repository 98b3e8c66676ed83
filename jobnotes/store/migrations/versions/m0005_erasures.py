"""What was erased, and which backups were taken."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Make the tables of erasures, which name nobody, and of backups."""
    op.create_table(
        "erasures",
        sa.Column("id", sa.Integer, primary_key=True),
        *(_string(name) for name in ("job", "at", "who", "why", "sha256")),
        sa.Column("gone", sa.Boolean, nullable=False),
    )
    op.create_table(
        "backups",
        sa.Column("id", sa.Integer, primary_key=True),
        *(_string(name) for name in ("at", "place")),
    )


def _string(name: str) -> sa.Column[str]:
    return sa.Column(name, sa.String, nullable=False)

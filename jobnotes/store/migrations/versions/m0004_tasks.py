"""Long work that is asked for, and who is at it."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Make the table of tasks, one row for each job whose stages were ever asked for."""
    op.create_table(
        "tasks",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("job", sa.Integer, sa.ForeignKey("jobs.key"), nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("state", sa.String, nullable=False),
        sa.Column("again", sa.Boolean, nullable=False),
        sa.Column("attempts", sa.Integer, nullable=False),
        sa.Column("owner", sa.String, nullable=False),
        sa.Column("beats", sa.Integer, nullable=False),
        sa.Column("beat_at", sa.String, nullable=False),
        sa.Column("error", sa.Text, nullable=False),
        sa.UniqueConstraint("job", "kind", name="one_task_a_job"),
    )
    op.create_index("tasks_by_state", "tasks", ["state", "id"])

"""What was spoken, among what a search for jobs looks through."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"

_JOBS = "SELECT key, sought FROM jobs"
_WORDS = "SELECT text FROM words WHERE job = :job ORDER BY position"
_KEEP = "UPDATE jobs SET sought = :sought WHERE key = :job"


def upgrade() -> None:
    """Add each job's words, folded as `store/rows.py` folds them, to what is looked through."""
    bind = op.get_bind()
    for job, sought in bind.execute(sa.text(_JOBS)).all():
        spoken = " ".join(bind.execute(sa.text(_WORDS), {"job": job}).scalars())
        kept = "".join(letter for letter in spoken.casefold() if letter.isalnum() or letter == " ")
        bind.execute(sa.text(_KEEP), {"job": job, "sought": f"{sought}\n{kept}"})

"""A report that counts as issued, without a job that is ready for one."""

from datetime import UTC, datetime

from jobnotes.desk import Desk
from jobnotes.record import Issued
from jobnotes.store.issued import note_issued


def issued(desk: Desk, job_id: str, made: bytes) -> None:
    """Keep these bytes as the issued report of a job, as the desk keeps one."""
    job, revision = desk.store.load(job_id)
    sha256 = desk.media.keep_pieces([made], "story.pdf")
    kept = [Issued(at=datetime.now(UTC), name="story.pdf", sha256=sha256)]
    note_issued(desk.store, job, revision, kept, "Ada", ())

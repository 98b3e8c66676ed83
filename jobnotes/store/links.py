"""Links for customers: each opens one issued report of one job, until it ends or is revoked."""

from datetime import datetime
from typing import NamedTuple

from sqlalchemy import RowMapping, Select, insert, select, update

from jobnotes.store.store import Store
from jobnotes.store.tables import JOBS, LINKS


class Link(NamedTuple):
    """A link, without its secret: the report it opens, who made it, when, and until when."""

    id: int
    job: str
    version: int
    made_by: str
    made_at: datetime
    ends: datetime
    revoked: bool

    def opens(self, now: datetime) -> bool:
        """Tell whether the link still opens its report."""
        return not self.revoked and now < self.ends


def keep_link(store: Store, link: Link, token: str) -> None:
    """Keep a new link (its `id` is not looked at) under the hash of its secret."""
    with store.transaction(writing=True) as connection:
        job = connection.execute(select(JOBS.c.key).where(JOBS.c.id == link.job)).scalar_one()
        row = {"version": link.version, "made_by": link.made_by, "revoked": link.revoked}
        times = {"made_at": link.made_at.isoformat(), "ends": link.ends.isoformat()}
        connection.execute(insert(LINKS).values(token=token, job=job, **row, **times))


def link_of(store: Store, token: str) -> Link | None:
    """Return the link of a secret's hash, also one that opens no more; none if there is none."""
    with store.transaction() as connection:
        row = connection.execute(_all().where(LINKS.c.token == token)).mappings().first()
    return _link(row) if row else None


def links_of(store: Store, job_id: str) -> tuple[Link, ...]:
    """Return the links of a job, the newest first."""
    query = _all().where(JOBS.c.id == job_id).order_by(LINKS.c.id.desc())
    with store.transaction() as connection:
        return tuple(_link(row) for row in connection.execute(query).mappings())


def revoke_link(store: Store, job_id: str, link: int) -> None:
    """Shut a link of a job for good; a number that the job has no link of changes nothing."""
    job = select(JOBS.c.key).where(JOBS.c.id == job_id).scalar_subquery()
    with store.transaction(writing=True) as connection:
        these = (LINKS.c.id == link) & (LINKS.c.job == job)
        connection.execute(update(LINKS).where(these).values(revoked=True))


def _all() -> Select[tuple[object, ...]]:
    columns = [one for one in LINKS.columns if one.name not in ("token", "job")]
    return select(*columns, JOBS.c.id.label("of_job")).join_from(LINKS, JOBS)


def _link(row: RowMapping) -> Link:
    made_at, ends = (datetime.fromisoformat(row[name]) for name in ("made_at", "ends"))
    return Link(
        row["id"], row["of_job"], row["version"], row["made_by"], made_at, ends, row["revoked"]
    )

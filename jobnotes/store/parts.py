"""Reading and writing the rows that belong to one job."""

from sqlalchemy import Connection, Table, bindparam, delete, insert, select

from jobnotes.record import Job
from jobnotes.store.rows import Row, part_rows
from jobnotes.store.tables import PARTS


def read_parts(connection: Connection, key: int) -> dict[str, list[Row]]:
    """Return the rows of each part of the job with that key, in the order of the record."""
    return {name: _read(connection, table, key) for name, table in PARTS.items()}


def write_parts(connection: Connection, key: int, job: Job) -> None:
    """Make the rows of a job what the job says; a row that is right already is left alone."""
    for name, table in PARTS.items():
        wanted = part_rows(name, job)
        held = {row["position"]: row for row in _read(connection, table, key)}
        changed = [row for row in wanted if held.get(row["position"]) != row]
        gone = [row["position"] for row in changed] + [*range(len(wanted), len(held))]
        _replace(connection, table, key, gone, changed)


def _read(connection: Connection, table: Table, key: int) -> list[Row]:
    columns = [column for column in table.columns if column.name != "job"]
    query = select(*columns).where(table.c.job == key).order_by(table.c.position)
    return [dict(row) for row in connection.execute(query).mappings()]


def _replace(
    connection: Connection, table: Table, key: int, gone: list[int], new: list[Row]
) -> None:
    if gone:
        these = (table.c.job == key) & (table.c.position == bindparam("at"))
        connection.execute(delete(table).where(these), [{"at": position} for position in gone])
    if new:
        connection.execute(insert(table), [{"job": key, **row} for row in new])

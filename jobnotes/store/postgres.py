"""All that is special to PostgreSQL: snapshots, one program that changes tables, any text."""

from contextlib import closing
from typing import Any

from sqlalchemy import URL, Connection, Dialect, Engine, String, Text, create_engine, event, text
from sqlalchemy.types import TypeDecorator, TypeEngine

_LOCK = 0x6A6F6E  # any number that all programs on one database agree on: "jon"
_MARK, _ITSELF, _NUL = "\ue000", "\ue001", "\ue002"


def connect(url: URL) -> Engine:
    """Return an engine for a PostgreSQL database.

    A transaction that only reads sees the database as it was when it began, so that a job and its
    parts are of one save; one with the execution option `writing` waits for other writers' rows.
    """
    engine = create_engine(url, pool_pre_ping=True)
    event.listen(engine, "begin", _begin)
    return engine


def hold_alone(connection: Connection) -> None:
    """Wait until no other program changes the tables, until the end of the transaction."""
    connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": _LOCK})


def count_on(connection: Connection, table: str, column: str) -> None:
    """Have a table's numbers go on after the highest, once rows were copied in with their own."""
    highest = f'(SELECT max("{column}") FROM "{table}")'
    sequence = f"pg_get_serial_sequence('\"{table}\"', '{column}')"
    connection.execute(text(f"SELECT setval({sequence}, {highest}) WHERE {highest} IS NOT NULL"))


def scrub(engine: Engine) -> None:
    """Free the space of what was deleted, so that it is used anew; logs are the server's own."""
    with closing(engine.raw_connection()) as held:
        driver: Any = held.driver_connection
        driver.autocommit = True
        driver.execute("VACUUM")
        driver.autocommit = False


class AnyString(TypeDecorator[str]):
    """A string with any character in it; PostgreSQL's text has no place for U+0000.

    There it is kept as two characters of the private use area, and the first of these as two.
    """

    impl: TypeEngine[Any] | type[TypeEngine[Any]] = String
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """Return the string as the database keeps it."""
        if value is None or dialect.name != "postgresql":
            return value
        return value.replace(_MARK, _MARK + _ITSELF).replace("\0", _MARK + _NUL)

    def process_result_value(self, value: str | None, dialect: Dialect) -> str | None:
        """Return the string as it was given."""
        if value is None or dialect.name != "postgresql":
            return value
        return value.replace(_MARK + _NUL, "\0").replace(_MARK + _ITSELF, _MARK)


class AnyText(AnyString):
    """The same for texts of any length."""

    impl = Text
    cache_ok = True


def _begin(connection: Connection) -> None:
    if not connection.get_execution_options().get("writing", False):
        connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")

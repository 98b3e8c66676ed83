"""Bringing a store to the tables that this program knows."""

from typing import TYPE_CHECKING

from sqlalchemy import Connection, inspect, text

from jobnotes.errors import StoreError
from jobnotes.store.tables import REVISION

if TYPE_CHECKING:
    from alembic.config import Config


def is_current(connection: Connection) -> bool:
    """Tell whether a store has the tables of this program; quick, since alembic stays unloaded."""
    if not inspect(connection).has_table("alembic_version"):
        return False
    held = connection.execute(text("SELECT version_num FROM alembic_version")).scalars().all()
    return held == [REVISION]


def config_of(connection: Connection) -> "Config":
    """Return the configuration under which the packaged migrations run on a connection."""
    from alembic.config import Config

    config = Config(attributes={"connection": connection})
    config.set_main_option("script_location", "jobnotes.store:migrations")
    return config


def upgrade(connection: Connection) -> None:
    """Run the migrations that a store lacks, within the transaction that the connection is in.

    Raises StoreError for a store that a newer version of the program has written.
    """
    from alembic import command
    from alembic.migration import MigrationContext
    from alembic.script import ScriptDirectory

    config = config_of(connection)
    known = {script.revision for script in ScriptDirectory.from_config(config).walk_revisions()}
    heads = MigrationContext.configure(connection).get_current_heads()
    if not known.issuperset(heads):
        raise StoreError(
            f"A newer version of this program wrote the store (its tables: {', '.join(heads)}).",
            "Install the newer version on this machine too; nothing was changed.",
        )
    command.upgrade(config, "head")

"""Run the migrations on the connection that is handed in, as one transaction of the caller's."""

from alembic import context

from jobnotes.store.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()

"""A full-text index over what a search for jobs looks through."""

from alembic import op

revision = "0003"
down_revision = "0002"

_INDEX = (
    "CREATE VIRTUAL TABLE job_search"
    " USING fts5(sought, content='jobs', content_rowid='key', tokenize='trigram')",
    "CREATE TRIGGER job_search_added AFTER INSERT ON jobs BEGIN"
    " INSERT INTO job_search(rowid, sought) VALUES (new.key, new.sought); END",
    "CREATE TRIGGER job_search_gone AFTER DELETE ON jobs BEGIN"
    " INSERT INTO job_search(job_search, rowid, sought)"
    " VALUES ('delete', old.key, old.sought); END",
    "CREATE TRIGGER job_search_changed AFTER UPDATE OF sought ON jobs"
    " WHEN old.sought <> new.sought BEGIN"
    " INSERT INTO job_search(job_search, rowid, sought)"
    " VALUES ('delete', old.key, old.sought);"
    " INSERT INTO job_search(rowid, sought) VALUES (new.key, new.sought); END",
    "INSERT INTO job_search(job_search) VALUES ('rebuild')",
)


def upgrade() -> None:
    """Make the index and what keeps it; PostgreSQL looks through the text itself."""
    if op.get_bind().dialect.name == "sqlite":
        for statement in _INDEX:
            op.execute(statement)

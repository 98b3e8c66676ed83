import sqlite3
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from jobnotes.errors import StoreError
from jobnotes.record import Job, Word
from jobnotes.store.search import INDEX
from jobnotes.store.store import Store
from jobnotes.store.tables import METADATA, REVISION
from jobnotes.store.upgrade import config_of


def tables_of(file: Path) -> set[str]:
    reader = sqlite3.connect(file)
    names = reader.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    reader.close()
    return {name for (name,) in names}


def not_of_the_search(name: str | None, kind: str, parents: object) -> bool:
    """SQLite's full-text index is a virtual table with tables of its own."""
    return kind != "table" or not str(name).startswith(INDEX)


def test_the_migrations_lead_to_the_tables_of_the_program(store: Store) -> None:
    with store.transaction() as connection:
        beside = {"compare_type": True, "include_name": not_of_the_search}
        context = MigrationContext.configure(connection, opts=beside)
        assert compare_metadata(context, METADATA) == []


def test_the_last_migration_is_the_one_that_the_program_asks_for(store: Store) -> None:
    with store.transaction() as connection:
        assert ScriptDirectory.from_config(config_of(connection)).get_heads() == [REVISION]


def test_a_migration_that_fails_half_way_leaves_nothing_behind(tmp_path: Path) -> None:
    file = tmp_path / "jobs.db"
    other = sqlite3.connect(file)
    other.execute("CREATE TABLE events (in_the_way INTEGER)")  # the last table that is made
    other.close()
    with pytest.raises(StoreError, match="already exists"):
        Store(f"sqlite:///{file}")
    assert tables_of(file) == {"events"}


def test_a_store_of_a_newer_program_is_refused_and_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "jobs.db"
    Store(f"sqlite:///{file}").close()
    newer = sqlite3.connect(file)
    newer.execute("UPDATE alembic_version SET version_num = '9999'")
    newer.commit()
    newer.close()
    before = tables_of(file)
    with pytest.raises(StoreError, match="Install the newer version"):
        Store(f"sqlite:///{file}")
    assert tables_of(file) == before


def test_programs_that_open_a_new_store_at_once_all_find_it_ready(store_url: str) -> None:
    program = "import sys; from jobnotes.store.store import Store; Store(sys.argv[1]).list()"
    command = [sys.executable, "-c", program, store_url]
    children = [subprocess.Popen(command, stderr=subprocess.PIPE, text=True) for _ in range(4)]
    assert [child.communicate()[1] for child in children] == [""] * 4


def test_jobs_of_before_the_search_had_an_index_are_found(tmp_path: Path) -> None:
    file = tmp_path / "jobs.db"
    store = Store(f"sqlite:///{file}")
    word = Word(recording="r1", index=0, text="Chewed", start_s=0, end_s=1, probability=1)
    job = Job(id="", created_at=datetime.now(UTC), customer="Ms Okafor", words=(word,))
    made = store.create(job).job
    store.close()
    older = sqlite3.connect(file)
    for trigger in ("added", "gone", "changed"):
        older.execute(f"DROP TRIGGER {INDEX}_{trigger}")
    for later in (INDEX, "tasks", "erasures", "backups", "links"):
        older.execute(f"DROP TABLE {later}")
    for table, column in (("issued", "advice"), ("people", "locked"), ("people", "language")):
        older.execute(f"ALTER TABLE {table} DROP COLUMN {column}")
    older.execute("UPDATE jobs SET sought = replace(sought, 'chewed', '')")
    older.execute("UPDATE alembic_version SET version_num = '0002'")
    older.commit()
    older.close()
    assert [line.id for line in Store(f"sqlite:///{file}").list("okafor chewed")] == [made.id]

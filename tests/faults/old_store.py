"""A store as the first version of the program left it: its first migration alone, with a job."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

from alembic import command
from sqlalchemy import text

from jobnotes.store import sqlite
from jobnotes.store.upgrade import config_of

if TYPE_CHECKING:
    from operations import Place

_JOB = {
    "key": 1, "id": "2025-0001", "revision": 3, "created_at": "2025-11-03T08:00:00Z",
    "customer": "Ms Okafor", "technician": "Ada", "machine_name": "tiller",
    "sought": "20250001\nms okafor\ntiller",
    "body": json.dumps({"machine": {"description": "tiller"}}),
}  # fmt: skip
_PARTS = {
    "recordings": {"id": "r1", "name": "typed", "sha256": "", "body": '{"format":"text"}'},
    "words": {
        "recording": "r1", "index": 0, "text": "idles", "start_s": 0.0, "end_s": 0.0,
        "probability": 1.0, "body": "{}",
    },
    "utterances": {"recording": "r1", "index": 0, "first": 0, "last": 0, "body": "{}"},
}  # fmt: skip


def make_old_store(place: "Place") -> None:
    """Make the store of a shop that has not been opened since the first version."""
    place.given.mkdir()
    place.settings.data_folder.mkdir()
    fill(place.settings.data_folder / "jobs.db")


def fill(file: Path) -> None:
    from sqlalchemy import make_url

    engine = sqlite.open_file(make_url(f"sqlite:///{file}"))
    with engine.connect() as connection, connection.begin():
        command.upgrade(config_of(connection), "0001")
        _insert(connection, "jobs", _JOB)
        connection.execute(text("INSERT INTO numbers VALUES (2025, 1)"))
        for table, row in _PARTS.items():
            _insert(connection, table, {"job": 1, "position": 0, **row})
    engine.dispose()


def _insert(connection: object, table: str, row: dict[str, object]) -> None:
    names = ", ".join(f'"{name}"' for name in row)
    values = ", ".join(f":{name}" for name in row)
    connection.execute(text(f"INSERT INTO {table} ({names}) VALUES ({values})"), row)

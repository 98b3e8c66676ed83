"""A shop whose files were harmed, and what each command says of it."""

import os
import sqlite3
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from threading import Timer

import pytest

from jobnotes.desk import open_desk
from jobnotes.errors import StoreError
from jobnotes.review import events
from jobnotes.settings import Settings
from jobnotes.store.store import Store

SAID = "battery voltage, key off, twelve point four volts\nlabour forty minutes\n"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A shop with one job that has an original, closed properly."""
    folder = tmp_path / "shop"
    desk = open_desk(Settings(data_folder=folder))
    (tmp_path / "said.txt").write_text(SAID)
    job = desk.new("tiller")
    desk.add(job.id, [tmp_path / "said.txt"])
    desk.run(job.id)
    desk.store.close()
    return folder


def jobnotes(shop: Path, *arguments: object) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "JOBNOTES_HOME": str(shop)}
    command = [sys.executable, "-m", "jobnotes.cli", *map(str, arguments)]
    said = subprocess.run(command, capture_output=True, text=True, env=environment)
    assert "Traceback" not in said.stderr
    return said


def original(shop: Path) -> Path:
    (path,) = (path for path in (shop / "originals").rglob("*") if path.is_file())
    path.chmod(0o600)
    return path


def integrity(shop: Path) -> str:
    reader = sqlite3.connect(shop / "jobs.db")
    (told,) = reader.execute("PRAGMA integrity_check").fetchone()
    reader.close()
    return str(told)


def test_a_byte_flipped_in_an_original_is_named_by_verify(shop: Path) -> None:
    path = original(shop)
    held = bytearray(path.read_bytes())
    held[len(held) // 2] ^= 1
    path.write_bytes(held)
    told = jobnotes(shop, "verify")
    assert told.returncode == StoreError.exit_code
    assert f"The original {path.name} was altered" in told.stderr


def test_an_original_that_was_deleted_is_named_by_verify(shop: Path) -> None:
    original(shop).unlink()
    told = jobnotes(shop, "verify")
    assert told.returncode == StoreError.exit_code
    assert "said.txt of job" in told.stderr
    assert "is missing" in told.stderr


@pytest.mark.parametrize("part", [0.5, 0.01])
def test_a_database_that_was_cut_off_is_told_with_its_remedy(shop: Path, part: float) -> None:
    file = shop / "jobs.db"
    whole = file.read_bytes()
    file.write_bytes(whole[: int(len(whole) * part)])
    told = jobnotes(shop, "verify")
    assert told.returncode == StoreError.exit_code
    assert "backup" in told.stderr or "jobnotes verify" in told.stderr


def test_bytes_flipped_in_the_database_are_told_by_verify(shop: Path) -> None:
    file = shop / "jobs.db"
    held = bytearray(file.read_bytes())
    for page in range(4096, len(held), 4096):
        held[page + 3] ^= 0xFF  # the number of cells in each page after the first
    file.write_bytes(held)
    assert jobnotes(shop, "verify").returncode == StoreError.exit_code


def test_a_store_that_another_program_holds_for_a_moment_is_waited_for(shop: Path) -> None:
    holder = sqlite3.connect(shop / "jobs.db", check_same_thread=False)
    holder.execute("BEGIN IMMEDIATE")
    Timer(2.0, holder.rollback).start()
    assert jobnotes(shop, "new", "--machine", "pump").returncode == 0
    holder.close()


def test_a_store_that_another_program_holds_for_long_is_told(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("jobnotes.store.sqlite._ON_CONNECT", ("PRAGMA busy_timeout = 200",))
    hold = f"""import sqlite3, sys
held = sqlite3.connect({str(shop / "jobs.db")!r})
held.execute("BEGIN IMMEDIATE")
print("held", flush=True)
sys.stdin.read()"""  # in a process of its own: POSIX locks do not hold against one's own
    command = [sys.executable, "-c", hold]
    holder = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert holder.stdout.readline() == "held\n"
    desk = open_desk(Settings(data_folder=shop))
    with pytest.raises(StoreError, match="no other program holds the store"):
        desk.new("pump")
    holder.communicate()
    assert [line.machine for line in desk.jobs()] == ["tiller"]
    assert integrity(shop) == "ok"


def test_originals_that_cannot_be_kept_are_told_and_the_job_stays_as_it_was(shop: Path) -> None:
    path = original(shop)
    path.unlink()
    path.parent.rmdir()
    (shop / "originals").rmdir()
    (shop / "originals").write_text("not a folder")
    more = shop / "more.txt"
    more.write_text("labour ten minutes\n")
    told = jobnotes(shop, "add", "2026-0001" if _year() == 2026 else f"{_year()}-0001", more)
    assert told.returncode == StoreError.exit_code
    assert "could not be kept" in told.stderr
    assert integrity(shop) == "ok"


def _year() -> int:
    return datetime.now(UTC).year


def test_a_commit_that_a_lost_log_held_is_gone_and_all_before_it_is_there(shop: Path) -> None:
    url = f"sqlite:///{shop / 'jobs.db'}"
    program = (
        "import os, sys; from jobnotes.store.store import Store; from jobnotes.record import Job"
    )
    program += (
        f"; Store({url!r}).create(Job(id='', created_at='2026-03-14T09:00:00Z')); os._exit(0)"
    )
    subprocess.run([sys.executable, "-c", program], check=True)
    (shop / "jobs.db-wal").unlink()
    (shop / "jobs.db-shm").unlink()
    assert jobnotes(shop, "verify").returncode == 0
    assert len(Store(url).list()) == 1


def test_a_clock_that_goes_back_keeps_the_order_of_what_was_done(shop: Path) -> None:
    desk = open_desk(Settings(data_folder=shop))
    (job,) = desk.jobs()
    fact, now = desk.load(job.id).facts[0], datetime.now(UTC)
    desk.review(job.id, partial(events.confirm, fact_id=fact.id, who="Ada", at=now))
    earlier = now - timedelta(days=400)
    desk.review(job.id, partial(events.reject, fact_id=fact.id, who="Ada", at=earlier))
    done = desk.review(job.id, partial(events.undo, who="Ada", at=earlier))
    assert [event.what for event in done.events] == ["confirm", "reject", "undo"]
    assert events.fact_of(done, fact.id).state == "confirmed"

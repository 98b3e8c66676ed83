"""Workers as real processes, on typed notes: no sound, so no weights are needed."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from jobnotes.desk import Desk, open_desk
from jobnotes.pipeline import incomplete
from jobnotes.settings import Settings
from jobnotes.store.tasks import claim, held, state_of, unfinished

WORK = [sys.executable, "-m", "jobnotes.cli", "work"]


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.setenv("JOBNOTES_HOME", str(tmp_path / "shop"))
    return open_desk(Settings(data_folder=tmp_path / "shop"))


def typed_jobs(desk: Desk, tmp_path: Path, count: int) -> list[str]:
    note = tmp_path / "note.txt"
    note.write_text("battery is twelve point six volts\n")
    jobs = [desk.new(machine="tiller").id for _ in range(count)]
    for job in jobs:
        desk.add(job, [note])
        desk.ask(job)
    return jobs


def test_workers_do_all_that_waits_and_end(desk: Desk, tmp_path: Path) -> None:
    jobs = typed_jobs(desk, tmp_path, 3)
    subprocess.run([*WORK, "--count", "2", "--until-done"], check=True)
    assert [incomplete(desk.load(job)) for job in jobs] == [()] * 3
    assert [len(desk.load(job).facts) for job in jobs] == [1] * 3


def test_a_stopped_crew_leaves_nothing_taken(desk: Desk, tmp_path: Path) -> None:
    jobs = typed_jobs(desk, tmp_path, 6)
    crew = subprocess.Popen(WORK, stderr=subprocess.PIPE, text=True)
    while state_of(desk.store, jobs[0]) != "done":
        assert crew.poll() is None
        time.sleep(0.05)
    crew.send_signal(signal.SIGTERM)
    assert (crew.communicate()[1], crew.returncode) == ("", 0)
    assert held(desk.store) == {}


def test_a_worker_that_is_killed_is_replaced(desk: Desk, tmp_path: Path) -> None:
    crew = subprocess.Popen(WORK, stderr=subprocess.PIPE, text=True)
    first = typed_jobs(desk, tmp_path, 1)[0]
    while state_of(desk.store, first) != "done":
        assert crew.poll() is None
        time.sleep(0.05)
    children = Path(f"/proc/{crew.pid}/task/{crew.pid}/children").read_text().split()
    for child in children:
        if b"spawn_main" in Path(f"/proc/{child}/cmdline").read_bytes():
            os.kill(int(child), signal.SIGKILL)
    typed_jobs(desk, tmp_path, 1)
    while unfinished(desk.store):
        assert crew.poll() is None
        time.sleep(0.05)
    crew.send_signal(signal.SIGINT)
    assert "another takes its place" in crew.communicate()[1]
    assert claim(desk.store, "nobody") is None

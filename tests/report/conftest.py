"""The demo's job told from its script: real rules and photos, no recogniser."""

import tomllib
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import pytest

from jobnotes import pipeline
from jobnotes.desk import Desk, open_desk
from jobnotes.record import Job
from jobnotes.review.events import confirm_unflagged
from jobnotes.settings import Settings

DEMO = Path(__file__).parent.parent.parent / "demo_data"


@dataclass(frozen=True)
class Demo:
    """A desk and its one job."""

    desk: Desk
    job: Job


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    folder = tmp_path_factory.mktemp("demo")
    script = folder / "script.txt"
    script.write_text("\n".join(utterances()), "utf-8")
    desk = open_desk(Settings(data_folder=folder / "shop"))
    job = desk.new(machine="Torvane plate compactor", customer="Marlow Paving")
    assert not desk.add(job.id, [script, *sorted((DEMO / "photos").iterdir())])
    desk.change(job.id, lambda one: pipeline.run(one, pipeline.later_stages()))
    confirm = partial(confirm_unflagged, who="office", at=datetime.now(UTC))
    return Demo(desk, desk.change(job.id, confirm))


def utterances() -> list[str]:
    script = tomllib.loads((DEMO / "script.toml").read_text("utf-8"))
    return [said["text"] for part in script["recording"] for said in part["utterances"]]

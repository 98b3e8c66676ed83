"""Stages that are run while others change the job, or run it too."""

import wave
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from jobnotes import pipeline
from jobnotes.desk import Desk, open_desk
from jobnotes.errors import LostTaskError
from jobnotes.record import Job
from jobnotes.settings import Settings
from jobnotes.speech.canned import CannedRecogniser
from jobnotes.speech.engine import Heard, Samples
from jobnotes.store.lease import new_owner
from jobnotes.store.tasks import MOST_ATTEMPTS, Task, ask, claim, give_back, held, lapse

SAID = CannedRecogniser.saying("battery is twelve point six volts")


class Hearing:
    """Hears what the canned recogniser does, counts how often, and may do something meanwhile."""

    def __init__(self) -> None:
        self.count = 0
        self.meanwhile: Callable[[], object] = lambda: None

    def hear(self, samples: Samples) -> Heard:
        self.count += 1
        self.meanwhile()
        return SAID.hear(samples)


@pytest.fixture
def hearing(monkeypatch: pytest.MonkeyPatch) -> Hearing:
    hearing = Hearing()
    monkeypatch.setattr(pipeline, "_loaded", lambda model, allow_hub: hearing)
    return hearing


@pytest.fixture
def desk(store_url: str, tmp_path: Path) -> Iterator[Desk]:
    desk = open_desk(Settings(data_folder=tmp_path / "shop", database=store_url))
    yield desk
    desk.store.close()


@pytest.fixture
def job(desk: Desk, tmp_path: Path) -> Job:
    """A job with two recordings."""
    made = desk.new(machine="tiller")
    for n in (1, 2):
        with wave.open(str(tmp_path / f"{n}.wav"), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(16_000)
            file.writeframes(bytes([n, 0]) * 8000)
    assert desk.add(made.id, [tmp_path / "1.wav", tmp_path / "2.wav"]) == ()
    return made


def taken(desk: Desk, job: Job, owner: str = "") -> Task:
    ask(desk.store, job.id)
    task = claim(desk.store, owner or new_owner(), job.id)
    assert task
    return task


def test_each_recording_is_heard_once(desk: Desk, job: Job, hearing: Hearing) -> None:
    done = desk.run(job.id)
    assert {word.recording for word in done.words} == {"r1", "r2"}
    assert pipeline.incomplete(done) == ()
    assert desk.run(job.id).words == done.words
    assert hearing.count == 2


def test_what_was_heard_outlives_a_save_by_the_office_meanwhile(
    desk: Desk, job: Job, hearing: Hearing
) -> None:
    hearing.meanwhile = lambda: desk.change(job.id, lambda j: j.having(customer=j.customer + "x"))
    done = desk.run(job.id)
    assert (hearing.count, done.customer) == (2, "xx")
    assert {word.recording for word in done.words} == {"r1", "r2"}


def test_a_worker_that_lost_its_task_saves_nothing(desk: Desk, job: Job, hearing: Hearing) -> None:
    def taken_up_by_another() -> None:
        hearing.meanwhile = lambda: None
        ((number, beat),) = held(desk.store).items()
        assert lapse(desk.store, number, beat)
        desk.work_on(taken(desk, job))

    hearing.meanwhile = taken_up_by_another
    slow = taken(desk, job)
    with pytest.raises(LostTaskError):
        desk.work_on(slow)
    done, revision = desk.store.load(job.id)
    assert [word.text for word in done.words_of("r1")] == [word.text for word in SAID.words]
    assert desk.run(job.id).words == done.words
    assert revision > 1


def test_a_job_whose_work_broke_off_too_often_says_so(
    desk: Desk, job: Job, hearing: Hearing
) -> None:
    for _ in range(MOST_ATTEMPTS):
        give_back(desk.store, taken(desk, job), counts=True)
    why = pipeline.incomplete(desk.run(job.id))
    assert f"broke off {MOST_ATTEMPTS} times" in why[0]
    assert hearing.count == 0
    assert pipeline.incomplete(desk.run(job.id)) == ()


def test_a_recording_that_cannot_be_heard_does_not_stop_the_others(
    desk: Desk, job: Job, hearing: Hearing
) -> None:
    desk.media.drop(job_recordings(desk, job)[0])
    done = desk.run(job.id)
    assert {word.recording for word in done.words} == {"r2"}
    assert "The step 'transcribe' did not finish" in pipeline.incomplete(done)[0]


def test_the_part_done_is_told_over_all_recordings(desk: Desk, job: Job, hearing: Hearing) -> None:
    told: list[float] = []
    desk.run(job.id, progress=told.append)
    assert told == pytest.approx([0.5, 1.0])


def test_hearing_again_replaces_the_words(desk: Desk, job: Job, hearing: Hearing) -> None:
    desk.run(job.id)
    desk.run(job.id, hear_again=True)
    assert hearing.count == 4


def job_recordings(desk: Desk, job: Job) -> list[str]:
    return [recording.sha256 for recording in desk.load(job.id).recordings]


def test_a_run_waits_for_the_worker_who_is_at_it(
    desk: Desk, job: Job, hearing: Hearing, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = taken(desk, job)
    monkeypatch.setattr("jobnotes.store.lease.time.sleep", lambda s: desk.work_on(other))
    done = desk.run(job.id)
    assert {word.recording for word in done.words} == {"r1", "r2"}
    assert hearing.count == 2

from datetime import UTC, datetime

from jobnotes.errors import DamagedFileError
from jobnotes.pipeline import NAMES, Stage, incomplete, noted, run
from jobnotes.record import Job


def job() -> Job:
    return Job(id="j", created_at=datetime(2026, 9, 1, tzinfo=UTC))


def named(job: Job) -> Job:
    return job.having(customer="Ms Okafor")


def broken(job: Job) -> Job:
    raise DamagedFileError("The recording ends early.")


def test_a_step_that_finishes_is_noted_as_done():
    (outcome,) = run(job(), [Stage("extract", named)]).stages
    assert (outcome.stage, outcome.done, outcome.why) == ("extract", True, "")


def test_a_step_that_fails_leaves_the_work_of_earlier_steps():
    assert run(job(), [Stage("extract", named), Stage("place", broken)]).customer == "Ms Okafor"


def test_a_step_that_fails_is_noted_with_reason_and_remedy():
    (outcome,) = run(job(), [Stage("place", broken)]).stages
    assert not outcome.done
    assert outcome.why == "The recording ends early."
    assert outcome.remedy == DamagedFileError.remedy


def test_a_step_after_a_failed_one_still_runs():
    steps = [Stage("transcribe", broken), Stage("extract", named)]
    assert run(job(), steps).customer == "Ms Okafor"


def test_a_second_outcome_of_a_step_replaces_the_first():
    once = run(job(), [Stage("place", broken)])
    assert [outcome.done for outcome in run(once, [Stage("place", named)]).stages] == [True]


def test_a_job_whose_steps_are_all_done_is_complete():
    done = job()
    for name in NAMES:
        done = noted(done, name, None)
    assert incomplete(done) == ()


def test_a_job_on_which_nothing_ran_names_every_step():
    assert [name for name in NAMES if any(name in why for why in incomplete(job()))] == list(NAMES)


def test_a_failed_step_is_named_with_its_reason():
    said = incomplete(noted(job(), "place", DamagedFileError("The picture ends early.")))
    assert any("'place'" in why and "The picture ends early." in why for why in said)

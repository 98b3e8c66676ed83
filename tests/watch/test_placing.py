from datetime import UTC, datetime, timedelta

from jobnotes.record import Job, Photo, Recording
from jobnotes.watch.placing import belongs_to, span, worked_on

NINE = datetime(2026, 3, 14, 9, 0, tzinfo=UTC)


def at(minutes: float) -> datetime:
    return NINE + timedelta(minutes=minutes)


def job(number: str, started: float, *recorded: tuple[float, float]) -> Job:
    """Make a job that was started at a minute, with recordings from a minute to another."""
    recordings = tuple(
        Recording(
            id=f"r{n}", name="", format="wav", started_at=at(first), duration_s=60 * (last - first)
        )
        for n, (first, last) in enumerate(recorded)
    )
    return Job(id=number, created_at=at(started), recordings=recordings)


def jobs_at(minutes: float, *jobs: Job) -> tuple[str, ...]:
    return belongs_to(span(at(minutes)), [worked_on(one) for one in jobs])


def test_a_file_belongs_to_the_one_job_that_was_worked_on_within_the_hour():
    assert jobs_at(50, job("a", 0), job("b", -300)) == ("a",)
    assert jobs_at(-50, job("a", 0)) == ("a",)


def test_a_file_hours_from_all_work_belongs_to_no_job():
    assert jobs_at(200, job("a", 0, (10, 30))) == ()


def test_a_photo_taken_while_one_job_was_recorded_belongs_to_that_job():
    assert jobs_at(20, job("a", 0, (10, 30)), job("b", 5)) == ("a",)


def test_a_file_between_two_jobs_may_belong_to_either():
    assert jobs_at(40, job("a", 0, (10, 30)), job("b", 35)) == ("a", "b")


def test_a_photo_of_a_job_tells_when_the_job_was_worked_on():
    taken = Photo(id="p1", name="", sha256="", format="jpeg", width=1, height=1, taken_at=at(300))
    assert jobs_at(330, job("a", 0).having(photos=(taken,))) == ("a",)


def test_a_time_without_a_zone_is_of_this_computers_zone():
    local = at(0).astimezone().replace(tzinfo=None)
    assert span(local).start == at(0)

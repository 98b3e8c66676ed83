"""Choosing or starting a job by voice."""

from datetime import UTC, datetime

import pytest
from test_web_live import shop_that_hears
from web_shop import signed_in

from jobnotes.speech.canned import CannedRecogniser
from jobnotes.store.store import Summary
from jobnotes.web.choosing import meant

AT = datetime(2026, 9, 17, 8, tzinfo=UTC)
JOBS = (
    Summary("2026-0112", AT, "Marlow Paving", "", "Torvane plate compactor", 1),
    Summary("2026-0012", AT, "Ms Okafor", "", "tiller", 1),
    Summary("2026-0003", AT, "Quillan Hire", "", "tiller", 1),
)


@pytest.mark.parametrize(
    ("said", "numbers"),
    [
        ("Go on with job twelve.", ["2026-0012"]),
        ("Job one twelve", ["2026-0112"]),
        ("number one hundred and twelve", ["2026-0112"]),
        ("The plate compactor.", ["2026-0112"]),
        ("the tiller for Okafor", ["2026-0012"]),
        ("the tiller", ["2026-0012", "2026-0003"]),
        ("the chainsaw", []),
        ("", []),
    ],
)
def test_a_job_is_meant_by_its_number_or_its_words(said, numbers):
    assert [job.id for job in meant(said, JOBS).jobs] == numbers


@pytest.mark.parametrize(
    ("said", "machine", "customer"),
    [
        ("New job, plate compactor for Marlow Paving.", "plate compactor", "Marlow Paving"),
        ("Start a new job for the tiller", "tiller", ""),
        ("new job", "", ""),
    ],
)
def test_a_new_job_is_named_as_it_is_said(said, machine, customer):
    choice = meant(said, JOBS)
    assert (choice.new, choice.machine, choice.customer) == (True, machine, customer)


def spoken(desk, audio, said):
    phone = signed_in(shop_that_hears(desk, CannedRecogniser.saying(said)), "Rune")
    content = (audio / "doubtful.ogg").read_bytes()
    return phone, phone.post("/bench/spoken", content=content)


def test_the_one_job_that_is_meant_is_opened(desk, job, audio):
    _, answer = spoken(desk, audio, "the tiller of Okafor")
    assert answer.headers["location"] == f"/bench/{job.id}"


def test_a_new_job_is_started_by_voice(desk, audio):
    phone, answer = spoken(desk, audio, "new job trash pump for Ibekwe")
    made = desk.load(answer.headers["location"].removeprefix("/bench/"))
    assert (made.machine.description, made.customer) == ("trash pump", "Ibekwe")


def test_where_several_are_meant_each_is_one_touch_away(desk, job, audio):
    other = desk.new(machine="tiller")
    _, answer = spoken(desk, audio, "the tiller")
    assert answer.status_code == 200
    assert "the tiller" in answer.text
    assert all(f'href="/bench/{one.id}"' in answer.text for one in (job, other))


def test_what_fits_no_job_is_said_and_starts_none(desk, audio):
    before = desk.jobs()
    _, answer = spoken(desk, audio, "the chainsaw")
    assert "No job fits" in answer.text
    assert desk.jobs() == before


def test_sound_that_is_none_is_refused(technician):
    assert technician.post("/bench/spoken", content=b"no sound").status_code == 422

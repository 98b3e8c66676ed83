"""A machine over its jobs: which readings belong together, and what is told and drawn of them."""

from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from report_jobs import FLAG, NOW, SHOP, Bench, photo_bytes
from tagged_pdf import tree

from jobnotes.desk import Desk, open_desk
from jobnotes.record import Cause, Complaint, Job, Machine, Recording, State
from jobnotes.report.machine import Series, Taken, series, visits
from jobnotes.report.plot import FOOT, HEAD, SIDE, TALL, WIDE, marks
from jobnotes.report.record_content import record
from jobnotes.report.record_html import record_html
from jobnotes.report.record_pdf import record_pdf
from jobnotes.settings import Settings


def job(number: int, *readings: tuple[str, str], unit: str = "psi", **fields: object) -> Job:
    """A job some weeks after the one before, with readings of a thing."""
    made = Bench()
    for what, value in readings:
        made.say(f"{what} {value}")
        made.reading(what, value, unit, **fields)
    started = NOW + timedelta(weeks=6 * number)
    return made.job(id=f"2026-000{number}", created_at=started)


def values(one: Series) -> list[float]:
    return [taken.value for taken in one.taken]


def test_the_same_reading_of_two_jobs_is_a_series_oldest_first():
    later, sooner = job(2, ("compression", "88")), job(1, ("compression", "92"))
    (one,) = series([later, sooner])
    assert values(one) == [92, 88]
    assert [taken.job for taken in one.taken] == ["2026-0001", "2026-0002"]


def test_what_was_measured_on_one_job_only_is_no_series():
    assert series([job(1, ("compression", "92")), job(2, ("idle speed", "1400"))]) == ()


def test_another_place_or_moment_is_another_series():
    jobs = [
        job(1, ("compression", "92"), where="cylinder 1"),
        job(2, ("compression", "88"), where="cylinder 2"),
        job(3, ("compression", "80"), where="cylinder 1", when="hot"),
    ]
    assert series(jobs) == ()


def test_readings_in_other_units_are_drawn_in_the_first_and_told_as_said():
    jobs = [job(1, ("compression", "100")), job(2, ("compression", "7"), unit="bar")]
    (one,) = series(jobs)
    assert one.taken[1].value == pytest.approx(101.5, abs=0.05)  # 1 bar = 14.5038 psi, NIST SP 811
    assert one.taken[1].text.startswith("7\N{NO-BREAK SPACE}bar")


def test_a_quantity_of_another_kind_is_another_series():
    assert series([job(1, ("output", "92")), job(2, ("output", "92"), unit="V")]) == ()


def test_a_rejected_reading_is_left_out():
    assert series([job(1, ("idle", "92")), job(2, ("idle", "9"), state=State.REJECTED)]) == ()


def test_a_reading_in_doubt_is_told_as_such_and_not_drawn():
    jobs = [job(1, ("idle", "92")), job(2, ("idle", "91")), job(3, ("idle", "9"), flags=(FLAG,))]
    (one,) = series(jobs)
    assert one.taken[2].words.endswith("in doubt")
    assert len(one.sure) == len(marks(one)) == 2
    assert "job 2026-0003" not in one.words


def test_a_series_with_one_sure_job_has_no_drawing():
    (one,) = series([job(1, ("idle", "92")), job(2, ("idle", "9"), flags=(FLAG,))])
    assert one.words == ""


def test_the_words_tell_the_first_and_the_last_figure():
    jobs = [job(1, ("idle", "92")), job(2, ("idle", "95")), job(3, ("idle", "88"), phase="before")]
    words = series(jobs)[0].words.replace("\N{NO-BREAK SPACE}", " ")
    assert words == (
        "Idle: from 92 psi (634 kPa) on 2026-04-25 (job 2026-0001)"
        " to 88 psi (607 kPa) before the repair on 2026-07-18 (job 2026-0003)."
    )


def test_a_job_counts_by_the_day_of_its_last_recording():
    recorded = Recording(id="r1", name="a", format="wav", started_at=datetime(2026, 9, 17, 8, 0))
    (one,) = visits([job(1).having(recordings=(recorded,))])
    assert one.day == date(2026, 9, 17)


def test_a_visit_tells_what_it_came_in_for_and_what_was_wrong():
    made = Bench()
    made.say("it dies hot as the coil breaks down")
    made.fact(Complaint, text="it dies hot")
    made.fact(Cause, text="the coil breaks down")
    made.fact(Cause, text="the fuel is stale", state=State.REJECTED)
    (one,) = visits([made.job()])
    assert (one.complaint, one.cause) == ("It dies hot", "The coil breaks down")


figures = st.lists(
    st.tuples(st.integers(0, 4000), st.decimals(-9999, 9999, places=2)), min_size=2, max_size=9
)


@given(figures)
def test_every_mark_lies_within_the_drawing_and_in_its_order(told: list[tuple[int, Decimal]]):
    taken = tuple(
        Taken(f"j{n}", date(2020, 1, 1) + timedelta(days=day), "", f"{value}", float(value), False)
        for n, (day, value) in enumerate(sorted(told))
    )
    placed = marks(Series("x", taken))
    assert all(SIDE <= mark.x <= WIDE - SIDE and FOOT <= mark.y <= TALL - HEAD for mark in placed)
    assert [mark.x for mark in placed] == sorted(mark.x for mark in placed)
    assert [m.y for m in sorted(placed, key=lambda m: m.y)] == [
        placed[n].y for n in sorted(range(len(taken)), key=lambda n: taken[n].value)
    ]


def test_the_record_sets_earlier_readings_beside_those_of_the_job():
    first, now = job(1, ("idle", "92")), job(2, ("idle", "88"))
    told = record(now, SHOP, [first])
    (chapter,) = [one for one in told.chapters if one.key == "history"]
    assert [row.cells[1] for row in chapter.rows] == ["2026-0001", "2026-0002"]
    assert len(chapter.plots) == 1


def test_a_machine_that_was_never_here_has_no_history():
    told = record(job(2, ("idle", "88"), ("idle", "87")), SHOP)
    assert "history" not in [one.key for one in told.chapters]


def test_both_forms_draw_a_series_with_its_words_beside_it():
    told = record(job(2, ("idle", "88")), SHOP, [job(1, ("idle", "92"), phase="before")])
    source = record_html(told, photo_bytes)
    assert source.count("<circle") == 2
    assert source.count('fill="#fff"') == 1  # a ring for the one before the repair
    assert "from 92\N{NO-BREAK SPACE}psi" in source
    assert record_pdf(told, photo_bytes) == record_pdf(told, photo_bytes)


def test_what_stands_for_a_drawing_tells_every_figure_in_it():
    jobs = [job(n, ("idle", figure)) for n, figure in enumerate(("92", "90", "88"), start=1)]
    (one,) = series(jobs)
    assert [figure in one.alt for figure in ("92", "90", "88")] == [True] * 3


def test_the_drawing_is_a_figure_with_words_that_stand_for_it():
    told = record(job(2, ("idle", "88")), SHOP, [job(1, ("idle", "92"))])
    (chapter,) = [one for one in told.chapters if one.plots]
    nodes = tree(record_pdf(told, photo_bytes)).walk()
    assert [n.alt for n in nodes if n.role == "Figure"] == [one.alt for one in chapter.plots]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return open_desk(Settings(data_folder=tmp_path))


def test_a_serial_number_is_found_whatever_its_case_spaces_and_marks(desk):
    made = desk.new(serial="OG 77/12")
    desk.new(serial="OG 77/123")
    desk.new()
    for typed in ("OG 77/12", "og7712", "OG-77-12", "og 7712"):
        assert [one.id for one in desk.of_machine(typed)] == [made.id]


@pytest.mark.parametrize("serial", ["", "  ", "-", "OG 7", "OG"])
def test_no_machine_is_found_by_a_part_of_its_number(desk, serial):
    desk.new(serial="OG 77/12")
    desk.new()
    assert desk.of_machine(serial) == ()


def test_all_jobs_of_a_machine_are_found_among_many(desk):
    for n in range(120):
        desk.new(serial="OG 77/12" if n % 2 else "other")
    assert len(desk.of_machine("OG 77/12")) == 60


def test_only_what_came_before_a_job_is_earlier(desk):
    first, second, third = (desk.new(serial="OG1") for _ in range(3))
    assert [one.id for one in desk.earlier(second)] == [first.id]
    assert desk.earlier(first.having(machine=Machine())) == ()
    assert len(desk.earlier(third)) == 2

"""What a person types, held against the same ranges as what was heard."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from jobnotes.checks.typed import understood, unit_code
from jobnotes.desk import Desk, open_desk
from jobnotes.errors import ReviewError
from jobnotes.intake.typed import typed
from jobnotes.record import Job
from jobnotes.review import events
from jobnotes.review.entering import Span, enter
from jobnotes.settings import Settings

NOW = datetime(2026, 3, 14, 10, 0, tzinfo=UTC)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return open_desk(Settings(data_folder=tmp_path))


def job_at(desk: Desk, said: str) -> Job:
    job = desk.new(machine="tiller")
    return desk.change(job.id, lambda kept: typed(kept, said))


def entered(desk: Desk, what: str, value: str, unit: str) -> Job:
    job = job_at(desk, "battery twelve forty")
    fields = {"what": what, "value": value, "unit": unit}
    return desk.review(
        job.id, lambda kept: enter(kept, "reading", fields, Span("r1", 0, 2), "Ada", NOW)
    )


def codes(job: Job) -> list[str]:
    return [flag.code for fact in job.facts for flag in fact.open_flags]


@pytest.mark.parametrize(
    ("what", "value", "unit"),
    [
        ("battery voltage", "1240", "V"),
        ("spark plug gap", "30000", "thou"),
        ("cylinder compression", "9000", "psi"),
        ("something unheard of", "900000", "psi"),
    ],
)
def test_a_slip_of_the_keyboard_is_flagged_at_once(desk, what, value, unit):
    assert codes(entered(desk, what, value, unit)) == ["unlikely"]


@pytest.mark.parametrize(
    ("what", "value", "unit"),
    [("battery voltage", "12.40", "V"), ("spark plug gap", "30", "thou"), ("x", "90", "psi")],
)
def test_a_likely_value_is_not_flagged(desk, what, value, unit):
    assert codes(entered(desk, what, value, unit)) == []


def test_a_corrected_value_is_checked_when_it_is_typed(desk):
    job = entered(desk, "battery voltage", "12.40", "V")
    wrong = desk.review(
        job.id, lambda kept: events.correct(kept, "e1", "Ada", NOW, {"value": "1240"})
    )
    assert codes(wrong) == ["unlikely"]


def test_undoing_a_slip_takes_its_flag_away(desk):
    job = entered(desk, "battery voltage", "12.40", "V")
    desk.review(job.id, lambda kept: events.correct(kept, "e1", "Ada", NOW, {"value": "1240"}))
    assert codes(desk.review(job.id, lambda kept: events.undo(kept, "Ada", NOW))) == []


def test_settling_one_slip_settles_no_other(desk):
    job = entered(desk, "battery voltage", "1240", "V")
    desk.review(job.id, lambda kept: events.settle_flag(kept, "e1", "unlikely", "Ada", NOW))
    again = {"value": "99999"}
    wrong = desk.review(job.id, lambda kept: events.correct(kept, "e1", "Ada", NOW, again))
    assert codes(wrong) == ["unlikely"]


def test_a_settled_value_stays_settled_when_checked_again(desk):
    job = entered(desk, "battery voltage", "1240", "V")
    settled = desk.review(
        job.id, lambda kept: events.settle_flag(kept, "e1", "unlikely", "Ada", NOW)
    )
    assert codes(settled) == []
    assert codes(desk.review(job.id, lambda kept: events.confirm(kept, "e1", "Ada", NOW))) == []


@pytest.mark.parametrize(
    ("name", "code"),
    [("V", "V"), ("volts", "V"), ("foot pounds", "ft.lbf"), ("kΩ", "kohm"), ("thou", "thou")],
)
def test_a_unit_may_be_typed_by_any_of_its_names(name, code):
    assert unit_code(name) == code


@pytest.mark.parametrize("name", ["furlong", "degrees", "volts per hour", "12"])
def test_a_unit_that_is_not_clear_is_refused(name):
    with pytest.raises(ReviewError, match=name):
        unit_code(name)


def test_fields_without_a_unit_stay_as_they_are():
    assert understood({"text": "it jams", "unit": ""}) == {"text": "it jams", "unit": ""}

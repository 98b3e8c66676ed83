from datetime import UTC, datetime
from decimal import Decimal

import pytest

from jobnotes.checks.spec_book import BookedSpec
from jobnotes.checks.stage import check
from jobnotes.record import (
    Action,
    Complaint,
    Evidence,
    Fact,
    Finding,
    Flag,
    Job,
    Labour,
    Part,
    Reading,
    Spec,
    State,
    Verification,
)


def at(word: int) -> tuple[Evidence, ...]:
    return (
        Evidence(recording="r", first=word, last=word, start_s=word, end_s=word + 1, text="word"),
    )


def job(*facts: Fact) -> Job:
    numbered = tuple(
        fact.having(id=str(n), evidence=fact.evidence or at(10 * n)) for n, fact in enumerate(facts)
    )
    return Job(id="j", created_at=datetime(2026, 9, 1, tzinfo=UTC), facts=numbered)


def reading(value: str, unit: str = "V", what: str = "battery voltage", **more: str) -> Reading:
    return Reading(what=what, value=Decimal(value), unit=unit, as_said=value, **more)


def codes(checked: Job, place: int = 0) -> set[str]:
    return {flag.code for flag in checked.facts[place].open_flags}


def asked(checked: Job) -> set[str]:
    return {question.code for question in checked.questions}


def typed_in(value: str, rule: str, unit: str) -> Reading:
    """A reading whose value a person put in."""
    return reading(value, unit).having(rule=rule, state=State.CORRECTED)


@pytest.mark.parametrize(
    ("value", "rule", "unit"),
    [("1240", "battery-voltage", "V"), ("4500", "torque", "N.m"), ("30000", "compression", "psi")],
)
def test_a_typed_value_that_no_machine_of_the_trade_has_is_flagged(value, rule, unit):
    # common practice, no source
    assert codes(check(job(typed_in(value, f"measures.{rule}", unit)))) == {"unlikely"}


@pytest.mark.parametrize(
    ("value", "rule", "unit"),
    [("12.40", "battery-voltage", "V"), ("45", "torque", "N.m"), ("120", "compression", "psi")],
)
def test_a_usual_typed_value_is_not_flagged(value, rule, unit):
    assert codes(check(job(typed_in(value, f"measures.{rule}", unit)))) == set()


def test_the_reason_of_a_flag_is_one_sentence_with_the_value():
    (flag,) = check(job(typed_in("1240", "measures.battery-voltage", "V"))).facts[0].flags
    assert "1240 V" in flag.why
    assert flag.why.endswith(".")


def test_two_values_of_one_thing_without_work_between_contradict():
    checked = check(job(reading("12.4"), reading("11.2")))
    assert codes(checked, 0) == codes(checked, 1) == {"two-values"}


def test_two_values_with_work_between_do_not_contradict():
    work = Action(verb="charge", object="battery")
    assert codes(check(job(reading("11.2"), work, reading("12.4")))) == set()


def test_two_values_in_two_states_do_not_contradict():
    states = reading("12.4", when="key off"), reading("10.9", when="cranking")
    assert codes(check(job(*states))) == set()


def test_the_same_value_said_twice_does_not_contradict():
    assert codes(check(job(reading("12.4"), reading("12.40")))) == set()


def test_a_part_both_installed_and_reused_is_flagged():
    parts = (Part(number="AB-1", name="bolt", status=status) for status in ("installed", "reused"))
    checked = check(job(*parts))
    assert codes(checked, 0) == codes(checked, 1) == {"installed-and-reused"}


def test_a_flag_that_a_person_settled_stays_settled():
    once = check(job(typed_in("1240", "measures.battery-voltage", "V")))
    settled = [flag.having(open=False) for flag in once.facts[0].flags]
    again = check(once.having(facts=(once.facts[0].having(flags=tuple(settled)),)))
    assert again.facts[0].flags == tuple(settled)


def test_a_flag_of_another_stage_is_kept():
    heard = Flag(by="speech", code="heard-two-ways", why="Two ways.")
    assert codes(check(job(reading("12.4").having(flags=(heard,))))) == {"heard-two-ways"}


def test_checking_twice_gives_the_same_job():
    once = check(job(reading("12.40"), reading("11.2")))
    assert check(once) == once


def test_a_rejected_fact_is_not_checked():
    rejected = (reading(value).having(state=State.REJECTED) for value in ("12.4", "11.2"))
    assert codes(check(job(*rejected))) == set()


def test_a_job_without_facts_is_asked_nothing():
    assert check(job()).questions == ()


def test_a_complaint_alone_asks_for_its_cause():
    assert "no-cause" in asked(check(job(Complaint(text="no spark"))))


def test_a_finding_answers_the_question_for_the_cause():
    found = Finding(what="coil", state_found="open")
    assert "no-cause" not in asked(check(job(Complaint(text="no spark"), found)))


def test_a_failed_reading_asks_for_one_after_the_repair():
    limits = Spec(what="battery voltage", low=Decimal("12.4"), high=None, unit="V", as_said="")
    assert "no-reading-after" in asked(check(job(reading("11.2"), limits)))


def test_a_good_reading_after_a_failed_one_answers_the_question():
    limits = Spec(what="battery voltage", low=Decimal("12.4"), high=None, unit="V", as_said="")
    both = reading("11.2", phase="before"), limits, reading("12.6", phase="after")
    assert "no-reading-after" not in asked(check(job(*both)))


def test_the_shops_own_spec_book_is_used():
    booked = BookedSpec(what="battery voltage", low=Decimal("12.4"), unit="V", source="manual")
    checked = check(job(reading("11.2")), [booked])
    assert "no-reading-after" in asked(checked)
    assert [spec.source for spec in checked.booked] == ["manual"]


def test_a_torque_without_its_value_is_asked_for():
    assert "torque-without-value" in asked(check(job(Action(verb="torque", object="head bolts"))))


def test_a_torque_with_its_reading_is_not_asked_for():
    done = Action(verb="torque", object="head bolts", linked=("1",))
    assert "torque-without-value" not in asked(check(job(done)))


def test_an_ordered_part_that_is_never_fitted_is_asked_for():
    assert "ordered-not-installed" in asked(check(job(Part(number="A", name="", status="ordered"))))


def test_an_ordered_part_that_is_fitted_later_is_not_asked_for():
    parts = (Part(number="A", name="", status=status) for status in ("ordered", "installed"))
    assert "ordered-not-installed" not in asked(check(job(*parts)))


def test_work_without_a_check_of_it_is_asked_for():
    work = Action(verb="clean", object="carburettor")
    assert "no-verification" in asked(check(job(work)))
    assert "no-verification" not in asked(check(job(work, Verification(text="runs well"))))


def test_missing_labour_is_asked_for():
    time = Labour(minutes=Decimal(50), as_said="fifty minutes")
    assert "no-labour" in asked(check(job(Complaint(text="no spark"))))
    assert "no-labour" not in asked(check(job(Complaint(text="no spark"), time)))

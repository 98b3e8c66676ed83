"""Readings against limits: only where it is beyond doubt which limits are meant."""

from decimal import Decimal

from report_jobs import SHOP, Bench

from jobnotes.record import Job, Spec
from jobnotes.report.content import story
from jobnotes.report.story import Measure


def measured(job: Job) -> list[Measure]:
    sections = story(job, SHOP, False).sections
    return [b for part in sections for b in part.blocks if isinstance(b, Measure)]


def test_a_reading_is_judged_in_the_unit_of_its_limits():
    bench = Bench()
    bench.say("gap is eleven thou should be nought point two to nought point three millimetres")
    bench.reading("air gap", "11", "thou")
    bench.spec("air gap", "0.2", "0.3", "mm")
    assert measured(bench.job())[0].points[0].verdict == "within limits"


def test_the_limit_itself_is_within_limits():
    bench = Bench()
    bench.reading("air gap", "12", "thou")
    bench.spec("air gap", None, "12", "thou")
    assert measured(bench.job())[0].points[0].verdict == "within limits"


def test_one_stated_value_gives_no_verdict_unless_it_is_met():
    bench = Bench()
    bench.reading("line pressure", "98", "psi", where="front")
    bench.reading("line pressure", "100", "psi", where="rear")
    bench.spec("line pressure", "100", "100", "psi")
    points = measured(bench.job())[0].points
    assert [point.verdict for point in points] == ["", "as it should be"]


def test_limits_of_a_different_quantity_are_not_used():
    bench = Bench()
    bench.say("belt twelve millimetres should be six kilos")
    bench.reading("belt", "12", "mm")
    bench.spec("belt", "6", None, "kg")
    assert measured(bench.job())[0].limits is None


def test_a_general_name_said_far_away_judges_nothing():
    bench = Bench()
    bench.say("voltage should be fourteen or more")
    bench.spec("voltage", "14", None, "V")
    for _ in range(4):
        bench.say("something else")
    bench.reading("starter voltage", "9.8", "V")
    bench.say("starter voltage nine point eight")
    bench.reading("starter voltage", "9.9", "V", where="at the stud")
    assert [measure.limits for measure in measured(bench.job())] == [None, None]


def test_a_resembling_name_does_not_reach_past_a_closer_reading():
    bench = Bench()
    bench.say("engine speed thirty six hundred")
    bench.reading("engine speed", "3600", "rpm")
    bench.say("but the drum shaft only does nine hundred plate says eleven hundred")
    bench.reading("drum shaft speed", "900", "rpm")
    bench.spec("plate engine speed", "1100", None, "rpm")
    assert [measure.limits for measure in measured(bench.job())] == [None, None]


def test_a_general_name_said_beside_the_reading_judges_it():
    bench = Bench()
    bench.say("starter voltage nine point eight should be ten or more")
    bench.reading("starter voltage", "9.8", "V")
    bench.spec("voltage", "10", None, "V")
    assert measured(bench.job())[0].points[0].verdict == "below the limit"


def test_limits_belong_to_the_reading_they_were_said_with_and_those_taken_the_same_way():
    bench = Bench()
    bench.say("battery voltage resting twelve point four")
    bench.reading("battery voltage", "12.4", "V", when="resting")
    bench.say("cranking eight point nine should be nine point six")
    bench.reading("battery voltage", "8.9", "V", when="cranking", phase="before")
    bench.spec("battery voltage", "9.6", None, "V")
    bench.say("cranking now ten point two")
    bench.reading("battery voltage", "10.2", "V", when="cranking", phase="after")
    judged = {p.said[:4]: p.verdict for m in measured(bench.job()) for p in m.points}
    assert judged == {
        "12.4": "",
        "8.9\N{NO-BREAK SPACE}": "below the limit",
        "10.2": "within limits",
    }


def test_how_far_readings_may_differ_judges_none_of_them():
    bench = Bench()
    bench.say("cell voltage three point nine should all be within point one volts")
    bench.reading("cell voltage", "3.9", "V")
    bench.spec("cell voltage", None, "0.1", "V")
    assert measured(bench.job())[0].limits is None


def test_two_limits_of_one_name_judge_nothing():
    bench = Bench()
    bench.say("idle nineteen fifty book says seventeen to nineteen sticker says nineteen to twenty")
    bench.reading("idle speed", "1950", "rpm")
    bench.spec("idle speed", "1700", "1900", "rpm")
    bench.spec("idle speed", "1900", "2000", "rpm")
    assert measured(bench.job())[0].limits is None


def test_the_shops_own_book_judges_what_nobody_gave_limits_for():
    bench = Bench()
    bench.reading("idle speed", "1950", "rpm")
    booked = Spec(
        what="idle speed",
        low=Decimal(1700),
        high=Decimal(1900),
        unit="rpm",
        as_said="1700 to 1900",
        source="service sheet 12",
    )
    measure = measured(bench.job().having(booked=(booked,)))[0]
    assert measure.points[0].verdict == "above the limit"
    assert measure.limits is not None
    assert "service sheet 12" in measure.limits.text


def test_limits_said_in_the_job_come_before_the_book():
    bench = Bench()
    bench.reading("idle speed", "1950", "rpm")
    bench.spec("idle speed", "1900", "2000", "rpm")
    booked = Spec(what="idle speed", low=None, high=Decimal(1), unit="rpm", as_said="", source="x")
    assert measured(bench.job().having(booked=(booked,)))[0].points[0].verdict == "within limits"


def test_the_same_reading_in_several_places_shares_a_measure():
    bench = Bench()
    for place, value in (("cylinder one", "118"), ("cylinder two", "92")):
        bench.reading("compression", value, "psi", where=place)
    names = [point.name for point in measured(bench.job())[0].points]
    assert names == ["cylinder one", "cylinder two"]


def test_readings_of_different_things_have_measures_of_their_own():
    bench = Bench()
    bench.reading("belt tension", "7", "kg", phase="before")
    bench.reading("chain tension", "6", "kg", phase="after")
    assert len(measured(bench.job())) == 2

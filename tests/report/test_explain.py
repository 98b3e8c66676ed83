"""What is said of how a fact came about."""

from datetime import UTC, datetime

import pytest
from report_jobs import FLAG, Bench

from jobnotes.errors import ReviewError
from jobnotes.record import Cause, Evidence, Reading
from jobnotes.report.explain import AROUND, explain
from jobnotes.review import events

NOW = datetime(2026, 3, 14, 10, 0, tzinfo=UTC)


def bench() -> Bench:
    made = Bench()
    made.say("it will not start and that is all he said")
    made.say("spark plug gap is forty two thou")
    made.reading("spark plug gap", "42", "thou", rule="measures.gap")
    made.say("book says thirty")
    return made


def test_the_words_on_both_sides_stand_apart_from_the_fact_s_own():
    (place,) = explain(bench().job(), "f1").places
    assert place.own == "spark plug gap is forty two thou"
    assert place.before.endswith("that is all he said")
    assert place.after == "book says thirty"


def test_no_more_than_a_breath_or_two_of_other_words_is_shown():
    long = Bench()
    long.say("and " * 100)
    long.fact(Cause, text="it", evidence=(evidence(50),))
    (place,) = explain(long.job(), "f1").places
    assert len(place.before.split()) == AROUND
    assert len(place.after.split()) == AROUND


def evidence(word: int) -> Evidence:
    return Evidence(recording="r1", first=word, last=word, start_s=25, end_s=25.4, text="and")


def test_recording_seconds_and_words_are_named():
    (place,) = explain(bench().job(), "f1").places
    assert (place.name, place.first, place.last) == ("bench.m4a", 10, 16)
    assert (place.start_s, place.end_s) == (5.0, 8.4)


def test_the_rule_is_shown_with_its_meaning_and_what_of_it_was_heard():
    told = explain(bench().job(), "f1")
    assert told.rule.meaning.endswith("gap.")
    assert "gap" in told.heard


def test_the_steps_of_review_about_the_fact_are_shown_and_no_others():
    made = bench()
    made.reading("plug reach", "19", "mm")
    job = events.correct(made.job(), "f1", "Ada", NOW, {"value": "40"})
    job = events.reject(job, "f2", "Ada", NOW)
    (event,) = explain(job, "f1").events
    assert (event.who, event.what, event.after["value"]) == ("Ada", "correct", "40")


def test_a_flag_keeps_both_readings():
    flag = FLAG.having(options=("42 thou", "0.42 in"))
    job = bench().job()
    fact = job.facts[0].having(flags=(flag,))
    assert isinstance(fact, Reading)
    (shown,) = explain(job.having(facts=(fact,)), "f1").fact.flags
    assert shown.options == ("42 thou", "0.42 in")


def test_a_fact_that_is_not_there_is_named():
    with pytest.raises(ReviewError, match="'f9'"):
        explain(bench().job(), "f9")

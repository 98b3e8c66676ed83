"""Text that nobody would say goes through everything after speech: no error, work in line."""

import sys
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobnotes import pipeline
from jobnotes.intake.typed import LONGEST, typed
from jobnotes.record import Job

WORDS = """
    five twenty hundred thousand point oh half a and to of minus plus or per metre volts psi inch
    thousandths thou ' " / - , . 7 12.5 12,5 1e-3 5/16 QX4 no wait scratch that make it not dash
    double dozen couple square cubed ² ten times battery gap torque number cylinder under
"""

KINDS = {
    "figures": "7",
    "long figures": "123456",
    "number words": "twenty five hundred",
    "scales": "two thousand",
    "points": "point",
    "units": "volts",
    "units per units": "metre per",
    "halves": "half a",
    "ranges": "5 to",
    "corrections": "five volts no wait",
    "letters": "a",
    "marks": '"',
    "parts": "replaced the pump",
    "speech": "battery twelve point four volts then no wait make that 12.6 and the fuse is fine",
}


def typed_job(text):
    return typed(Job(id="j", created_at=datetime(2026, 9, 1, tzinfo=UTC)), text)


def worked_out(text):
    job = typed_job(text)
    for stage in pipeline.later_stages():
        job = stage.run(job)
    return job


def steps(text):
    """Count the calls of our own functions that a text takes, whatever the machine's speed."""
    called = 0

    def count(frame, event, _):
        nonlocal called
        called += event == "call" and "jobnotes" in frame.f_code.co_filename

    sys.setprofile(count)
    try:
        worked_out(text)
    finally:
        sys.setprofile(None)
    return called


def said(words, count):
    spoken = words.split()
    return " ".join((spoken * (count // len(spoken) + 1))[:count])


@settings(max_examples=40, deadline=None)
@given(st.text(min_size=1, max_size=200).filter(str.strip))
def test_any_unicode_goes_through_every_stage(text):
    assert worked_out(text).words


@settings(max_examples=80, deadline=None)
@given(st.lists(st.sampled_from(WORDS.split()), min_size=1, max_size=40))
def test_any_run_of_numbers_units_and_corrections_goes_through_every_stage(words):
    assert worked_out(" ".join(words)).words


@pytest.mark.parametrize("words", KINDS.values(), ids=KINDS)
def test_twice_the_text_takes_no_more_than_twice_the_work(words):
    worked_out(said(words, 50))  # so that what is built once is not counted
    once, twice = steps(said(words, LONGEST)), steps(said(words, LONGEST * 2))
    assert twice < 2.4 * once


def test_a_line_without_an_end_is_parted_into_breaths():
    job = typed_job(said("seven", 100_000))
    assert len(job.words) == 100_000
    assert max(u.last - u.first + 1 for u in job.utterances) <= LONGEST


def test_a_long_line_is_parted_at_a_punctuation_mark():
    job = typed_job(f"{said('word', LONGEST - 5)}, {said('word', 50)}")
    assert job.words[job.utterances[0].last].text == "word,"


def test_a_line_of_a_breath_stays_one_utterance():
    assert len(typed_job(said("word", LONGEST)).utterances) == 1

"""The fixed texts of the report are plain: Flesch-Kincaid grade, measured with textstat."""

import pytest
import textstat
from fixed_texts import caution_texts, heads, meanings
from report_jobs import SHOP
from stress_jobs import JOBS, long_repair

from jobnotes.record import Job
from jobnotes.report.content import story
from jobnotes.report.english import rules
from jobnotes.report.story import Item

CAUTIONS, MEANINGS = caution_texts(), meanings()
HEADS = [text if text.endswith(".") else f"{text}." for text in heads()]


def prose(job: Job) -> str:
    """All sentences of a story, but for photo numbers and what stands in drawings and tables."""
    told = story(job, SHOP, draft=True)
    items = [b for part in told.sections for b in part.blocks if isinstance(b, Item)]
    return " ".join(item.sentence.text for item in items).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize("make", [JOBS["whole"], JOBS["facts"], long_repair])
def test_a_story_needs_no_more_than_grade_eight(make):
    text = prose(make())
    assert len(text.split()) > 100
    assert textstat.flesch_kincaid_grade(text) <= 8


def test_the_demos_story_needs_no_more_than_grade_eight(demo):
    text = prose(demo.job)
    assert len(text.split()) > 200
    assert textstat.flesch_kincaid_grade(text) <= 8


@pytest.mark.parametrize("texts", [CAUTIONS, MEANINGS, HEADS], ids=["cautions", "terms", "heads"])
def test_the_texts_together_need_no_more_than_grade_eight(texts):
    assert textstat.flesch_kincaid_grade(" ".join(texts)) <= 8


@pytest.mark.parametrize("text", CAUTIONS + MEANINGS)
def test_each_text_alone_needs_no_more_than_grade_eight(text):
    assert textstat.flesch_kincaid_grade(text) <= 8


def test_the_measure_tells_hard_text_from_plain_text():
    hard = "Intermittent discontinuity of the secondary ignition circuitry precipitated misfiring."
    assert textstat.flesch_kincaid_grade(hard) > 12


def test_no_term_has_two_meanings():
    names = [name.lower() for names in rules("glossary")["terms"].values() for name in names]
    assert sorted(names) == sorted(set(names))


@pytest.mark.parametrize(
    "danger",
    [
        "fuel", "exhaust", "blades", "battery", "mains", "capacitor", "pressure", "jet", "lifting",
        "spring", "hot", "chain-saw",
    ],
)  # fmt: skip
def test_each_usual_danger_has_a_caution(danger):
    assert danger in {caution["id"] for caution in rules("cautions")["caution"]}

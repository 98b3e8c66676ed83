"""The fixed texts of the report are plain: Flesch-Kincaid grade, measured with textstat."""

import pytest
import textstat

from jobnotes.report.english import rules

CAUTIONS = [caution["text"] for caution in rules("cautions")["caution"]]
MEANINGS = [term["meaning"] for term in rules("glossary")["term"]]
HEADS = [part.get("lead", part["title"]) for part in rules("sections").values()]


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
    names = [
        name.lower()
        for term in rules("glossary")["term"]
        for name in {term["name"], *term.get("also", [])}
    ]
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

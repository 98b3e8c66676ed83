"""The demo's story from its script and its real photos, in both forms."""

import page
import pytest
from html_page import parsed
from report_jobs import SHOP
from tagged_pdf import empty_marks, tree, unmarked

from jobnotes.record import Private, Reading, Withdrawn
from jobnotes.report.content import story
from jobnotes.report.html import html
from jobnotes.report.pdf import pdf
from jobnotes.report.story import Measure


@pytest.fixture(scope="module")
def told(demo):
    return story(demo.job, SHOP, draft=True)


@pytest.fixture(scope="module")
def printed(demo, told):
    return pdf(told, demo.desk.photo_bytes)


@pytest.fixture(scope="module")
def shown(demo, told):
    return parsed(html(told, demo.desk.photo_bytes))


def test_a_checker_of_the_standard_finds_nothing(printed):
    # page-validation 0.11 checks the machine-checkable rules of PDF/UA-1
    found = page.validate_pdf_bytes(printed, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in found.failures] == []


def test_everything_is_marked_and_no_mark_is_empty(printed):
    assert unmarked(printed) == []
    assert empty_marks(printed) == []


def test_every_photo_and_every_drawing_is_a_figure_with_words(demo, told, printed):
    drawn = [
        b for part in told.sections for b in part.blocks if isinstance(b, Measure) and b.limits
    ]
    figures = [node for node in tree(printed).walk() if node.role == "Figure"]
    assert len(figures) == len(demo.job.photos) + len(drawn)
    assert len(drawn) > 2
    assert all(len(node.alt) > 10 for node in figures)


def test_both_forms_say_the_same(told, printed, shown):
    words = shown.text()
    for sentence in told.sentences():
        assert " ".join(sentence.text.replace("\N{NO-BREAK SPACE}", " ").split()) in words
    heads = [tag.text() for tag in shown.all("h2")]
    assert heads == [part.title for part in told.sections]


def test_what_is_private_or_was_taken_back_is_in_neither_form(demo, shown):
    assert any(isinstance(fact, Private) for fact in demo.job.facts)
    assert any(isinstance(fact, Withdrawn) for fact in demo.job.facts)
    assert "foreman" not in shown.text()
    assert "16 thou" not in shown.text()


def test_no_proof_is_told_twice(demo, told):
    readings = {fact.id for fact in demo.job.facts if isinstance(fact, Reading)}
    (found,) = [part for part in told.sections if part.key == "found"]
    used = [name for b in found.blocks for name in b.sentence.facts if name in readings]
    assert used
    assert len(used) == len(set(used))


def test_twenty_photos_of_print_quality_stay_under_three_megabytes(demo):
    photos = [one for _ in range(3) for one in demo.job.photos][:20]
    named = tuple(one.having(id=f"{one.id}-{n}", evidence=()) for n, one in enumerate(photos))
    data = pdf(story(demo.job.having(photos=named), SHOP, True), demo.desk.photo_bytes)
    assert len(data) < 3_000_000

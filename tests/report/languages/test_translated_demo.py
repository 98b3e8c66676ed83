"""The demo's story in French and Spanish: nothing English unmarked, no figure changed."""

import re
from decimal import Decimal
from pathlib import Path

import page
import pytest
from html_page import parsed
from report_jobs import SHOP
from tagged_pdf import empty_marks, opened, tree, unmarked

from jobnotes.record import Reading, Spec
from jobnotes.report import gate
from jobnotes.report.content import story
from jobnotes.report.html import html
from jobnotes.report.languages.choice import tongue
from jobnotes.report.languages.counting import counted
from jobnotes.report.languages.quoting import stretches
from jobnotes.report.pdf import pdf
from jobnotes.report.story import Item, Measure, PartRow, Story

LANGUAGES = ("fr", "es")
WORD = re.compile(r"[^\W\d_]{2,}")
ENGLISH = re.compile(r"\d[\d,]*(?:\.\d+)?")
FIGURE = re.compile(r"\d+(?:\N{NARROW NO-BREAK SPACE}\d{3})*(?:,\d+)?")
# What is spelled alike in English and French or Spanish, beside names of people and things.
SHARED = {
    "psi", "rpm", "in", "lbf", "ft", "min", "mm", "kpa", "kω", "no",
    "compression", "source", "photo", "minutes", "cause",
}  # fmt: skip


@pytest.fixture(scope="module", params=LANGUAGES)
def told(request, demo) -> Story:
    return story(demo.job, SHOP, draft=True, tongue=tongue(request.param))


def texts(told: Story) -> list[str]:
    """All that the story says but for headings, cautions and the words of the trade."""
    found = [told.title]
    blocks = [b for part in told.sections if part.key not in ("care", "words") for b in part.blocks]
    for block in blocks:
        if isinstance(block, Item):
            found += [block.sentence.text, *(shown.caption.text for shown in block.pictures)]
        elif isinstance(block, Measure):
            found += [block.name(), *block.lines(), block.limits.text if block.limits else ""]
        elif isinstance(block, PartRow):
            found += [block.name, block.fate]
    return found


def own_words(text: str) -> set[str]:
    """The words of a text outside of what is marked as English."""
    own = "".join(stretch for stretch, foreign in stretches(text) if not foreign)
    return {word.lower() for word in WORD.findall(own)}


def test_no_english_word_stands_outside_a_marked_quote(demo, told):
    english = story(demo.job, SHOP, draft=True)
    spoken = set().union(*(own_words(text) for text in texts(english)))
    unmarked_words = set().union(*(own_words(text) for text in texts(told)))
    assert unmarked_words & spoken <= SHARED


def test_every_figure_is_one_of_a_facts_or_its_conversion(demo, told):
    facts = [f for f in gate.printable(demo.job, draft=True) if isinstance(f, (Reading, Spec))]
    english = story(demo.job, SHOP, draft=True)
    said = " ".join(texts(english))
    own = {Decimal(found.replace(",", "")) for found in ENGLISH.findall(said)}
    own |= {Decimal(n) for n in map(counted, WORD.findall(said)) if n is not None}
    quoted = "".join(s for text in texts(told) for s, foreign in stretches(text) if foreign)
    shown = {_value(found) for text in texts(told) for found in FIGURE.findall(text)}
    assert shown - {Decimal(found) for found in re.findall(r"\d+", quoted)} <= own
    values = {f.value for f in facts if isinstance(f, Reading) and "/" not in f.as_said}
    assert values <= shown


def _value(figure: str) -> Decimal:
    return Decimal(figure.replace("\N{NARROW NO-BREAK SPACE}", "").replace(",", "."))


def test_as_many_sentences_are_told_as_in_english(demo, told):
    english = story(demo.job, SHOP, draft=True)
    assert {part.key for part in told.sections} == {part.key for part in english.sections}
    facts = {name for said in told.sentences() for name in said.facts}
    assert facts == {name for said in english.sentences() for name in said.facts}


def test_the_pdf_keeps_the_standard_and_names_its_language(demo, told):
    # page-validation 0.11 checks the machine-checkable rules of PDF/UA-1
    printed = pdf(told, demo.desk.photo_bytes)
    found = page.validate_pdf_bytes(printed, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in found.failures] == []
    assert unmarked(printed) == []
    assert empty_marks(printed) == []
    assert str(opened(printed).Root.Lang) == told.language
    assert tree(printed).roles().count("Span") >= 2


def test_the_page_names_its_language_and_that_of_each_quote(demo, told):
    shown = parsed(html(told, demo.desk.photo_bytes))
    (root,) = shown.all("html")
    assert root.attributes["lang"] == told.language
    quotes = [tag for tag in shown.all("span") if tag.attributes.get("lang") == "en"]
    assert any("Torvane" in tag.text() for tag in quotes)


def test_the_desk_takes_the_language_asked_for_else_the_jobs_else_the_shops(demo):
    job = demo.job.having(language="es")
    assert demo.desk.story(demo.job, draft=True).language == "en"
    assert demo.desk.story(job, draft=True).language == "es"
    assert demo.desk.story(job, draft=True, language="fr").language == "fr"
    assert b'lang="es"' in demo.desk.report(job, Path("x.html"), draft=True)

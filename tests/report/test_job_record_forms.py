"""The job record on paper and on screen."""

import re
from html.parser import HTMLParser
from io import BytesIO

import pytest
from pypdf import PdfReader
from report_jobs import FLAG, SHOP, changed, photo_bytes, repair

from jobnotes.record import Job, Machine
from jobnotes.report.record_content import record
from jobnotes.report.record_form import Record
from jobnotes.report.record_html import record_html
from jobnotes.report.record_pdf import record_pdf

EVIL = '<script>alert("1")</script> & <img src=x onerror=alert(1)>'


def told(**fields: object) -> Record:
    return record(repair().job(**fields), SHOP)


def texts(one: Record) -> list[str]:
    """Every text of a record that a reader must find in each form of it."""
    cells = [c for chapter in one.chapters for row in chapter.rows for c in row.cells if c]
    return [one.title, *(chapter.title for chapter in one.chapters), *cells]


def on_paper(one: Record, page: str = "A4") -> str:
    reader = PdfReader(BytesIO(record_pdf(one, photo_bytes, page)))
    return squeezed("".join(sheet.extract_text() for sheet in reader.pages))


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


class Page(HTMLParser):
    """The elements of a page with their attributes, and its text."""

    def __init__(self, source: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.text = ""
        self.feed(source)

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))
        if tag not in ("meta", "img", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" not in self.open:
            self.text += data

    def named(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.elements if name == tag]


def page(one: Record) -> Page:
    return Page(record_html(one, photo_bytes))


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_paper_holds_every_text_of_the_record(size):
    one = told()
    printed = on_paper(one, size)
    assert [text for text in texts(one) if squeezed(text) not in printed] == []


def test_the_screen_holds_every_text_of_the_record():
    one = told()
    shown = squeezed(page(one).text)
    assert [text for text in texts(one) if squeezed(text) not in shown] == []


def test_a_doubt_stands_beside_its_figure_in_both_forms():
    one = record(changed(repair().job(), "f4", flags=(FLAG,)), SHOP)
    wanted = squeezed(f"In doubt: {FLAG.why}")
    assert wanted in on_paper(one)
    assert wanted in squeezed(page(one).text)


def test_every_page_says_that_it_is_not_for_the_customer():
    reader = PdfReader(BytesIO(record_pdf(told(), photo_bytes)))
    assert len(reader.pages) > 1
    for sheet in reader.pages:
        assert "not for the customer" in sheet.extract_text()


def test_the_same_record_makes_the_same_bytes():
    assert record_pdf(told(), photo_bytes) == record_pdf(told(), photo_bytes)
    assert record_html(told(), photo_bytes) == record_html(told(), photo_bytes)


def test_chapters_are_bookmarked():
    one = told()
    outline = PdfReader(BytesIO(record_pdf(one, photo_bytes))).outline
    assert [entry.title for entry in outline] == [chapter.title for chapter in one.chapters]


def test_photos_are_in_both_forms():
    reader = PdfReader(BytesIO(record_pdf(told(), photo_bytes)))
    assert sum(len(sheet.images) for sheet in reader.pages) == 1
    (image,) = page(told()).named("img")
    assert image["src"].startswith("data:image/jpeg;base64,")
    assert image["alt"] == "Photo 1: the glazed drive belt."


def test_what_was_said_or_typed_cannot_become_markup():
    job = changed(
        repair().job(customer=EVIL, machine=Machine(description=EVIL, serial=EVIL)), "f1", text=EVIL
    )
    shown = page(record(job, SHOP))
    assert shown.named("script") == []
    assert len(shown.named("img")) == 1
    assert shown.text.count('alert("1")') >= 4


def test_the_page_fetches_and_runs_nothing():
    source = record_html(told(), photo_bytes)
    shown = Page(source)
    kinds = {tag for tag, _ in shown.elements}
    assert not kinds & {"script", "link", "iframe", "object", "form", "base", "video", "audio"}
    links = [a for _, each in shown.elements for n, a in each.items() if n in ("src", "href")]
    assert all(link.startswith("data:") for link in links)
    assert "url(" not in source
    assert "@import" not in source
    # Content Security Policy level 3: nothing but what the file holds itself
    (policy,) = [a for a in shown.named("meta") if "http-equiv" in a]
    assert policy["content"].startswith("default-src 'none'")


def test_the_page_says_its_language_and_each_table_its_heads():
    # WCAG 2.2: 3.1.1 language of page; technique H63, scope
    shown = page(told())
    (html,) = shown.named("html")
    assert html["lang"] == "en"
    assert {head["scope"] for head in shown.named("th")} == {"col", "row"}
    assert len(shown.named("h1")) == 1
    assert shown.open == []


def test_no_id_is_given_twice():
    ids = [a["id"] for _, a in page(told()).elements if "id" in a]
    assert len(ids) == len(set(ids)) > 5


@pytest.mark.parametrize("text", ["\x00\x08bell", "\x0b", "\ud7ff\ufffe"])
def test_characters_that_a_page_may_not_hold_are_dropped(text):
    # HTML Standard 13.2.3.5, preprocessing the input stream
    source = record_html(told(customer=f"Ms. {text} Marsh"), photo_bytes)
    assert not re.search(r"[\x00-\x08\x0b\x0e-\x1f\ufffe]", source)
    assert "Marsh" in source


def test_right_to_left_words_are_set_in_both_forms():
    job: Job = changed(repair().job(), "f1", text="המנוע לא נדלק")
    assert "המנוע לא נדלק" in page(record(job, SHOP)).text
    assert record_pdf(record(job, SHOP), photo_bytes)


def test_a_very_long_text_neither_overflows_nor_stops_the_paper():
    job = changed(repair().job(), "f1", text="and it jams again " * 900)
    printed = on_paper(record(job, SHOP))
    assert printed.count("jams") >= 900

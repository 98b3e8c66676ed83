"""Tagged files (PDF/UA-1, ISO 14289-1), of stories and records alike: checked and read back."""

from functools import cache
from io import BytesIO

import page
import pytest
from report_jobs import SHOP, Bench, photo_bytes, repair
from stress_jobs import HEBREW, JOBS, JOINED, NO_GLYPH
from tagged_pdf import Node, empty_marks, marks_of_pages, opened, tree, unmarked

from jobnotes.errors import AlternateTextError
from jobnotes.record import Action, Recommendation
from jobnotes.report.content import story
from jobnotes.report.pdf import pdf
from jobnotes.report.record_content import record
from jobnotes.report.record_pdf import record_pdf
from jobnotes.report.story import Shop
from jobnotes.report.tags import Element

RECORD = "record of "
each_file = pytest.mark.parametrize("name", [*JOBS, *(f"{RECORD}{name}" for name in JOBS)])


@cache
def built(name: str, paper: str = "A4") -> bytes:
    job = JOBS[name.removeprefix(RECORD)]()
    if name.startswith(RECORD):
        return record_pdf(record(job, SHOP), photo_bytes, paper)
    return pdf(story(job, SHOP, draft=False), photo_bytes, paper)


@each_file
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_checker_of_the_standard_finds_nothing(name, paper):
    # page-validation 0.11 checks the machine-checkable rules of PDF/UA-1
    found = page.validate_pdf_bytes(built(name, paper), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in found.failures] == []
    assert found.is_compliant


def test_the_checker_finds_fault_with_a_file_that_has_no_structure():
    file, kept = opened(built("whole")), BytesIO()
    del file.Root.StructTreeRoot
    file.save(kept)
    assert not page.validate_pdf_bytes(kept.getvalue(), profile="ua1").is_compliant


@each_file
def test_everything_on_a_page_is_marked_or_an_artifact(name):
    assert unmarked(built(name)) == []


@each_file
def test_every_mark_belongs_to_one_element(name):
    held = [mark for node in tree(built(name)).walk() for mark in node.marks]
    assert len(held) == len(set(held))
    assert set(held) == marks_of_pages(built(name))


@each_file
def test_no_element_is_empty(name):
    assert all(node.kids or node.marks for node in tree(built(name)).walk())
    assert empty_marks(built(name)) == []


@each_file
def test_headings_start_at_the_first_level_and_skip_none(name):
    levels = [int(role[1]) for role in tree(built(name)).roles() if role in ("H1", "H2", "H3")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in zip(levels, levels[1:], strict=False))


@each_file
def test_every_figure_has_words_that_stand_for_it_and_a_box(name):
    figures = [node for node in tree(built(name)).walk() if node.role == "Figure"]
    assert all(node.alt.strip() for node in figures)
    assert all("/BBox" in node.attributes for node in figures)


@each_file
def test_every_table_head_has_a_scope_and_every_row_as_many_cells(name):
    nodes = list(tree(built(name)).walk())
    heads = [node for node in nodes if node.role == "TH"]
    assert all(node.attributes["/Scope"] in ("/Column", "/Row") for node in heads)
    for table in (node for node in nodes if node.role == "Table"):
        assert {kid.role for kid in table.kids} == {"TR"}
        assert len({len(row.kids) for row in table.kids}) == 1


@each_file
def test_lists_hold_items_with_a_body(name):
    for node in tree(built(name)).walk():
        if node.role == "L":
            assert {kid.role for kid in node.kids} == {"LI"}
            assert "/ListNumbering" in node.attributes
        if node.role == "LI":
            assert [kid.role for kid in node.kids][-1] == "LBody"


@each_file
def test_elements_are_read_in_the_order_of_the_pages(name):
    pages = [node.marks[0][0] for node in tree(built(name)).walk() if node.marks]
    assert pages == sorted(pages)


@each_file
def test_pages_are_gone_through_by_structure(name):
    for n, one in enumerate(opened(built(name)).pages):
        assert str(one.Tabs) == "/S"
        assert int(one.StructParents) == n


@each_file
def test_every_font_is_embedded_and_can_be_read_back(name):
    file = opened(built(name))
    fonts = [font for one in file.pages for font in one.Resources.Font.values()]
    assert fonts
    for font in fonts:
        assert "/ToUnicode" in font
        assert "/FontFile2" in font.FontDescriptor


def test_the_file_says_in_its_metadata_which_standard_it_keeps_and_its_title():
    with opened(built("whole")).open_metadata() as said:
        assert said["{http://www.aiim.org/pdfua/ns/id/}part"] == "1"
        assert said["dc:title"] == "Leaf shredder: the story of your repair"


def test_a_title_with_markup_is_kept_as_it_stands_in_the_metadata():
    shop = Shop("Nut & <Bolt>")
    data = pdf(story(repair().job(), shop, False), photo_bytes)
    with opened(data).open_metadata() as said:
        assert said["dc:creator"] == ["Nut & <Bolt>"]


def pages_of(node: Node) -> set[int]:
    return {number for inner in node.walk() for number, _ in inner.marks}


def test_a_table_over_two_pages_is_one_table_whose_head_is_read_once():
    bench = Bench()
    for n in range(60):
        bench.reading(f"gap {'abcdefghij'[n % 10] * (1 + n // 10)}", f"{n}.5", "mm")
    nodes = tree(pdf(story(bench.job(), SHOP, False), photo_bytes)).walk()
    (table,) = (node for node in nodes if node.role == "Table")
    assert len(pages_of(table)) > 1
    heads = [node for node in table.walk() if node.attributes.get("/Scope") == "/Column"]
    assert [len(node.marks) for node in heads] == [1] * 3


def test_words_over_two_pages_are_one_element():
    bench = Bench()
    bench.fact(Recommendation, text="check the belt " * 1500)
    nodes = tree(pdf(story(bench.job(), SHOP, False), photo_bytes)).walk()
    assert any(node.role == "P" and len(node.marks) > 1 for node in nodes)


def test_a_step_over_two_pages_is_one_item_with_one_number():
    bench = Bench()
    for _ in range(2):
        bench.say("cleaned it")
        bench.fact(Action, verb="clean", object=f"pan {'and pan ' * 1500}{len(bench.facts)}")
    nodes = list(tree(pdf(story(bench.job(), SHOP, False), photo_bytes)).walk())
    assert [len(node.marks) for node in nodes if node.role == "Lbl"] == [1, 1]
    items = [node for node in nodes if node.role == "LI"]
    assert all(len(pages_of(item)) > 1 for item in items)


def test_words_from_right_to_left_are_given_in_the_order_of_reading():
    said = [node.actual for node in tree(built("hostile")).walk() if HEBREW in node.actual]
    assert said


def test_a_letter_without_a_glyph_is_given_as_it_was_written():
    assert any(NO_GLYPH in node.actual for node in tree(built("hostile")).walk())


def test_letters_that_join_are_given_as_they_were_written():
    assert any(JOINED in node.actual for node in tree(built("hostile")).walk())


def test_letters_that_join_make_the_same_bytes_whatever_was_printed_before():
    def made(name: str) -> bytes:
        return pdf(story(Bench().job(customer=name), SHOP, False), photo_bytes)

    first = made("कुमार")
    made("स्त्री क्षेत्र")
    assert made("कुमार") == first


def test_a_figure_without_words_that_stand_for_it_stops_the_report():
    with pytest.raises(AlternateTextError):
        Element("Document").add("Figure", alt=" ")


def test_a_draft_says_so_where_it_is_read_aloud():
    notes = story(repair().job(), SHOP, draft=True).notes
    assert notes[0] == "This is a draft. The office has not checked it yet."
    data = pdf(story(repair().job(), SHOP, draft=True), photo_bytes)
    assert page.validate_pdf_bytes(data, profile="ua1").is_compliant

"""The structure of the job record on paper, where it is not that of a story."""

from report_jobs import FLAG, SHOP, changed, photo_bytes, repair
from tagged_pdf import Node, opened, tree

from jobnotes.record import Job
from jobnotes.report.record_content import record
from jobnotes.report.record_form import marks
from jobnotes.report.record_pdf import record_pdf


def made(job: Job) -> bytes:
    return record_pdf(record(job, SHOP), photo_bytes)


def named(data: bytes, role: str) -> list[Node]:
    return [node for node in tree(data).walk() if node.role == role]


def test_the_file_says_its_title_in_its_metadata():
    with opened(made(repair().job(id="2026-0009"))).open_metadata() as said:
        assert said["dc:title"] == "Leaf shredder: job record 2026-0009"


def test_every_chapter_is_a_section_under_its_own_heading():
    sections = named(made(repair().job()), "Sect")
    assert len(sections) == len(record(repair().job(), SHOP).chapters)
    assert {section.kids[0].role for section in sections} == {"H2"}


def test_what_must_be_known_of_a_row_belongs_to_its_head():
    job = changed(repair().job(), "f4", flags=(FLAG,))
    rows = [row for chapter in record(job, SHOP).chapters for row in chapter.rows]
    heads = [n for n in named(made(job), "TH") if n.attributes["/Scope"] == "/Row"]
    assert [len(head.kids) - 1 for head in heads] == [len(marks(row)) for row in rows]

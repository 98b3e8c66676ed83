"""The PDF, read back with pypdf."""

import hashlib
import os
import re
import subprocess
import sys
from decimal import Decimal
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader
from report_jobs import FLAG, SHOP, Bench, changed, photo_bytes, repair

from jobnotes.record import Audience, Complaint, Finding, Job, Machine, Recommendation, State
from jobnotes.report import styles
from jobnotes.report.content import story
from jobnotes.report.lettering import fitting, markup
from jobnotes.report.pdf import pdf
from jobnotes.report.story import Shop


def read(job: Job, *, draft: bool = False, shop: Shop = SHOP, page: str = "A4") -> PdfReader:
    return PdfReader(BytesIO(pdf(story(job, shop, draft), photo_bytes, page)))


def text_of(reader: PdfReader) -> str:
    text = "\n".join(page.extract_text() for page in reader.pages)
    return text.replace("\N{NO-BREAK SPACE}", " ")


def unwrapped(reader: PdfReader) -> str:
    return re.sub(r"\s+", " ", text_of(reader))


def many_photos(count: int) -> Job:
    bench = Bench()
    sizes = [(160, 120), (120, 160), (800, 60), (60, 800)]
    for n in range(count):
        bench.photo(f"step {'abcdefghijklmnopqrstuvwxyz'[n]}", *sizes[n % 4], evidence=())
    return bench.job()


def boxes(reader: PdfReader) -> list[tuple[float, float, float, float]]:
    """Return left, bottom, right, top of every picture on the pages."""
    found = []

    def visit(operator, operands, matrix, text_matrix):
        if operator == b"Do":
            wide, _, _, tall, left, bottom = matrix
            found.append((left, bottom, left + wide, bottom + tall))

    for page in reader.pages:
        page.extract_text(visitor_operand_before=visit)
    return found


def test_every_sentence_of_the_story_is_on_the_pages():
    job = repair().job()
    words = unwrapped(read(job))
    for sentence in story(job, SHOP, draft=False).sentences():
        assert sentence.text.replace("\N{NO-BREAK SPACE}", " ") in words


def test_every_figure_on_the_pages_is_one_of_the_jobs():
    job = repair().job()
    words = unwrapped(read(job))
    said = {fact.as_said for fact in job.facts if fact.kind == "reading"} | {"6"}
    converted = {"57"}  # 42 ft·lbf are 56.94 N·m by NIST SP 811, appendix B.8
    about = {"4", "01632", "960", "147", "9", "2026-0007", "14", "2026", "771", "1", "2", "3"}
    labour = {"1", "35"}
    shown = set(re.findall(r"(?<![\w.])\d[\d,.-]*\d|(?<![\w.])\d", words))
    assert shown <= said | converted | about | labour


@pytest.mark.parametrize(
    "change",
    [{"flags": (FLAG,)}, {"state": State.REJECTED}, {"audience": Audience.OFFICE}],
)
def test_a_figure_that_may_not_leave_is_not_on_the_pages(change):
    job = changed(repair().job(), "f4", **change)
    assert "3.5" in text_of(read(repair().job()))
    assert "3.5" not in text_of(read(job, draft=True))


def test_nothing_private_or_withdrawn_is_in_the_file():
    data = pdf(story(repair().job(), SHOP, draft=False), photo_bytes)
    words = unwrapped(PdfReader(BytesIO(data)))
    assert "brick" not in words
    assert "nine" not in words
    assert b"brick" not in data


def test_equal_stories_give_equal_bytes():
    one, other = (pdf(story(repair().job(), SHOP, False), photo_bytes) for _ in range(2))
    assert one == other


@pytest.mark.parametrize("seed", ["1", "2"])
def test_another_run_of_the_program_gives_the_same_bytes(seed):
    script = (
        "import hashlib; from report_jobs import *; from jobnotes.report.content import story;"
        "from jobnotes.report.pdf import pdf;"
        "print(hashlib.sha256(pdf(story(repair().job(), SHOP, False), photo_bytes)).hexdigest())"
    )
    run = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parent,
        env={**os.environ, "PYTHONHASHSEED": seed},
    )
    here = pdf(story(repair().job(), SHOP, False), photo_bytes)
    assert run.stdout.strip() == hashlib.sha256(here).hexdigest()


@pytest.mark.parametrize(("page", "size"), [("A4", (595.28, 841.89)), ("Letter", (612, 792))])
def test_pages_have_the_size_asked_for(page, size):
    box = read(repair().job(), page=page).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)


def test_title_author_and_language_are_set():
    reader = read(repair().job())
    assert reader.metadata.title == "Leaf shredder: the story of your repair"
    assert reader.metadata.author == "Millbrook Repair Works"
    assert reader.root_object["/Lang"] == "en"
    assert reader.root_object["/ViewerPreferences"]["/DisplayDocTitle"].value is True


def test_each_section_has_a_bookmark():
    told = story(repair().job(), SHOP, draft=False)
    outline = [entry.title for entry in read(repair().job()).outline]
    assert outline == [section.title for section in told.sections]


def test_pages_are_numbered_out_of_their_count():
    reader = read(many_photos(20))
    count = len(reader.pages)
    assert count > 1
    for n, page in enumerate(reader.pages, start=1):
        assert f"Page {n} of {count}" in page.extract_text()


def test_each_page_of_a_draft_says_so_and_no_page_of_a_final_story_does():
    job = many_photos(20)
    drafts = [page.extract_text() for page in read(job, draft=True).pages]
    assert all("Draft – not yet checked by the office" in text for text in drafts)
    assert "Draft" not in text_of(read(job))


def test_every_photo_is_shown_whole_inside_the_margins():
    job = many_photos(20)
    placed = boxes(read(job))
    assert len(placed) == 20
    assert all(left >= 60 and right <= 595.28 - 60 for left, _, right, _ in placed)
    assert all(bottom >= 60 and top <= 841.89 - 60 for _, bottom, _, top in placed)


def test_photos_keep_their_proportions():
    (box,) = boxes(read(Bench().job(photos=many_photos(1).photos)))
    left, bottom, right, top = box
    assert (right - left) / (top - bottom) == pytest.approx(160 / 120, rel=0.01)


def test_photos_do_not_cover_each_other():
    reader = read(many_photos(12))
    for page in reader.pages:
        placed = []
        page.extract_text(
            visitor_operand_before=lambda op, args, cm, tm, kept=placed: (
                kept.append(cm) if op == b"Do" else None
            )
        )
        rects = [(m[4], m[5], m[4] + m[0], m[5] + m[3]) for m in placed]
        for n, (left, bottom, right, top) in enumerate(rects):
            for other in rects[:n]:
                apart = (
                    right <= other[0] or left >= other[2] or top <= other[1] or bottom >= other[3]
                )
                assert apart


def test_a_photo_goes_in_as_it_was_given():
    job = many_photos(1)
    (image,) = (image for page in read(job).pages for image in page.images)
    assert image.data == photo_bytes(job.photos[0])


def test_before_and_after_stand_side_by_side():
    bench = Bench()
    bench.photo("the rim before", evidence=())
    bench.photo("the rim after", evidence=())
    before, after = boxes(read(bench.job()))
    assert before[2] <= after[0]
    assert before[1] == pytest.approx(after[1])


def test_nothing_but_the_logos_pixels_gets_into_the_file():
    exif = Image.Exif()
    exif[0x010F] = "SECRET CAMERA"
    kept = BytesIO()
    Image.new("RGB", (90, 40), "#224466").save(kept, "JPEG", exif=exif)
    shop = Shop("Works", logo=kept.getvalue())
    data = pdf(story(repair().job(), shop, False), photo_bytes)
    assert b"SECRET" in kept.getvalue()
    assert b"SECRET" not in data


def test_markup_in_words_is_printed_as_it_stands():
    bench = Bench()
    bench.fact(Complaint, text='a <b>"bold"</b> & </para> claim <img src="x"/>')
    assert 'A <b>"bold"</b> & </para> claim <img src="x"/>.' in unwrapped(read(bench.job()))


@pytest.mark.parametrize(
    "name", ["Zoë Łukasz Ōno", "Ελένη", "Жанна", "山田太郎", "김철수", "Nguyễn Thị Ánh", "Դավիթ"]
)
def test_names_of_many_scripts_are_printed(name):
    assert name in unwrapped(read(Bench().job(customer=name)))


def test_a_hebrew_name_is_drawn_in_its_visual_order():
    assert markup("אבי") == f'<font name="DejaVuSans">{"אבי"[::-1]}</font>'


def test_a_hebrew_name_reads_back_in_its_own_order():
    assert "אבי" in unwrapped(read(Bench().job(customer="אבי")))


def test_an_arabic_name_is_drawn_in_joined_forms():
    assert "\N{ARABIC LETTER MEEM INITIAL FORM}" in unwrapped(read(Bench().job(customer="محمد")))


def test_a_figure_beside_joined_letters_is_a_word_of_its_own_in_one_face():
    # else a paragraph of joined letters would draw it with glyphs of another face
    said = markup("“अमित” 12.30\N{NO-BREAK SPACE}Ω日")
    assert "\N{NO-BREAK SPACE}" not in said
    assert said.endswith(' 12.30 Ω <font name="DroidSansFallback">日</font>')


def test_letters_that_join_are_drawn_in_the_order_of_their_script():
    # Unicode 16, chapter 12.1: the vowel sign i is stored behind its consonant, drawn before it
    apart = read(Bench().job(customer="म ि")).pages[0].get_contents().get_data()
    joined = read(Bench().job(customer="मि")).pages[0].get_contents().get_data()
    assert apart != joined
    assert fitting(styles.META, "मि").shaping
    assert not fitting(styles.META, "mi").shaping


@pytest.mark.parametrize("length", [300, 6000])
def test_a_word_without_an_end_is_broken_over_lines(length):
    bench = Bench()
    bench.fact(Recommendation, text="w" * length)
    letters = re.sub(r"\s", "", text_of(read(bench.job())))
    assert re.sub(r"[^wW]", "", letters).lower().count("w") >= length


def test_a_machine_of_boundless_name_still_makes_a_report():
    bench = Bench()
    bench.fact(Finding, what="x" * 2000, state_found="y" * 2000)
    bench.reading("q" * 900, "1E+30", "psi", where="w" * 900)
    machine = Machine(description="m" * 900, make="k" * 300, serial="s" * 300)
    reader = read(bench.job(machine=machine, customer="c" * 900))
    assert "Page 1 of" in text_of(reader)


def test_a_job_without_facts_makes_one_page():
    assert len(read(Bench().job()).pages) == 1


def test_a_figure_keeps_its_digits_to_the_page():
    bench = Bench()
    bench.reading("battery voltage", "12.30", "V")
    bench.reading("blade length", str(Decimal("20.125")), "in", as_said="20 1/8")
    words = unwrapped(read(bench.job()))
    assert "12.30 V" in words
    assert "20 1/8 in" in words


def long_job() -> Job:
    bench = Bench()
    for n in range(40):
        bench.say(f"the {'abcdefghij'[n % 10]} bearing is worn")
        bench.fact(
            Finding, what=f"bearing {'abcdefghij'[n % 10] * (1 + n // 10)}", state_found="worn"
        )
    for n in range(12):
        bench.photo(f"rim {'abcdefghijkl'[n]}", evidence=())
    bench.fact(Recommendation, text="check the gasket, the piston and the valve")
    return bench.job()


def test_no_page_is_blank():
    for page in read(long_job()).pages:
        assert len(page.extract_text()) > 120 or page.images


def test_each_section_head_is_on_the_page_of_its_first_words():
    told = story(long_job(), SHOP, draft=False)
    pages = [re.sub(r"\s+", " ", page.extract_text()) for page in read(long_job()).pages]
    firsts = {
        part.title: part.blocks[0].sentence.text
        for part in told.sections
        if hasattr(part.blocks[0], "sentence")
    }
    assert len(firsts) >= 3
    for title, first in firsts.items():
        assert any(title in page and first[:40] in page for page in pages)


def test_the_words_of_the_trade_stay_on_one_page():
    pages = [re.sub(r"\s+", " ", page.extract_text()) for page in read(long_job()).pages]
    (page,) = [text for text in pages if "Words of the trade" in text]
    assert all(
        term in page
        for term in ("bearing A ring", "gasket A flat", "piston A plug", "valve A part")
    )

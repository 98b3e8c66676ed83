"""The HTML form, parsed back: whole, asking for nothing from outside, readable without eyes."""

import re
from base64 import b64decode
from functools import cache
from io import BytesIO

import pytest
from html_page import Tag, parsed
from PIL import Image
from report_jobs import FLAG, SHOP, Bench, changed, photo_bytes, repair
from stress_jobs import HEBREW, JOBS, MARKUP

from jobnotes.errors import AlternateTextError, OpenFlagsError
from jobnotes.record import Complaint, Mark, Part
from jobnotes.report.content import story
from jobnotes.report.html import html
from jobnotes.report.story import Gallery, Picture, Section, Sentence, Shop

each_job = pytest.mark.parametrize("name", JOBS)


@cache
def page(name: str) -> Tag:
    return parsed(html(story(JOBS[name](), SHOP, False), photo_bytes))


def made(bench: Bench, shop: Shop = SHOP, **options: bool) -> Tag:
    return parsed(html(story(bench.job(), shop, False, **options), photo_bytes))


@each_job
def test_every_sentence_of_the_story_is_on_the_page(name):
    words = page(name).text()
    for sentence in story(JOBS[name](), SHOP, False).sentences():
        assert " ".join(sentence.text.replace("\N{NO-BREAK SPACE}", " ").split()) in words


@each_job
def test_nothing_is_asked_for_from_outside(name):
    for tag in page(name).walk():
        for key in ("src", "href", "srcset", "action", "poster", "data", "background"):
            assert tag.attributes.get(key, "data:").startswith("data:"), tag.name
    (style,) = page(name).all("style")
    assert not re.search(r"url\(|@import", "".join(map(str, style.inside)))


@each_job
def test_no_script_is_in_the_page(name):
    names = {tag.name for tag in page(name).walk()}
    assert not names & {"script", "iframe", "object", "embed", "form", "link"}
    assert not any(key.startswith("on") for tag in page(name).walk() for key in tag.attributes)


def test_the_page_forbids_its_reader_to_load_anything():
    policy = next(t for t in page("whole").all("meta") if "http-equiv" in t.attributes)
    assert policy.attributes["content"].startswith("default-src 'none'")


@each_job
def test_headings_start_at_the_first_level_and_skip_none(name):
    levels = [int(tag.name[1]) for tag in page(name).all("h1", "h2", "h3", "h4")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in zip(levels, levels[1:], strict=False))


@each_job
def test_the_page_has_its_language_title_and_landmarks(name):
    tree = page(name)
    assert tree.all("html")[0].attributes["lang"] == "en"
    assert "".join(map(str, tree.all("title")[0].inside)).endswith("the story of your repair")
    for landmark in ("header", "main", "footer"):
        assert len(tree.all(landmark)) == 1


@each_job
def test_every_picture_and_drawing_has_words_that_stand_for_it(name):
    for tag in page(name).all("img"):
        assert tag.attributes["alt"].strip()
    for tag in page(name).all("svg"):
        assert tag.attributes.get("aria-hidden") or tag.attributes["aria-label"].strip()


@each_job
def test_every_table_head_has_a_scope_and_every_row_as_many_cells(name):
    for tag in page(name).all("th"):
        assert tag.attributes["scope"] in ("col", "row")
    for table in page(name).all("table"):
        assert len({len(row.all("th", "td")) for row in table.all("tr")}) == 1


@each_job
def test_no_id_stands_twice(name):
    ids = [tag.attributes["id"] for tag in page(name).walk() if "id" in tag.attributes]
    assert len(ids) == len(set(ids))


def test_markup_in_words_is_shown_as_it_stands():
    bench = Bench()
    bench.fact(Complaint, text=MARKUP)
    tree = made(bench)
    assert MARKUP[1:] in tree.text()
    assert not tree.all("b")


def test_words_from_right_to_left_find_their_own_direction():
    bench = Bench()
    bench.fact(Complaint, text=HEBREW)
    (quote,) = made(bench).all("blockquote")
    assert [tag.attributes["dir"] for tag in quote.all("p")] == ["auto"]


def test_a_photo_is_in_the_page_as_it_was_given():
    bench = Bench()
    photo = bench.photo("the rim", evidence=())
    (image,) = made(bench).all("img")
    head, _, data = image.attributes["src"].partition(",")
    assert head == "data:image/jpeg;base64"
    assert b64decode(data) == photo_bytes(photo)
    assert (image.attributes["width"], image.attributes["height"]) == ("160", "120")


def test_photos_are_asked_for_in_the_size_of_a_screen():
    asked = []
    bench = Bench()
    bench.photo("the rim", evidence=())

    def fetch(photo, px):
        asked.append(px)
        return photo_bytes(photo)

    html(story(bench.job(), SHOP, False), fetch)
    assert asked == [1000]


def test_marks_are_lines_over_the_photo():
    bench = Bench()
    box = Mark(shape="box", left=0.25, top=0.25, right=0.75, bottom=0.75)
    bench.photo("the rim", evidence=(), marks=(box,))
    (drawing,) = made(bench).all("svg")
    assert drawing.attributes["viewbox"] == "0 0 160 120"
    assert {path.attributes["d"] for path in drawing.all("path")} == {
        "M40.0 30.0L120.0 30.0L120.0 90.0L40.0 90.0L40.0 30.0"
    }


def test_a_photo_without_words_that_stand_for_it_stops_the_page():
    bench = Bench()
    photo = bench.photo("the rim", evidence=())
    told = story(bench.job(), SHOP, False)
    bare = Picture(1, photo, Sentence("Photo 1."), alt=" ")
    section = Section("photos", "More photos", (Gallery((bare,)),))
    with pytest.raises(AlternateTextError):
        html(told.__class__(**{**vars(told), "sections": (section,)}), photo_bytes)


def test_nothing_but_the_logos_pixels_gets_into_the_page():
    exif = Image.Exif()
    exif[0x010F] = "SECRET CAMERA"
    kept = BytesIO()
    Image.new("RGB", (900, 400), "#224466").save(kept, "JPEG", exif=exif)
    (logo,) = made(Bench(), Shop("Works", logo=kept.getvalue())).all("img")
    assert b"SECRET" not in b64decode(logo.attributes["src"].partition(",")[2])
    assert int(logo.attributes["width"]) <= 480


def test_a_measure_is_drawn_and_told_in_words():
    (drawing,) = page("whole").all("svg")
    assert drawing.attributes["role"] == "img"
    assert "Before: 3.5 kg – below the limit" in page("whole").text()
    assert "Should be at least 6 kg" in page("whole").text()


def test_a_drawing_tells_before_from_any_other_reading_by_its_shape():
    (drawing,) = page("whole").all("svg")
    assert [one.attributes["class"] for one in drawing.all("circle")] == ["ring", "dot"]


def test_prices_are_shown_only_when_asked_for():
    bench = Bench()
    bench.fact(Part, number="A-1", name="belt", status="installed", price="19 dollars")
    assert "19 dollars" not in made(bench).text()
    assert "19 dollars" in made(bench, prices=True).text()


def test_nothing_private_or_withdrawn_is_in_the_page():
    text = html(story(repair().job(), SHOP, False), photo_bytes)
    assert "brick" not in text
    assert "nine" not in page("whole").text()


def test_a_job_with_an_open_flag_makes_no_page_but_a_draft():
    job = changed(repair().job(), "f4", flags=(FLAG,))
    with pytest.raises(OpenFlagsError):
        html(story(job, SHOP, draft=False), photo_bytes)
    draft = parsed(html(story(job, SHOP, draft=True), photo_bytes)).text()
    assert "This is a draft. The office has not checked it yet." in draft
    assert "3.5" not in draft


def test_equal_stories_give_equal_pages():
    one, other = (html(story(repair().job(), SHOP, False), photo_bytes) for _ in range(2))
    assert one == other

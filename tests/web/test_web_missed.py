"""Facts that were said and not found, details that were wrong, photos put in order and marked."""

from decimal import Decimal

import pytest
from web_shop import fact_id, step

from jobnotes.record import Job, Photo, Reading, State

MISSED = {
    "kind": "reading", "words": "ninety two psi", "place": "r1:9-13", "field-what": "cranking",
    "field-value": "92", "field-unit": "psi",
}  # fmt: skip


def take(client, desk, job, name, subject="", **more):
    return client.post(f"/jobs/{job.id}/review", data=step(desk, job.id, name, subject, **more))


def test_the_page_offers_the_words_and_the_seconds_that_were_chosen(clerk, job):
    page = clerk.get(f"/jobs/{job.id}/enter?place=r1:8-12&kind=reading").text
    assert ">compression is ninety two psi</textarea>" in page
    place = next(word for word in job.words if word.index == 8)
    assert f"/sound/r1#t={place.start_s}" in page
    assert 'name="field-value"' in page


def test_a_missed_fact_is_added_beside_its_words(clerk, desk, job):
    answer = take(clerk, desk, job, "enter", **MISSED)
    new = desk.load(job.id).facts
    fact = next(one for one in new if one.rule == "office.entered")
    assert isinstance(fact, Reading)
    assert (fact.what, fact.value, fact.unit) == ("cranking", Decimal(92), "psi")
    assert [(place.first, place.last) for place in fact.evidence] == [(10, 12)]
    assert answer.headers["location"].endswith(f"#fact-{fact.id}")


def test_words_that_were_said_twice_are_taken_from_the_place_that_was_chosen(clerk, desk, job):
    twice = [word.having(index=word.index + 100) for word in job.words]
    desk.change(job.id, lambda held: held.having(words=(*held.words, *twice)))
    assert take(clerk, desk, job, "enter", **{**MISSED, "place": "r1:108-112"}).is_redirect
    fact = desk.load(job.id).events[-1].after
    assert fact["evidence"][0]["first"] == 110


@pytest.mark.parametrize(
    "wrong",
    [{"words": "nobody said this"}, {"field-value": "lots"}, {"kind": "mood"}, {"field-unit": "x"}],
)
def test_a_missed_fact_that_does_not_fit_is_refused_and_kept_in_the_form(clerk, desk, job, wrong):
    answer = take(clerk, desk, job, "enter", **{**MISSED, **wrong})
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text
    assert next(iter(wrong.values())) in answer.text
    assert desk.load(job.id).events == ()


@pytest.mark.parametrize("place", ["r1:900-901", "r9:1-2", "r1:5-2", "x", "r1:1-2' onload='"])
def test_a_place_that_is_not_there_shows_the_empty_form(clerk, job, place):
    page = clerk.get(f"/jobs/{job.id}/enter", params={"place": place, "kind": "reading"})
    assert page.status_code == 200
    assert 'name="place" value=""' in page.text


def test_details_are_put_right_and_found_by(clerk, desk, job):
    answer = take(clerk, desk, job, "details", **{"field-customer": "Marlow Paving"})
    assert answer.status_code == 303
    assert "Marlow Paving" in clerk.get("/jobs?q=marlow").text
    assert desk.load(job.id).events[-1].who == "Ada"


def test_details_that_two_clerks_change_are_not_overwritten(clerk, other_clerk, desk, job):
    mine = step(desk, job.id, "details", **{"field-customer": "Ms Marsh"})
    take(other_clerk, desk, job, "details", **{"field-customer": "Marlow Paving"})
    answer = clerk.post(f"/jobs/{job.id}/review", data=mine)
    assert answer.status_code == 409
    assert 'value="Ms Marsh"' in answer.text
    assert desk.load(job.id).customer == "Marlow Paving"


def with_second_photo(desk, job):
    def more(held: Job) -> Job:
        other: Photo = held.photos[0].having(id="p2", name="other.jpg")
        return held.having(photos=(*held.photos, other))

    desk.change(job.id, more)


def test_a_photo_is_moved(clerk, desk, job):
    with_second_photo(desk, job)
    answer = take(clerk, desk, job, "earlier", "p2")
    assert answer.headers["location"].endswith("#photo-p2")
    assert [photo.id for photo in desk.load(job.id).photos] == ["p2", "p1"]


MARK = {"shape": "circle", "left": "10", "top": "20", "right": "60", "bottom": "70"}


def test_a_mark_is_put_on_and_taken_off(clerk, desk, job):
    answer = take(clerk, desk, job, "mark", "p1", **MARK)
    assert answer.headers["location"] == f"/jobs/{job.id}/photos/p1/marks"
    (mark,) = desk.load(job.id).photos[0].marks
    assert (mark.shape, mark.left, mark.bottom) == ("circle", 0.1, 0.7)
    take(clerk, desk, job, "unmark", "p1", number="0")
    assert desk.load(job.id).photos[0].marks == ()


def test_a_new_crop_takes_the_place_of_the_old_and_the_photo_is_cut(clerk, desk, job):
    for right in ("60", "80"):
        take(clerk, desk, job, "mark", "p1", **{**MARK, "shape": "crop", "right": right})
    assert [mark.right for mark in desk.load(job.id).photos[0].marks] == [0.8]
    whole = clerk.get(f"/jobs/{job.id}/photos/p1?whole=yes").content
    assert whole != clerk.get(f"/jobs/{job.id}/photos/p1").content


@pytest.mark.parametrize(
    "wrong",
    [{"shape": "star"}, {"left": "x"}, {"left": "nan"}, {"right": "101"}, {"right": "10.4"},
     {"top": "-1"}, {"left": ""}],
)  # fmt: skip
def test_a_mark_that_cannot_be_drawn_is_refused(clerk, desk, job, wrong):
    answer = take(clerk, desk, job, "mark", "p1", **{**MARK, **wrong})
    assert answer.status_code == 422
    assert "Marks on IMG_1.jpg" in answer.text
    assert desk.load(job.id).events == ()


@pytest.mark.parametrize("number", ["", "0", "-1", "9999999"])
def test_a_mark_that_is_not_there_is_not_taken_off(clerk, desk, job, number):
    assert take(clerk, desk, job, "unmark", "p1", number=number).status_code == 422


def test_a_typed_unit_is_understood_by_its_name(clerk, desk, job):
    wanted = fact_id(job, "reading", "ninety")
    take(clerk, desk, job, "correct", wanted, **{"field-unit": "bar", "field-value": "6.3"})
    fact = next(one for one in desk.load(job.id).facts if one.id == wanted)
    assert (fact.unit, fact.state) == ("bar", State.CORRECTED)
    assert take(clerk, desk, job, "correct", wanted, **{"field-unit": "cubits"}).status_code == 422

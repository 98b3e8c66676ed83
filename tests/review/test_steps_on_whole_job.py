"""Steps about a job as a whole: details, the order of its photos, a customer's answers."""

from datetime import UTC, datetime

import pytest

from jobnotes.errors import ReviewError
from jobnotes.record import Job, Machine, Photo, Recommendation
from jobnotes.review import events, whole
from jobnotes.review.history import standing

AT = datetime(2026, 9, 17, 15, 30, tzinfo=UTC)
JOB = Job(
    id="2026-0001",
    created_at=AT,
    customer="Ms Okafor",
    machine=Machine(description="tiller", serial="TL-9"),
    facts=(Recommendation(id="f1", text="change the belt"),),
    photos=tuple(
        Photo(id=f"p{n}", name=f"{n}.jpg", sha256=f"{n}" * 64, format="jpeg", width=4, height=3)
        for n in (1, 2, 3)
    ),
)


def order(job: Job) -> str:
    return " ".join(photo.id for photo in job.photos)


def test_details_change_and_say_what_they_were():
    new = whole.describe(JOB, "Ada", AT, {"customer": "Marlow Paving", "serial": "TL-10"})
    assert (new.customer, new.machine.serial) == ("Marlow Paving", "TL-10")
    assert new.machine.description == "tiller"
    (event,) = new.events
    assert (event.who, event.before["customer"]) == ("Ada", "Ms Okafor")


def test_details_are_undone():
    new = whole.describe(JOB, "Ada", AT, {"customer": "Marlow Paving", "make": "Havel"})
    old = events.undo(new, "Ada", AT)
    assert (old.customer, old.machine) == (JOB.customer, JOB.machine)


@pytest.mark.parametrize("fields", [{}, {"customer": "Ms Okafor"}, {"colour": "red"}])
def test_details_that_change_nothing_or_are_none_are_refused(fields):
    with pytest.raises(ReviewError):
        whole.describe(JOB, "Ada", AT, fields)


@pytest.mark.parametrize(
    ("photo", "by", "expected"),
    [("p3", -1, "p1 p3 p2"), ("p1", 1, "p2 p1 p3"), ("p1", -1, "p1 p2 p3"), ("p1", 9, "p2 p3 p1")],
)
def test_a_photo_moves_as_far_as_it_goes(photo, by, expected):
    assert order(whole.move_photo(JOB, photo, "Ada", AT, by)) == expected


def test_an_order_is_undone_though_a_photo_came_meanwhile():
    moved = whole.move_photo(JOB, "p3", "Ada", AT, -2)
    later = moved.having(photos=(*moved.photos, JOB.photos[0].having(id="p4")))
    assert order(events.undo(later, "Ada", AT)) == "p1 p2 p3 p4"


def test_a_photo_that_is_not_there_is_not_moved():
    with pytest.raises(ReviewError):
        whole.move_photo(JOB, "p9", "Ada", AT, 1)


def test_the_last_answer_counts_and_both_are_kept():
    once = whole.answer(JOB, "f1", "Jo Marlow", AT, True, 1)
    twice = whole.answer(once, "f1", "Jo Marlow", AT, False, 1)
    assert [event.after["answer"] for event in twice.events] == ["yes", "no"]
    assert whole.answers(twice)["f1"].after == {"answer": "no", "report": 1}


def test_an_undo_leaves_a_customers_answer_and_takes_back_the_step_before_it():
    confirmed = events.confirm(JOB, "f1", "Ada", AT)
    answered = whole.answer(confirmed, "f1", "Jo Marlow", AT, True, 1)
    undone = events.undo(answered, "Ada", AT)
    assert whole.answers(undone)["f1"].who == "Jo Marlow"
    assert undone.facts == JOB.facts
    assert standing(undone) == ()

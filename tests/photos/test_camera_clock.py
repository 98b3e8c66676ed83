from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobnotes.photos.clocks import clock_offset, pairs

MARKS = [0.0, 70.0, 200.0, 330.0, 345.0, 900.0]
seconds = st.lists(st.floats(0, 500), max_size=6).map(sorted)


@pytest.mark.parametrize("ahead", [0.0, 8.0, -40.0, 90.0, -700.0, 3600.0, -5 * 3600.0, 4e7])
def test_the_offset_of_a_clock_that_is_off_is_found(ahead: float) -> None:
    chance = Random(5)
    photos = [mark + ahead + chance.uniform(1, 8) for mark in MARKS]
    assert clock_offset(photos, MARKS) == pytest.approx(ahead + 4.5, abs=4)


def test_photos_that_nobody_spoke_of_do_not_disturb() -> None:
    spoken = [mark + 90 for mark in MARKS]
    photos = sorted([*spoken, 140.0, 600.0, 610.0, 1200.0])
    assert clock_offset(photos, MARKS) == pytest.approx(90, abs=5)


def test_one_mark_is_enough_for_a_clock_that_is_seconds_off() -> None:
    assert clock_offset([130.0], [100.0]) == 30.0


def test_one_mark_is_not_enough_for_a_clock_that_is_minutes_off() -> None:
    assert clock_offset([400.0], [100.0]) is None


def test_two_marks_are_not_enough_for_a_clock_that_is_hours_off() -> None:
    assert clock_offset([7200.0, 7260.0], [0.0, 60.0]) is None


def test_photos_that_fit_no_offset_tell_nothing() -> None:
    assert clock_offset([5000.0, 5111.0, 9000.0, 9999.0], [0.0, 300.0, 320.0, 2000.0]) is None


def test_a_few_chance_agreements_among_many_are_not_enough() -> None:
    marks = [1000.0 * n for n in range(10)]
    by_chance = [marks[n] + 20_000 for n in (0, 1, 2)]
    photos = sorted([*by_chance, *(40_000 + 1300.0 * n * n for n in range(7))])
    assert clock_offset(photos, marks) is None


@pytest.mark.parametrize(("photos", "marks"), [([], []), ([1.0], []), ([], [1.0])])
def test_without_photos_or_marks_nothing_is_told(photos: list[float], marks: list[float]) -> None:
    assert clock_offset(photos, marks) is None


def test_a_mark_goes_with_the_nearest_of_two_photos() -> None:
    assert pairs([90.0, 101.0], [100.0], 25) == [(1, 0)]


def test_as_many_go_together_as_can() -> None:
    assert pairs([10.0, 20.0], [19.0, 40.0], 25) == [(0, 0), (1, 1)]


@given(photos=seconds, marks=seconds)
def test_pairs_keep_the_order_and_the_reach(photos: list[float], marks: list[float]) -> None:
    found = pairs(photos, marks, 25)
    assert [p for p, _ in found] == sorted({p for p, _ in found})
    assert [m for _, m in found] == sorted({m for _, m in found})
    assert all(abs(photos[p] - marks[m]) <= 25 for p, m in found)


@given(photos=seconds, marks=seconds)
def test_no_pair_is_left_apart(photos: list[float], marks: list[float]) -> None:
    found = pairs(photos, marks, 25)
    paired_photos, paired_marks = {p for p, _ in found}, {m for _, m in found}
    for p, photo in enumerate(photos):
        for m, mark in enumerate(marks):
            between = [q for q, n in found if (q < p) != (n < m)]
            if p not in paired_photos and m not in paired_marks and not between:
                assert abs(photo - mark) > 25

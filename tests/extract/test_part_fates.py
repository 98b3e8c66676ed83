"""What became of a part, and which number is whose."""

import pytest
from heard import heard

from jobnotes.record import Part


def fates(*lines) -> list[tuple[str, str, str]]:
    return [(one.number, one.name, one.status) for one in heard(Part, *lines)]


def test_a_number_goes_on_after_a_comma() -> None:
    assert [n for n, _, _ in fates("new belt is kilo lima four, double oh, two")] == ["KL4002"]


def test_a_stroke_in_a_number_is_a_slash() -> None:
    assert [n for n, _, _ in fates("new bearing is kilo lima four oh six stroke nine")] == [
        "KL406/9"
    ]


@pytest.mark.parametrize(
    "line",
    [
        "exercise is set for nine thirty p m",
        "four M eight bolts in the cover",
        "screws are M five by twelve",
        "took it out with the T thirty",
    ],
)
def test_times_threads_and_drivers_are_no_part_numbers(line) -> None:
    assert [number for number, _, _ in fates(line) if number] == []


def test_a_number_after_replaced_was_installed() -> None:
    assert fates("Fuel filter is clogged.", "Replaced. Kilo lima four oh six.") == [
        ("KL406", "fuel filter", "installed")
    ]


def test_one_on_order_takes_the_number_that_follows() -> None:
    lines = ("air filter is torn, got one on order, kilo lima four oh six",)
    assert ("KL406", "ordered") in [(n, s) for n, _, s in fates(*lines)]


def test_what_is_on_order_is_not_installed_by_advice() -> None:
    lines = (
        "impeller is on order, kilo lima four oh six",
        "he should run the new impeller in gently",
    )
    assert [s for n, _, s in fates(*lines) if n] == ["ordered"]


def test_a_part_lent_for_a_test_was_not_installed() -> None:
    assert fates("swapped in the control board off our loaner, same fault") == []


def test_the_old_part_that_went_in_the_scrap_is_told_apart() -> None:
    assert fates("impeller has lost a vane", "it's come off and it's in the scrap") == [
        ("", "old impeller", "discarded")
    ]


def test_the_same_tail_end_goes_over_to_the_new_number() -> None:
    lines = (
        "jet kit is kilo lima forty b seven",
        "that's been replaced by kilo lima forty-one, same tail end",
    )
    assert "KL41B7" in [number for number, _, _ in fates(*lines)]

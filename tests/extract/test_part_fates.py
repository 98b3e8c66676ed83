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


@pytest.mark.parametrize(
    ("lines", "status"),
    [
        (["drive key was tight, those go back in"], "reused"),
        (["same key back in the pulley"], "reused"),
        (["the gasket came off whole so that went back on"], "reused"),
        (["the worn idler has been taken off and tagged for the maker"], "removed"),
        (["old idler goes back to the wholesaler"], "removed"),
        (["old idler chucked in the skip"], "discarded"),
        (["pitched the old idler"], "discarded"),
        (["I gotta order an idler"], "ordered"),
        (["bolted the lever on with a new washer"], "installed"),
    ],
)
def test_the_last_words_tell_what_became_of_a_part(lines, status) -> None:
    assert fates(*lines)[-1][2] == status


def test_a_number_listed_beside_a_name_counts_as_fitted_with_a_flag() -> None:
    (part,) = heard(Part, "cover off", "inlet gasket, k l four oh six")
    assert (part.status, [flag.code for flag in part.flags]) == ("installed", ["fate-not-said"])


@pytest.mark.parametrize(
    "line",
    [
        "if it fails again it wants an idler, k l four oh six",
        "the sticker says idler k l four oh six",
        "price for the idler, k l four oh six, is forty",
    ],
)
def test_a_number_only_spoken_of_is_not_taken_as_fitted(line) -> None:
    assert [status for _, _, status in fates(line)] != ["installed"]


def test_both_of_those_means_the_two_parts_named_last() -> None:
    lines = ("relay is k l four oh six", "capacitor's k l nine two", "both of those are in now")
    assert [status for _, _, status in fates(*lines)] == ["installed", "installed"]


def test_a_number_said_again_in_part_is_one_part() -> None:
    told = fates("new lead is kilo six one dash four oh nine, that's six one, dash, four oh nine")
    assert [number for number, _, _ in told] == ["K61-409"]


def test_figures_said_one_by_one_go_on_after_a_comma() -> None:
    told = fates("Seal replaced, part number three one four zero, zero two, six one.")
    assert [number for number, _, _ in told] == ["31400261"]


def test_the_owner_fitting_a_part_before_is_no_work_of_ours() -> None:
    assert fates("owner put a new battery in it last month") == []


def test_cutting_all_that_out_is_not_private() -> None:
    assert [name for _, name, _ in fates("cut all that out, put in a butt connector")] == [
        "butt connector"
    ]

"""Part numbers that go on after a comma, are put right, or leave something in doubt."""

import pytest
from heard import heard

from jobnotes.record import Part


def numbers(*lines):
    return [part.number for part in heard(Part, *lines) if part.number]


def codes(*lines):
    return [{flag.code for flag in part.flags} for part in heard(Part, *lines) if part.number]


@pytest.mark.parametrize(
    ("said", "number"),
    [
        ("fitted the kit, m, twelve, h d b", "M12HDB"),
        ("actuator replaced, number is golf echo, three two, nine, charlie", "GE329C"),
        ("seal fitted, o s, two five, three six, six, from the shop", "OS25366"),
        ("timer base fitted, six six oh, dash, three one one four, dash, a two", "660-3114-A2"),
        ("fitted the belt, b sixty-eights", "B68"),
    ],
)
def test_a_number_goes_on_after_a_comma(said, number):
    assert numbers(said) == [number]


@pytest.mark.parametrize(
    ("said", "number"),
    [
        ("quoted cylinder kit, c y dash nine nine three, two ninety-five", "CY-993"),
        ("filter fitted, h f dash one one eight, four of them", "HF-118"),
    ],
)
def test_a_price_or_a_count_is_no_part_of_the_number(said, number):
    assert numbers(said) == [number]


def test_the_last_figures_are_put_right_after_a_reason():
    said = (
        "fitted the power pack, c d i six eight oh eight, no that's the twin, six eight one three"
    )
    assert numbers(said) == ["CDI6813"]


def test_what_follows_a_number_and_may_belong_to_it_is_flagged():
    assert "number-cut" in codes("bearing fitted, x k two oh four, two r s, sealed")[0]


@pytest.mark.parametrize(
    "later",
    [
        "Correction, the suffix is delta, I was reading it off the old carton",
        "no, the last digit's a nine",
    ],
)
def test_a_number_of_which_a_piece_is_put_right_later_is_flagged(later):
    found = codes("fitted the actuator, golf alpha dash two two seven charlie", later)
    assert "number-doubted" in found[0]


def test_a_number_that_nothing_touches_has_no_flag():
    assert codes(
        "fitted the coil, q x dash four four seven", "torqued it to ten newton metres"
    ) == [set()]


def test_a_part_replaced_after_another_is_no_successor_of_it():
    lines = (
        "cap replaced, part number romeo charlie one five dash nine, quantity one",
        "belt replaced, part number bravo one zero six four",
    )
    found = {part.number: (part.name, part.status) for part in heard(Part, *lines)}
    assert found == {"RC15-9": ("cap", "installed"), "B1064": ("belt", "installed")}

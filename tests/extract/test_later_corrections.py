"""Figures and part numbers taken back with a reason, later, or without a clear target."""

from decimal import Decimal

import pytest
from heard import heard

from jobnotes.record import Part, Reading, Withdrawn


def values(*lines) -> list[str]:
    return [str(one.value) for one in heard(Reading, *lines)]


@pytest.mark.parametrize(
    "lines",
    [
        ("compression is seventy psi, no, sorry, I had the choke shut, it's one ten psi",),
        ("compression is seventy psi, no wait, the hose was loose, one ten",),
        ("compression is seventy psi, no, wait, the gauge was not on zero", "it's one ten psi"),
        (
            "compression is seventy psi",
            "plug is wet",
            "that compression, I had the wrong hose, it's one ten",
        ),
        ("compression is seventy psi", "plug is wet", "correct the compression, it was one ten"),
        (
            "compression is seventy psi",
            "the compression I gave you, make that one ten, not seventy",
        ),
    ],
)
def test_a_figure_taken_back_with_a_reason_is_replaced(lines) -> None:
    assert values(*lines) == ["110"]


def test_a_figure_looked_at_again_stays_once() -> None:
    lines = (
        "compression is seventy psi",
        "hold on, that seventy I gave, was the throttle open, yes, leave it, seventy stands",
    )
    assert values(*lines) == ["70"]


def test_a_correction_that_cannot_be_resolved_flags_the_quantity() -> None:
    (one,) = heard(
        Reading, "compression is seventy psi", "correction, the compression I gave was off"
    )
    assert [flag.code for flag in one.flags] == ["correction-unclear"]


def test_a_correction_far_from_the_figure_it_replaces_is_flagged() -> None:
    lines = ("compression is seventy psi", "correct the compression, it was four hundred")
    (one,) = heard(Reading, *lines)
    assert "correction-far" in [flag.code for flag in one.flags]


def test_a_denied_figure_gives_way_to_the_one_beside_it() -> None:
    lines = (
        "compression is seventy psi",
        "one correction, the compression I gave, make that sixty-two, not seventy",
    )
    assert values(*lines) == ["62"]


def test_the_figure_taken_back_is_kept_as_withdrawn() -> None:
    lines = ("end play is nine thou", "I withdraw the end play, it is four thou")
    assert [one.value for one in heard(Withdrawn, *lines)] == [Decimal(9)]


def test_the_end_of_a_part_number_is_put_right_by_its_figures() -> None:
    lines = ("new seal fitted, golf hotel, three three one", "correction, three three seven")
    assert [one.number for one in heard(Part, *lines)] == ["GH337"]


def test_a_part_number_said_again_nearly_the_same_replaces_the_first() -> None:
    lines = (
        "coil is golf hotel four four oh five oh",
        "sorry, that's a two on the end, golf hotel four four oh five two",
    )
    assert [one.number for one in heard(Part, *lines)] == ["GH44052"]


def test_one_correction_is_no_figure_that_something_else_equals() -> None:
    lines = (
        "compression is ninety-five psi",
        "belt deflection is one inch",
        "one correction, the compression I gave, make that ninety-two, not ninety-five",
    )
    assert sorted(values(*lines)) == ["1", "92"]

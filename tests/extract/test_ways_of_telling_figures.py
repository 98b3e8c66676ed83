"""Ways to tell figures: lists, labels, shortened numbers, sizes, limits, take-backs."""

from decimal import Decimal

import pytest
from heard import heard

from jobnotes.record import Reading, Spec, Withdrawn


def values(*lines):
    return [(reading.value, reading.unit) for reading in heard(Reading, *lines)]


def limits(*lines):
    return [(spec.low, spec.high, spec.unit) for spec in heard(Spec, *lines)]


def codes(*lines):
    return [{flag.code for flag in reading.flags} for reading in heard(Reading, *lines)]


def test_a_list_shares_the_unit_said_with_its_last_figure():
    said = "windings, phase to phase, one point one, one point one, one point two ohms"
    assert values(said) == [(Decimal("1.1"), "ohm")] * 2 + [(Decimal("1.2"), "ohm")]


def test_a_unit_after_the_whole_list_is_shared():
    assert values("supply at the box, two thirty-three, two thirty-one, volts") == [
        (Decimal(233), "V"),
        (Decimal(231), "V"),
    ]


def test_a_tool_lends_its_size_to_no_figure():
    found = heard(Reading, "opened the inlet up to five with the ten mil spanner")
    assert all(reading.unit != "mm" or reading.flags for reading in found)


def test_the_number_of_a_place_is_no_part_of_its_value():
    assert values("drop across the contactor, pole two thirty millivolts") == [(Decimal(30), "mV")]


def test_two_single_digits_are_a_decimal():
    assert values("motor current six three") == [(Decimal("6.3"), "A")]


def test_mains_volts_are_said_in_hundreds():
    assert values("generator at no load two thirty-four volts") == [(Decimal(234), "V")]


def test_nobody_says_amps_in_hundredths():
    assert values("fan draws twelve fifty") != [(Decimal("12.50"), "A")]


def test_a_year_on_a_stamp_is_no_reading():
    assert values("stamp on the battery says twenty twenty-one") == []


def test_the_other_pole_is_no_sign():
    said = "cable drop, positive side a hundred and ten millivolts, negative a hundred and thirty"
    assert values(said) == [(Decimal(110), "mV"), (Decimal(130), "mV")]


def test_a_bare_fraction_of_an_inch_is_in_inches():
    assert values("chain slack five eighths") == [(Decimal("0.625"), "in")]


def test_degrees_follow_the_scale_of_the_other_units():
    said = ("hub nut thirty newton metres", "bearing housing came up to seventy-one degrees")
    assert (Decimal(71), "degC") in values(*said)


def test_a_size_without_a_quantity_is_doubted():
    assert codes("bracket had a strip ten millimetres up") == [{"which-quantity"}]


def test_a_figure_of_something_new_is_doubted():
    said = ("oil pressure forty psi", "gearbox comes right up to fifty-two")
    assert all("which-quantity" in flags for flags in codes(*said)[1:])


def test_seconds_taken_are_a_reading():
    assert values("drum stops in four seconds") == [(Decimal(4), "s")]


def test_both_ends_of_a_swing_are_read():
    assert values("tach hunting between twenty-eight hundred and thirty-two hundred") == [
        (Decimal(2800), "rpm"),
        (Decimal(3200), "rpm"),
    ]


@pytest.mark.parametrize(
    ("said", "limit"),
    [
        ("card in the lid says eight max", (None, Decimal(8), "A")),
        ("I'd want to see less than nine", (None, Decimal(9), "A")),
        ("don't want over nine", (None, Decimal(9), "A")),
        ("six to eight is where she should be", (Decimal(6), Decimal(8), "A")),
        ("anything over nine and I'm changing it", (None, Decimal(9), "A")),
        ("nine's where you bin it", (None, Decimal(9), "A")),
        ("the published range being six to eight", (Decimal(6), Decimal(8), "A")),
    ],
)
def test_a_limit_without_a_name_is_for_the_figure_before_it(said, limit):
    assert limits("running current seven amps", said) == [limit]


@pytest.mark.parametrize(
    "said",
    [
        "air gap ten thou, no, that's the feeler I put down, twelve",
        "air gap ten thou, oh hang on, it's moved, call it twelve",
        "air gap ten thou, well, the gauge slipped, twelve",
    ],
)
def test_what_follows_a_reason_takes_the_place_of_the_figure_before_it(said):
    assert values(said) == [(Decimal(12), "thou")]


def test_ignore_that_one_takes_back_what_was_said_before():
    said = (
        "second tap is seventeen point two volts",
        "oh, I was on the wrong tap, ignore that one",
    )
    assert values(*said) == []
    assert [gone.value for gone in heard(Withdrawn, *said)] == [Decimal("17.2")]


def test_no_cracks_takes_nothing_back():
    assert values("bore eighty-two millimetres, no cracks, twelve bolts") == [(Decimal(82), "mm")]


def test_a_torque_whose_unit_was_only_lent_is_doubted():
    said = "axle nut forty, pinch bolts ninety inch pounds"
    assert "unit-not-said" in codes(said)[0]

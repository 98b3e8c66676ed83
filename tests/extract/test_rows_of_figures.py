"""Figures told in rows, by number, before their name, or without words of their own."""

from decimal import Decimal

import pytest
from heard import heard

from jobnotes.record import Reading, Spec, Withdrawn


def rows(*lines):
    return [(reading.value, reading.unit, reading.where) for reading in heard(Reading, *lines)]


def values(*lines):
    return [(value, unit) for value, unit, _ in rows(*lines)]


def flags(*lines):
    return [{flag.code for flag in reading.flags} for reading in heard(Reading, *lines)]


def test_a_row_says_which_one_was_measured():
    said = "leak-off test, injector one fourteen mil, two twelve, three forty, four eleven"
    assert rows(said) == [
        (Decimal(14), "mL", "injector one"),
        (Decimal(12), "mL", "injector two"),
        (Decimal(40), "mL", "injector three"),
        (Decimal(11), "mL", "injector four"),
    ]


def test_a_row_may_skip_one_that_was_not_measured():
    said = "ohms to earth, one, point seven, two, point seven, three open, four nought point nine"
    assert values(said) == [(Decimal(v), "ohm") for v in ("0.7", "0.7", "0.9")]


def test_a_row_of_named_groups_keeps_figures_that_begin_like_a_number():
    said = "cell voltages, group one, three point nine eight volts, group two, three nine four"
    assert values(said) == [(Decimal("3.98"), "V"), (Decimal("3.94"), "V")]


def test_numbers_that_count_what_is_told_are_no_readings():
    lines = (
        "seven, wheel nuts torqued to ninety foot pounds",
        "eight, lamps all work",
        "nine, battery twelve point six volts",
        "ten, tires thirty-five psi",
    )
    assert values(*lines) == [
        (Decimal(90), "ft.lbf"),
        (Decimal("12.6"), "V"),
        (Decimal(35), "psi"),
    ]


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ("six thou, exhaust lash, that one's tight", "clearance"),
        ("thirty-eight percent, that's the leak-down", "leak-down"),
        ("three thou, warp on the head", "runout"),
    ],
)
def test_a_figure_may_come_before_its_name(said, what):
    (reading,) = heard(Reading, said)
    assert what in reading.what


def test_a_scale_said_after_the_list_is_the_scale_of_all():
    said = "temperature of the hubs, left thirty-six, right forty, that's celsius"
    assert values(said) == [(Decimal(36), "degC"), (Decimal(40), "degC")]


def test_inches_on_a_water_gauge_are_inches_of_water():
    said = "water manometer on the dipstick tube shows two and a half inches"
    assert values(said) == [(Decimal("2.5"), "inH2O")]


def test_a_drop_told_over_a_part_is_measured_across_it():
    assert values("dropped four tenths of a volt over the switch") == [(Decimal("0.4"), "V")]


def test_a_private_remark_after_a_figure_takes_nothing_from_it():
    lines = ("coil came to sixty-one degrees celsius", "later it only got to fifty")
    assert values(*lines, "off the record, they dropped it")[0] == (Decimal(61), "degC")


def test_a_figure_far_from_what_it_seems_to_continue_is_flagged():
    found = flags("linings measured five millimetres, the other side sixty")
    assert "which-quantity" in found[1]


@pytest.mark.parametrize(
    "said",
    [
        "fuel flow, two ten mil in a minute, wait no, I spilled some, did it again, two sixty",
        "motor amps, twenty-six, no I had it on the wrong, uh, twenty-one point four",
        "lost four tenths of a volt over the switch on load, hm, no, three tenths",
        "compression's seventy-five psi, the throttle was shut, so that number means nothing",
    ],
)
def test_what_is_put_right_in_the_same_breath_is_gone(said):
    gone = {withdrawn.value for withdrawn in heard(Withdrawn, said)}
    kept = {reading.value for reading in heard(Reading, said)}
    assert gone
    assert not gone & kept


def test_the_size_of_an_engine_put_right_is_no_reading():
    assert values("compressor, the five horse, no, seven and a half") == []


def test_what_was_pumped_up_to_is_no_reading_of_the_time_it_took():
    assert values("pump-up time, empty to, uh, one fifty psi, fourteen minutes") == [
        (Decimal(14), "min")
    ]


def test_a_safety_valve_has_a_pressure_and_no_clearance():
    (reading,) = heard(Reading, "the safety valve lifted at, at one seventy-five psi")
    assert (reading.value, reading.rule) == (Decimal(175), "measures.pressure")


def test_screws_are_set_in_turns():
    said = "high screw one and a half out, low screw one and a quarter"
    assert values(said) == [(Decimal("1.5"), "turn"), (Decimal("1.25"), "turn")]


def test_a_limit_far_from_every_word_it_shares_is_flagged():
    lines = ("motor current nine amps", "cleaned the filter", "belt is new", "wants forty")
    (spec,) = heard(Spec, *lines)
    assert spec.flags


def test_a_figure_of_a_sentence_given_up_is_gone():
    said = "cables, a hundred and six newton metres on the, no, cables have slack, left eleven mil"
    assert values(said) == [(Decimal(11), "mm")]


def test_a_whole_list_is_given_up_for_a_reason():
    said = "compression was ninety, eighty-two, and ninety psi, wait, I forgot to open the throttle"
    assert values(said) == []


def test_an_earlier_figure_may_be_crossed_out_in_words():
    lines = ("at the tool, running, fifty-one psi", "grease it")
    later = "cross the earlier figure, that was fifty-one psi, it's fifty-three on the good gauge"
    assert values(*lines, later) == [(Decimal(53), "psi")]


def test_what_a_battery_is_rated_is_no_reading():
    assert values("new battery, six eighty cold crank") == []


def test_degrees_out_of_plumb_are_an_angle():
    assert values("columns plumb, left nought point two degrees") == [(Decimal("0.2"), "degree")]


def test_a_half_may_be_of_an_inch_or_of_a_millimetre():
    assert "unit-not-said" in flags("pedal gap's one and a half")[0]

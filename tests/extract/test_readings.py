from decimal import Decimal

import pytest
from heard import heard
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jobnotes.record import Reading

WORDS = [
    "the",
    "battery",
    "reads",
    "twelve",
    "point",
    "five",
    "volts",
    "no",
    "wait",
    "sorry",
    "gap",
    "was",
    "set",
    "to",
    "thirty",
    "thou",
    "under",
    "over",
    "spec",
    "is",
    "ten",
    ",",
    "fifteen",
    "and",
    "psi",
    "left",
    "right",
    "at",
    "now",
    "one",
    "oh",
    "dash",
    "fell",
    "compression",
    "book",
    "half",
    "inch",
    "not",
    "that",
    "makes",
    "torqued",
    "it",
    "degrees",
    "per",
    "minute",
    "new",
    "seal",
    "in",
    "on",
    "pounds",
]


def readings(*lines):
    return heard(Reading, *lines)


def values(*lines):
    return [(str(reading.value), reading.unit) for reading in readings(*lines)]


@pytest.mark.parametrize(
    ("line", "value", "unit"),
    [
        ("battery is sitting at twelve point one", "12.1", "V"),
        ("resting voltage thirteen nine", "13.9", "V"),
        ("charging twelve sixty-five", "12.65", "V"),
        ("compression one twelve psi", "112", "psi"),
        ("tach says twenty-four fifty", "2450", "rpm"),
        ("ticks over at nineteen hundred", "1900", "rpm"),
        ("set the point gap at eighteen thou", "18", "thou"),
        ("air gap 30,000ths of an inch", "30", "thou"),
        ('belt deflection 5/8"', "0.625", "in"),
        ("hub nut torqued to ninety foot pounds", "90", "ft.lbf"),
        ("valve lash four thou", "4", "thou"),
        ("starter draws one sixty amps", "160", "A"),
        ("insulation two hundred megohms", "200", "Mohm"),
        ("hour meter three hundred and forty-two point six", "342.6", "h"),
        ("five eighths deflection on the belt", "0.625", "in"),
        ("manifold vacuum eighteen inches of mercury", "18", "inHg"),
        ("thermostat opens at one eighty fahrenheit", "180", "degF"),
        ("leakdown twelve percent", "12", "percent"),
        ("capacitor reads forty-one microfarads", "41", "uF"),
        ("cycle time nine seconds", "9", "s"),
        ("gap measured at point oh three five inches", "0.035", "in"),
        ("4.7 kohm across the coil", "4.7", "kohm"),
    ],
)
def test_a_figure_is_read_with_its_unit(line, value, unit):
    assert values(line) == [(value, unit)]


@pytest.mark.parametrize(
    "line",
    [
        "two twelve volt batteries in series",
        "it is about a two thousand and nine model",
        "a sixteen inch bar on this one",
        "the machine is three years old",
        "call him on five five five oh one two three",
        "forklift battery, thirty-six volt",
        "lost three of its eight blades",
        "ran it for twenty minutes",
        "put it on the five hundred volt range",
        "pulled the head with a ten millimetre socket",
        "recommend changing the oil every fifty hours",
        "fifty to one with two-stroke oil",
        "torque is what this engine lacks",
        "the left one is cracked",
        "quoted him two hundred and ten dollars",
        "plugs came out one at a time",
        "specific gravity twelve sixty-five",
        "half of it was water",
        "took me twenty minutes to get the shroud off",
        "used a three eighths drive and a ten millimetre socket",
        "put a fifteen amp fuse in place of the thirty",
        "oil is about a quart low",
        "third gear pops out at times",
        "parts will be here in three to five days",
    ],
)
def test_a_figure_that_measures_nothing_is_no_reading(line):
    assert values(line) == []


def test_the_unit_said_last_serves_the_whole_list():
    line = "shot both heads, top one ninety, bottom one eighty-two fahrenheit"
    assert values(line) == [("190", "degF"), ("182", "degF")]


def test_the_unit_said_first_serves_the_whole_list():
    assert values("seat switch point three ohms, brake switch point two") == [
        ("0.3", "ohm"),
        ("0.2", "ohm"),
    ]


def test_a_later_figure_takes_up_what_was_measured_before():
    said = ("fuel pressure at the rail thirty psi", "swapped the filter", "now it reads forty-one")
    assert values(*said)[1] == ("41", "psi")


def test_pieces_named_by_figures_keep_their_own_values():
    said = (
        "cell voltage, one is three point nine volts",
        "two three point eight, three three point seven",
    )
    assert values(*said) == [("3.9", "V"), ("3.8", "V"), ("3.7", "V")]


def test_sides_are_kept_apart():
    found = readings("compression left one ten psi, right ninety-five")
    assert [reading.where for reading in found] == ["left", "right"]


def test_a_change_is_a_reading_before_and_one_after():
    found = readings("backlash went from twelve to seven thou")
    assert [(str(r.value), r.phase) for r in found] == [("12", "before"), ("7", "after")]


def test_a_figure_said_again_to_confirm_it_is_one_reading():
    found = readings("compression eighty-eight psi", "yeah, eighty-eight")
    assert len(found) == 1
    assert len(found[0].evidence) == 2


def test_the_speed_at_which_a_voltage_was_taken_is_no_reading():
    assert values("charging at two thousand rpm, fourteen point three volts") == [("14.3", "V")]


def test_how_far_two_figures_are_apart_is_no_reading():
    assert values("left is six psi below the right") == []


def test_a_price_after_a_part_number_is_no_reading():
    assert values("ring gap twelve thou", "quoted w x dash four four one, two fifty") == [
        ("12", "thou")
    ]


def test_the_name_joins_component_and_quantity():
    assert readings("flywheel nut torqued to forty foot pounds")[0].what == "flywheel nut torque"


def test_the_condition_is_kept():
    assert "cold" in readings("compression cold ninety-five psi")[0].when


def test_the_evidence_is_the_words_that_carry_the_figure():
    found = readings("pulled the cover and battery voltage is twelve point four volts today")
    assert found[0].evidence[0].text == "battery voltage is twelve point four volts"


def test_a_figure_is_printed_as_it_was_said():
    assert readings("belt deflection three eighths of an inch")[0].as_said == "3/8"


def test_a_figure_with_two_meanings_is_flagged_with_both():
    found = readings("oil pressure two fifty bar")
    assert [set(flag.options) for flag in found[0].flags] == [{"250", "2.50"}]


def test_an_earlier_figure_settles_what_shorthand_means():
    found = readings("output voltage a hundred and eighteen volts", "output voltage one twenty")
    assert found[1].flags == ()


def test_a_degree_without_its_scale_is_flagged():
    found = readings("coolant temperature ninety degrees")
    assert [flag.code for flag in found[0].flags] == ["unit-unclear"]


def test_a_doubt_about_a_unit_goes_on_to_the_figures_that_take_it_over():
    found = readings("coolant temperature ninety degrees", "now eighty-eight")
    assert [flag.code for flag in found[1].flags] == ["unit-unclear"]


def test_the_scale_said_elsewhere_settles_a_degree():
    found = readings("oil temp eighty celsius", "coolant temperature ninety degrees")
    assert (found[1].unit, found[1].flags) == ("degC", ())


def test_an_unlikely_figure_is_flagged():
    found = readings("battery voltage nine hundred volts")
    assert [flag.code for flag in found[0].flags] == ["unlikely"]


def test_thousands_written_for_thousandths_are_flagged():
    found = readings("plug gap 30,000")
    assert [flag.code for flag in found[0].flags] == ["thousandths"]


def test_a_private_figure_is_no_reading():
    assert values("off the record, his battery was at nine volts") == []


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.sampled_from(WORDS), min_size=1, max_size=12), min_size=1, max_size=5))
def test_no_talk_gives_a_value_that_no_word_carries(lines):
    for reading in readings(*(" ".join(line) for line in lines)):
        assert reading.evidence
        assert reading.rule
        assert reading.value == Decimal(reading.value)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.text(min_size=1, max_size=40), min_size=1, max_size=4))
def test_no_text_breaks_the_finders(lines):
    assume(any(line.strip() for line in lines))
    assert isinstance(readings(*lines), list)

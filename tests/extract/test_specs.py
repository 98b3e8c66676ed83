import pytest
from heard import heard

from jobnotes.record import Reading, Spec


def specs(*lines):
    return heard(Spec, *lines)


def ends(*lines):
    return [
        (
            None if spec.low is None else str(spec.low),
            None if spec.high is None else str(spec.high),
            spec.unit,
        )
        for spec in specs(*lines)
    ]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("should be twelve to fifteen thou", ("12", "15", "thou")),
        ("book says no more than twenty thou", (None, "20", "thou")),
        ("wants at least nine volts", ("9", None, "V")),
        ("ninety psi is the floor", ("90", None, "psi")),
        ("runout, four thou is the limit", (None, "4", "thou")),
        ("anything under eighty psi is junk", ("80", None, "psi")),
        ("anything over ten percent is no good", (None, "10", "percent")),
        ("under a hundred amps is fine", (None, "100", "A")),
        ("fifteen amps max", (None, "15", "A")),
        ("sticker says thirty psi", ("30", "30", "psi")),
        ("thirty-six hundred rpm plus or minus fifty is right", ("3550", "3650", "rpm")),
        ("allowed five to twenty thou", ("5", "20", "thou")),
        ("nine volts or better", ("9", None, "V")),
        ("shouldn't drop below ten volts", ("10", None, "V")),
    ],
)
def test_what_a_value_should_be(line, expected):
    assert ends(line) == [expected]


def test_a_spec_after_a_reading_shares_its_name_and_unit():
    said = ("coil air gap twenty thou", "spec is eight to twelve")
    found = specs(*said)[0]
    assert (str(found.low), str(found.high), found.unit) == ("8", "12", "thou")
    assert "air gap" in found.what


def test_a_spec_in_the_same_breath_is_no_second_reading():
    line = "motor pulls nine amps, nameplate twelve"
    assert len(heard(Reading, line)) == 1
    assert ends(line) == [("12", "12", "A")]


def test_a_spec_is_bound_to_the_figure_it_can_belong_to():
    said = (
        "no load eighty-eight volts",
        "frequency sixty-one hertz",
        "should be one ten to one thirty",
    )
    assert specs(*said)[0].unit == "V"


def test_the_source_is_kept():
    assert specs("sticker says thirty psi")[0].source == "sticker"


def test_a_figure_set_as_called_for_is_reading_and_spec():
    line = "tire pressure set to thirty psi, that's what the sticker says"
    assert len(heard(Reading, line)) == 1
    assert ends(line) == [("30", "30", "psi")]


def test_a_reading_placed_against_the_spec_is_no_spec():
    assert specs("clearance eight thou, so it's under spec") == []


def test_a_bare_limit_on_a_size_is_flagged():
    found = specs("pin diameter nine point nine millimetres", "limit is nine point eight")
    assert [flag.code for flag in found[0].flags] == ["limit-side"]


def test_a_range_is_printed_as_it_was_said():
    assert specs("gap should be thirty to thirty-five thou")[0].as_said == "30 to 35"


def test_a_spec_taken_back_is_none():
    assert ends("runout limit is thirty, no, fifty thou") == [(None, "50", "thou")]

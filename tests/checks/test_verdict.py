from decimal import Decimal

from jobnotes.checks.verdict import verdict
from jobnotes.record import Evidence, Reading, Spec


def reading(value: str, unit: str = "thou", what: str = "coil air gap", **more: str) -> Reading:
    return Reading(what=what, value=Decimal(value), unit=unit, as_said=value, **more)


def spec(
    low: str | None, high: str | None, unit: str = "thou", what: str = "air gap", **more
) -> Spec:
    low_high = [None if limit is None else Decimal(limit) for limit in (low, high)]
    return Spec(what=what, low=low_high[0], high=low_high[1], unit=unit, as_said="", **more)


def side(one: Reading, *specs: Spec) -> str | None:
    judged = verdict(one, specs)
    return judged.side if judged else None


def test_a_reading_inside_a_range_is_within():
    assert side(reading("12"), spec("10", "14")) == "within"


def test_a_reading_on_the_limit_is_within():
    assert side(reading("14"), spec("10", "14")) == "within"


def test_a_reading_over_the_ceiling_is_above():
    assert side(reading("22"), spec(None, "14")) == "above"


def test_a_reading_under_the_floor_is_below():
    assert (
        side(reading("9.3", "V", "battery voltage"), spec("9.6", None, "V", "battery")) == "below"
    )


def test_a_floor_of_zero_is_a_limit():
    assert side(reading("-1", "V", "battery"), spec("0", None, "V", "battery")) == "below"


def test_limits_are_converted_to_the_unit_of_the_reading():
    # NIST SP 811: 1 thou = 0.0254 mm, so 10 to 14 thou is 0.254 to 0.3556 mm
    assert side(reading("0.30", "mm"), spec("10", "14")) == "within"
    assert side(reading("0.36", "mm"), spec("10", "14")) == "above"


def test_a_spec_in_another_dimension_is_not_used():
    assert side(reading("12"), spec("10", "14", "V")) is None


def test_a_spec_for_another_thing_is_not_used():
    assert side(reading("12"), spec("10", "14", what="plug gap")) is None


def test_a_spec_for_another_place_is_not_used():
    assert side(reading("12", where="left"), spec("10", "11", where="right")) is None


def test_of_two_specs_the_one_that_shares_more_words_is_used():
    wide, exact = spec("0", "99"), spec("20", "30", what="coil air gap")
    assert side(reading("12"), wide, exact) == "below"


def test_of_two_equal_specs_the_one_said_nearest_is_used():
    def said(word: int) -> tuple[Evidence, ...]:
        return (Evidence(recording="r", first=word, last=word, start_s=0, end_s=0, text=""),)

    near, far = spec("10", "14", evidence=said(8)), spec("20", "30", evidence=said(90))
    assert side(reading("12").having(evidence=said(5)), far, near) == "within"

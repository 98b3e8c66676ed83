"""Wiring, causes, decisions, tests, symptoms and cautions."""

import pytest


def test_a_wire_has_its_ends_colour_connector_and_purpose(hear):
    said = "the blue wire goes from the key switch to pin four, that's the kill wire"
    wire = hear("wiring", said)[0]
    assert (wire.from_point, wire.to_point) == ("key switch", "pin four")
    assert (wire.colour, wire.connector, wire.purpose) == ("blue", "pin four", "kill wire")


def test_a_striped_wire_keeps_its_whole_colour(hear):
    wire = hear("wiring", "red with a white stripe runs to the solenoid")[0]
    assert (wire.colour, wire.to_point) == ("red with a white stripe", "solenoid")


@pytest.mark.parametrize(
    "said",
    [
        "high beam wire to frame, point three ohms",
        "left bearing is blue from heat",
        "made from wire",
    ],
)
def test_measurements_and_colours_alone_are_no_wiring(hear, said):
    assert hear("wiring", said) == []


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("it quit because the fuel line collapsed", "the fuel line collapsed"),
        ("caused by water in the tank", "water in the tank"),
        ("root cause is a chafed harness", "a chafed harness"),
        ("idler seized, that's what ate the belt", "idler seized, that's what ate the belt"),
        (
            "the poppet sticks, that's why it has no power",
            "the poppet sticks, that's why it has no power",
        ),
    ],
)
def test_a_cause_named_as_such_is_kept(hear, said, text):
    assert [fact.text for fact in hear("cause", "pulled the cover", said)] == [text]


def test_a_decision_has_its_choice_alternative_and_reason(hear):
    said = "went with a new pump instead of a seal kit because the shaft was scored"
    made = hear("decision", said)[0]
    assert made.chosen == "a new pump"
    assert made.alternatives == ("a seal kit",)
    assert made.because == "the shaft was scored"


@pytest.mark.parametrize(
    "said", ["customer declined the tires", "not worth rebuilding, so I fitted an exchange unit"]
)
def test_a_choice_of_customer_or_shop_is_a_decision(hear, said):
    assert len(hear("decision", "pulled the cover", said)) == 1


def test_a_swap_test_concludes_that_the_fault_followed(hear):
    found = hear("test", "pulled the cover", "swapped the two coils, fault followed the coil")
    assert found[0].rule == "tests_done.swapped"
    assert found[0].conclusion == "fault followed the coil"


def test_a_test_has_what_was_observed_and_expected(hear):
    lines = ("pulled the cover", "load tested the battery, fell to nine volts", "should be ten")
    found = hear("test", *lines)[0]
    assert (found.method, found.observed) == ("load tested the battery", "fell to nine volts")
    assert found.expected == "should be ten"


@pytest.mark.parametrize(
    ("said", "reproduced"),
    [
        ("ran it an hour hot and sure enough it stalls", True),
        ("tried it twenty times, could not reproduce it", False),
        ("wouldn't do it for me", False),
    ],
)
def test_a_symptom_is_reproduced_or_not(hear, said, reproduced):
    found = hear("symptom", "complaint is it stalls", said)
    assert [fact.reproduced for fact in found] == [reproduced]


@pytest.mark.parametrize(
    "said",
    ["be careful with that spring, it's under tension", "never run it indoors, exhaust fumes"],
)
def test_a_danger_is_a_caution(hear, said):
    assert len(hear("caution", "complaint is it stalls", said)) == 1

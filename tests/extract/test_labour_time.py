from decimal import Decimal

import pytest


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("labour fifty minutes", "50"),
        ("labour, an hour and a quarter", "75"),
        ("labor two point two hours", "132"),
        ("call it an hour ten", "70"),
        ("two and a quarter hours labour", "135"),
        ("labour was three and a quarter hours", "195"),
        ("labour two hours twenty", "140"),
        ("hour and three quarters labour", "105"),
        ("labour is diagnosis only, three quarters of an hour", "45"),
        ("labour forty-five minutes, no, call it an hour and a half", "90"),
        ("half an hour, make it forty minutes labour", "40"),
        ("an hour and five minutes", "65"),
        ("one hour and twenty", "80"),
        ("no charge, warranty, but log fifty minutes", "50"),
        ("total time one hour twenty minutes", "80"),
        ("book me for ninety minutes", "90"),
        ("Labour: 1.5 hours.", "90"),
    ],
)
def test_labour_is_counted_in_minutes(hear, said, minutes):
    found = hear("labour", "complaint is it stalls", "cleaned the carb", said)
    assert [fact.minutes for fact in found] == [Decimal(minutes)]


def test_labour_said_first_is_found(hear):
    found = hear("labour", "before I forget, labour was two hours", "cleaned the carb", "runs well")
    assert [fact.minutes for fact in found] == [Decimal(120)]


def test_a_later_correction_replaces_the_figure(hear):
    found = hear("labour", "labour one hour", "no, make it an hour and a half")
    assert [fact.minutes for fact in found] == [Decimal(90)]
    assert found[0].flags == ()


def test_two_figures_that_nothing_reconciles_carry_a_flag(hear):
    found = hear("labour", "labour one hour", "cleaned the carb", "labour two hours")
    assert [flag.code for flag in found[0].flags] == ["said-twice"]


def test_a_figure_without_a_unit_carries_a_flag(hear):
    found = hear("labour", "cleaned the carb", "labour two and a half")
    assert [flag.code for flag in found[0].flags] == ["unit-not-said"]


@pytest.mark.parametrize(
    "said",
    [
        "ran it for twenty minutes and it's steady",
        "plus about four hours on top if he went ahead",
        "quoted him two hours labour",
        "labour at sixty dollars an hour",
        "change the oil every fifty hours",
    ],
)
def test_other_times_are_no_labour(hear, said):
    assert hear("labour", "complaint is it stalls", "cleaned the carb", said, "runs well") == []


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("put me down for two hours less ten minutes", 110),
        ("call it three hours, minus twenty minutes for lunch", 160),
        ("hands on time fifty minutes", 50),
        ("I'll put forty minutes down", 40),
        ("an hour on the tools", 60),
        ("bill him for an hour fifteen, seven hundred rupees", 75),
        ("tell him to empty it every night, and I'll put fifty minutes down", 50),
    ],
)
def test_labour_told_in_other_ways(hear, said, minutes):
    (labour,) = hear("labour", "new belt fitted", "it runs well now", said)
    assert labour.minutes == minutes


def test_a_bare_figure_as_the_last_words_is_labour_in_doubt(hear):
    (labour,) = hear("labour", "new belt fitted", "it runs well now", "three and a quarter")
    assert [flag.code for flag in labour.flags] == ["unit-not-said"]


@pytest.mark.parametrize(
    ("said", "minutes"), [("hour even", 60), ("three hours, no, two forty-five", 165)]
)
def test_an_hour_without_its_article_and_a_time_put_right_are_read(hear, said, minutes):
    (labour,) = hear("labour", "cleaned the carburettor", "runs well", said)
    assert labour.minutes == minutes

"""Dictated words made fit for the customer."""

import pytest
from report_jobs import SHOP, Bench

from jobnotes.record import (
    Action,
    Cause,
    Complaint,
    Decision,
    Finding,
    Part,
    Recommendation,
    Test,
    Verification,
)
from jobnotes.report.content import story
from jobnotes.report.dictated import without_prices
from jobnotes.report.english import clean
from jobnotes.report.figures import reading_figure
from jobnotes.report.story import Measure


def told(bench: Bench, **options: bool) -> dict[str, tuple[str, ...]]:
    made = story(bench.job(), SHOP, draft=False, **options)
    return {sentence.text: sentence.facts for sentence in made.sentences()}


def said_with_reading(kind: type, said: str, value: str, unit: str, **fields: str) -> Bench:
    bench = Bench()
    bench.say(said)
    bench.fact(kind, **fields)
    bench.reading("output", value, unit)
    return bench


def test_a_spoken_figure_that_a_reading_holds_is_printed_as_its_figure():
    said = "heater on, a hundred and seventeen, holds steady"
    bench = said_with_reading(Verification, said, "117", "V", text=said)
    assert told(bench)["Heater on, 117\N{NO-BREAK SPACE}V, holds steady."] == ("f1", "f2")


def test_the_unit_is_not_said_twice():
    said = "amps ten point nine, no more scream"
    bench = said_with_reading(Verification, said, "10.9", "A", text=said)
    assert "Amps 10.9, no more scream." in told(bench)


@pytest.mark.parametrize(("value", "unit"), [("118", "V"), ("0.5", "bar")])
def test_a_spoken_number_that_no_reading_holds_stays_in_words(value, unit):
    said = "heater on, a hundred and seventeen seconds"
    bench = said_with_reading(Verification, said, value, unit, text=said)
    assert "Heater on, a hundred and seventeen seconds." in told(bench)


def test_another_unit_of_the_same_number_stays_in_words():
    said = "it holds fifteen minutes"
    bench = said_with_reading(Verification, said, "15", "psi", text=said)
    assert "It holds fifteen minutes." in told(bench)


def test_the_words_of_the_customer_stay():
    said = "it draws ten amps"
    bench = said_with_reading(Complaint, said, "10", "A", text=said)
    assert "“It draws ten amps.”" in told(bench)


def test_a_condition_that_the_test_names_already_is_told_once():
    bench = Bench()
    method = "pressure tested the crankcase at idle"
    bench.fact(Test, method=method, condition="at idle", observed="no bubbles")
    text = "We pressure tested the crankcase at idle. What happened: no bubbles."
    assert text in told(bench)


PRICED = "a filter next time, quoted at twenty-eight bucks, if it clogs"


def test_a_price_in_words_is_printed_only_if_the_office_says_so():
    bench = Bench()
    bench.fact(Verification, text=PRICED)
    assert "A filter next time, if it clogs." in told(bench)
    assert any("bucks" in text for text in told(bench, prices=True))


def test_a_price_in_a_caption_is_printed_only_if_the_office_says_so():
    bench = Bench()
    bench.photo("the new coil, ninety dollars", evidence=())
    assert not any("ninety" in text for text in told(bench))
    assert any("ninety" in text for text in told(bench, prices=True))


@pytest.mark.parametrize("text", ["gap at 12.50 mm, then shut", "forty pounds of tension", ""])
def test_what_is_no_price_stays(text):
    assert without_prices(text) == text


@pytest.mark.parametrize(
    ("said", "printed"),
    [
        ("high beam wire, let's see, steady", "high beam wire, steady"),
        ("let me see, the belt is off", "the belt is off"),
        ("the belt, you know the one", "the belt, you know the one"),
    ],
)
def test_thinking_aloud_is_not_printed(said, printed):
    assert clean(said) == printed


@pytest.mark.parametrize(
    ("what", "where", "text"),
    [
        ("gap now", "", "The gap was open."),
        ("inlet side", "of the piston's", "The inlet side of the piston was open."),
    ],
)
def test_what_only_led_on_to_a_state_is_not_printed(what, where, text):
    bench = Bench()
    bench.fact(Finding, what=what, where=where, state_found="open")
    assert text in told(bench)


def test_what_the_customer_chose_is_not_told_as_our_choice():
    bench = Bench()
    bench.fact(Decision, chosen="customer declined, wants it back in a box")
    assert "The customer declined, wants it back in a box." in told(bench)


def test_a_cause_told_with_a_figure_knows_the_reading():
    said = "the wire is shorted at point three ohms"
    bench = said_with_reading(Cause, said, "0.3", "ohm", text=said)
    facts = next(facts for text, facts in told(bench).items() if "0.3" in text)
    assert facts == ("f1", "f2")


HEARD = {
    "main filter had a hole in it": (
        "main filter",
        "hole in it",
        "The main filter had a hole in it.",
    ),
    "bubbles in the hose": ("bubbles", "in the hose", "There were bubbles in the hose."),
    "a nest in the shroud": ("nest", "in the shroud", "There was a nest in the shroud."),
    "water in the bowl": ("water", "in the bowl", "There was water in the bowl."),
    "the belt on the pulley": ("belt", "on the pulley", "The belt was on the pulley."),
}


@pytest.mark.parametrize(("said", "fields"), HEARD.items())
def test_a_small_word_that_was_said_is_printed(said, fields):
    what, state, text = fields
    bench = Bench()
    bench.say(said)
    bench.fact(Finding, what=what, state_found=state)
    assert text in told(bench)


def test_both_things_are_counted_before_their_name():
    bench = Bench()
    bench.say("fitted both seals with a fine press")
    bench.fact(Action, verb="fit", object="seals", where="both", using="fine press")
    assert "We fitted both seals with a fine press." in told(bench)


def test_a_fraction_is_converted_no_finer_than_it_was_said():
    # 3/16 inch are 4.7625 mm exactly (NIST SP 811, appendix B.8)
    bench = Bench()
    reading = bench.reading("brush length", "0.1875", "in", as_said="3/16")
    assert reading_figure(reading) == "3/16\N{NO-BREAK SPACE}in (4.76\N{NO-BREAK SPACE}mm)"


def test_what_was_measured_again_stands_on_one_line():
    bench = Bench()
    for value in ("0.5", "0.2"):
        bench.reading("crankcase pressure", value, "bar")
    bench.reading("crankcase pressure", "0.5", "bar", phase="after")
    bench.spec("crankcase pressure", "0.4", None, "bar")
    made = story(bench.job(), SHOP, draft=False)
    measures = [b for section in made.sections for b in section.blocks if isinstance(b, Measure)]
    assert [point.said for point in measures[0].points] == [
        f"{value}\N{NO-BREAK SPACE}bar" for value in ("0.5", "0.2", "0.5")
    ]


def test_a_part_number_that_was_spelled_is_printed_as_the_part_has_it():
    bench = Bench()
    said = "a filter next time, v f e dash nine, if it clogs"
    bench.say(said)
    bench.fact(Recommendation, text=said)
    bench.fact(Part, number="VFE-9", name="filter", status="quoted")
    assert told(bench)["A filter next time, VFE-9, if it clogs."] == ("f1", "f2")


def test_two_spoken_figures_in_one_text_are_both_printed():
    said = "from fifteen psi it fell, and stood at eleven psi"
    bench = said_with_reading(Verification, said, "15", "psi", text=said)
    bench.reading("output", "11", "psi")
    (text,) = (text for text in told(bench) if "fell" in text)
    assert text.replace("\N{NO-BREAK SPACE}", " ") == "From 15 psi it fell, and stood at 11 psi."

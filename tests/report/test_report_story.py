"""The story: which sections and sentences a job yields, and what each rests on."""

import re
from decimal import Decimal

import pytest
from fixed_texts import caution_texts
from hypothesis import given
from hypothesis import strategies as st
from report_jobs import FLAG, SHOP, Bench, repair

from jobnotes.record import (
    Action,
    Audience,
    Caution,
    Complaint,
    Decision,
    Finding,
    Job,
    Labour,
    Machine,
    Part,
    Reading,
    Recommendation,
    State,
    Symptom,
    Test,
    Wiring,
)
from jobnotes.report.content import story
from jobnotes.report.story import Item, Measure, PartRow, Section, Story, Term


def section(told: Story, key: str) -> Section | None:
    return next((part for part in told.sections if part.key == key), None)


def lines(job: Job, key: str, draft: bool = False) -> list[str]:
    part = section(story(job, SHOP, draft), key)
    blocks = part.blocks if part else ()
    texts = [block.sentence.text for block in blocks if isinstance(block, Item)]
    return [text.replace("\N{NO-BREAK SPACE}", " ") for text in texts]


def every_text(told: Story) -> str:
    return repr(told).replace("\\xa0", " ")


def test_sections_come_in_the_order_of_a_repair():
    keys = [part.key for part in story(repair().job(), SHOP, draft=False).sections]
    assert keys == [
        "told", "found", "tested", "measured", "cause", "done", "wiring", "parts", "checked",
        "advice", "care", "time", "words",
    ]  # fmt: skip


def test_an_empty_job_has_no_sections():
    assert story(Bench().job(machine=Machine()), SHOP, draft=False).sections == ()


def test_every_sentence_rests_on_facts_but_for_cautions_that_the_machine_calls_for():
    job = repair().job()
    ids = {fact.id for fact in job.facts} | {photo.id for photo in job.photos}
    told = story(job, SHOP, draft=False).sentences()
    usual = set(caution_texts())
    assert {name for said in told for name in said.facts} <= ids
    assert {said.text for said in told if not said.facts} <= usual


def test_the_complaint_is_quoted_in_the_customers_words():
    assert lines(repair().job(), "told") == ["“It jams.”", "“It stalls on wet leaves.”"]


def test_a_symptom_that_did_not_come_is_said_not_to_have_come():
    bench = Bench()
    bench.fact(Symptom, text="it stalls", reproduced=False)
    assert lines(bench.job(), "found") == ["We could not bring this about: it stalls."]


def test_a_finding_is_proven_by_the_reading_of_its_breath():
    assert lines(repair().job(), "found")[1] == (
        "The belt tension was low. We measured 3.5 kg; it should be at least 6 kg."
    )


def test_a_reading_of_another_place_proves_nothing():
    bench = Bench()
    bench.say("left pad good eight mil right pad worn three mil")
    bench.reading("pad thickness", "3", "mm", where="right")
    bench.fact(Finding, what="left pad", state_found="good")
    assert lines(bench.job(), "found") == ["The left pad was good."]


def test_a_torque_is_printed_with_the_work_it_belongs_to():
    assert "We tightened the idler bolt to 42 ft·lbf (57 N·m)." in lines(repair().job(), "done")


def test_work_with_a_flagged_reading_is_printed_without_its_figure():
    bench = Bench()
    bench.say("cap torqued to forty two")
    torque = bench.reading("cap torque", "42", "ft.lbf", flags=(FLAG,))
    bench.fact(Action, verb="torque", object="cap", linked=(torque.id,))
    assert lines(bench.job(), "done", draft=True) == ["We torqued the cap."]


def test_a_gap_is_set_to_a_length_and_a_bolt_to_a_torque_though_said_together():
    bench = Bench()
    bench.say("gapped the plug to thirty and torqued it to thirteen")
    gap = bench.reading("plug gap", "30", "thou")
    torque = bench.reading("plug torque", "13", "ft.lbf")
    both = (gap.id, torque.id)
    bench.fact(Action, verb="adjust", object="plug gap", linked=both)
    bench.fact(Action, verb="torque", object="plug", linked=both)
    assert lines(bench.job(), "done") == [
        "We adjusted the plug gap to 30 thou (0.76 mm).",
        "We tightened the plug to 13 ft·lbf (18 N·m).",
    ]


def test_work_is_told_in_the_order_said():
    bench = Bench()
    bench.say("took the cover off")
    first = bench.fact(Action, verb="remove", object="cover")
    bench.say("cleaned the screen with solvent")
    second = bench.fact(Action, verb="clean", object="screen", using="solvent", where="inside")
    job = bench.job().having(facts=(second, first))
    assert lines(job, "done") == [
        "We removed the cover.",
        "We cleaned the screen inside with solvent.",
    ]


def test_work_said_twice_is_told_once_and_rests_on_both():
    bench = Bench()
    bench.fact(Action, verb="clean", object="screen")
    bench.fact(Action, verb="clean", object="screen")
    item = section(story(bench.job(), SHOP, draft=False), "done").blocks[0]
    assert item.sentence.facts == ("f1", "f2")


def test_a_decision_gives_its_reason():
    assert "We chose a new spring rather than a shim, because it is safer." in lines(
        repair().job(), "done"
    )


def test_a_recommendation_says_by_when_once():
    bench = Bench()
    bench.fact(Recommendation, text="change the oil", urgency="within ten hours")
    bench.fact(Recommendation, text="change the belt by spring", urgency="by spring")
    assert lines(bench.job(), "advice") == [
        "Change the oil within ten hours.",
        "Change the belt by spring.",
    ]


def test_a_wire_is_told_from_end_to_end():
    bench = Bench()
    bench.fact(
        Wiring, from_point="the key switch", to_point="pin four", colour="orange", connector="C2"
    )
    assert lines(bench.job(), "wiring") == [
        "An orange wire runs from the key switch to pin four through connector C2."
    ]


def test_a_test_tells_what_should_come_and_what_came():
    assert lines(repair().job(), "tested") == [
        "We spun the rotor by hand. What should happen: free. What happened: it drags."
    ]


@pytest.mark.parametrize(
    ("kind", "fields", "key"),
    [
        (Finding, {"what": "", "state_found": ""}, "found"),
        (Decision, {"chosen": ""}, "done"),
        (Test, {"method": ""}, "tested"),
        (Wiring, {"from_point": "", "to_point": ""}, "wiring"),
        (Action, {"verb": "", "object": ""}, "done"),
        (Complaint, {"text": " um "}, "told"),
    ],
)
def test_a_fact_that_says_nothing_prints_nothing(kind, fields, key):
    bench = Bench()
    bench.fact(kind, **fields)
    assert lines(bench.job(), key) == []


def test_before_and_after_share_one_measure_against_their_limits():
    measured = section(story(repair().job(), SHOP, draft=False), "measured").blocks
    tension = next(block for block in measured if block.what == "Belt tension")
    assert [(p.name, p.verdict) for p in tension.points] == [
        ("before", "below the limit"),
        ("after", "within limits"),
    ]


def part_rows(job: Job, **options: bool) -> list[PartRow]:
    return list(section(story(job, SHOP, False, **options), "parts").blocks)


def test_parts_say_what_became_of_them_in_plain_words():
    assert [(row.name, row.number, row.fate) for row in part_rows(repair().job())] == [
        ("Drive belt", "LB-771-C", "Fitted"),
        ("Idler pulley", "", "Kept and used again"),
    ]


def test_a_superseded_number_is_named_beside_the_new_one():
    bench = Bench()
    bench.fact(Part, number="AB-2", name="seal", status="installed", supersedes="AB-1")
    assert part_rows(bench.job())[0].note == "In place of number AB-1"


def test_a_part_that_was_only_talked_about_has_no_row():
    bench = Bench()
    bench.fact(Part, number="AB-2", name="seal", status="mentioned")
    assert section(story(bench.job(), SHOP, False), "parts") is None


def test_prices_are_printed_only_when_asked_for():
    job = repair().job()
    assert "19 dollars" not in every_text(story(job, SHOP, draft=False))
    assert part_rows(job, prices=True)[0].price == "19 dollars"


def test_private_and_withdrawn_words_are_nowhere_in_the_story():
    text = every_text(story(repair().job(), SHOP, draft=False))
    assert "brick" not in text
    assert "9 kg" not in text
    assert "nine" not in text


def test_terms_of_the_trade_are_explained_and_longer_terms_win():
    bench = Bench()
    bench.fact(Finding, what="head gasket", state_found="blown")
    words = section(story(bench.job(), SHOP, False), "words").blocks
    assert [block.name for block in words if isinstance(block, Term)] == ["head gasket"]


def test_a_caution_is_called_by_the_facts_that_speak_of_the_danger():
    bench = Bench()
    work = bench.fact(Action, verb="clean", object="fuel tank")
    care = section(story(bench.job(machine=Machine(description="sweeper")), SHOP, False), "care")
    fuel = next(block for block in care.blocks if "fumes" in block.sentence.text)
    assert fuel.sentence.facts == (work.id,)


def test_the_technicians_own_caution_comes_first():
    care = section(story(repair().job(), SHOP, False), "care").blocks
    assert care[0].sentence.text == "The rotor runs on after you switch off."


def test_a_caution_for_the_machine_needs_no_fact():
    bench = Bench()
    bench.fact(Caution, text="mind the step")
    job = bench.job(machine=Machine(description="hydraulic log splitter"))
    assert any("hospital" in line for line in lines(job, "care"))


readings = st.lists(
    st.tuples(
        st.decimals(min_value=Decimal("100"), max_value=Decimal("99999"), places=2),
        st.sampled_from(list(State)),
        st.sampled_from(list(Audience)),
        st.booleans(),
    ),
    max_size=8,
    unique_by=lambda row: row[0],
)


def row_is_settled(row) -> bool:
    _, state, audience, flagged = row
    for_customer = audience is Audience.CUSTOMER and state is not State.REJECTED
    return not for_customer or (not flagged and state is not State.PROPOSED)


def gauges(rows) -> Bench:
    bench = Bench()
    for letter, (value, state, audience, flagged) in zip("abcdefgh", rows, strict=False):
        more = {"state": state, "audience": audience, "flags": (FLAG,) if flagged else ()}
        bench.reading(f"gauge {letter}", str(value), "V", **more)
    return bench


def printed_figures(told: Story) -> set[str]:
    measured = section(told, "measured")
    blocks = measured.blocks if measured else ()
    points = [point for block in blocks if isinstance(block, Measure) for point in block.points]
    return {point.text.replace("\N{NO-BREAK SPACE}", " ") for point in points}


@given(readings)
def test_a_draft_prints_the_figures_of_all_undoubted_facts_and_no_others(rows):
    expected = {
        f"{value} V"
        for value, state, audience, flagged in rows
        if audience is Audience.CUSTOMER and state is not State.REJECTED and not flagged
    }
    assert printed_figures(story(gauges(rows).job(), SHOP, draft=True)) == expected


@given(readings)
def test_a_final_story_prints_the_figures_of_all_settled_facts_and_no_others(rows):
    rows = [row for row in rows if row_is_settled(row)]
    expected = {
        f"{value} V"
        for value, state, audience, _ in rows
        if audience is Audience.CUSTOMER and state is not State.REJECTED
    }
    assert printed_figures(story(gauges(rows).job(), SHOP, draft=False)) == expected


def test_a_wire_with_a_connector_named_as_one_and_a_purpose_is_told_in_sentences():
    bench = Bench()
    bench.fact(
        Wiring,
        from_point="coil tab",
        to_point="terminal B",
        colour="black and yellow",
        connector="single bullet connector",
        purpose="stopping the engine",
    )
    assert lines(bench.job(), "wiring") == [
        "A black and yellow wire runs from the coil tab to terminal B through "
        "a single bullet connector. It is there for stopping the engine."
    ]


def test_the_words_that_announce_a_caution_are_left_out():
    bench = Bench()
    bench.fact(Caution, text="Caution for the customer: let it cool")
    assert lines(bench.job(), "care")[0] == "Let it cool."


def test_how_to_read_a_drawing_is_told_where_one_is_drawn():
    measured = section(story(repair().job(), SHOP, draft=False), "measured")
    assert measured.lead.startswith("The thick part of each line")
    bench = Bench()
    bench.reading("belt tension", "3", "kg")
    assert section(story(bench.job(), SHOP, draft=False), "measured").lead == ""


def test_photos_of_a_fact_without_words_are_still_shown():
    bench = Bench()
    bench.say("um photo of the rim")
    bench.fact(Action, verb="", object="")
    bench.photo("the rim")
    assert section(story(bench.job(), SHOP, False), "photos").blocks[0].pictures


def test_labour_is_told_as_time():
    bench = Bench()
    bench.fact(Labour, minutes=Decimal(95), as_said="")
    assert lines(bench.job(), "time") == ["The work took 1 h 35 min."]


def test_the_same_job_tells_the_same_story():
    assert story(repair().job(), SHOP, False) == story(repair().job(), SHOP, False)


def test_no_figure_of_a_reading_is_printed_that_no_fact_holds():
    job = repair().job()
    text = every_text(story(job, SHOP, draft=False))
    shown = set(re.findall(r"(\d+(?:\.\d+)?) (?:kg|ft·lbf)", text))
    held = {fact.as_said for fact in job.facts if isinstance(fact, Reading)} | {"6"}
    assert shown == held

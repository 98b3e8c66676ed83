"""Work in sentences: in order, deeds on one thing together, each with its own figure."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from report_jobs import Bench

from jobnotes.record import Action, Decision
from jobnotes.report.work import steps


def told(*deeds: tuple[str, str], **more: str) -> list[str]:
    bench = Bench()
    for verb, thing in deeds:
        bench.fact(Action, verb=verb, object=thing, **more)
    return [said.text for said in steps(bench.facts, {})]


def test_deeds_on_one_thing_that_follow_each_other_share_a_sentence():
    assert told(("splice", "wire"), ("reroute", "wire")) == ["We spliced the wire and rerouted it."]


def test_deeds_on_several_things_take_the_pronoun_of_many():
    assert told(("clean", "plugs"), ("gap", "plugs")) == ["We cleaned the plugs and gapped them."]


def test_a_pronoun_stands_before_the_verbs_particle():
    assert told(("clean", "lid"), ("take off", "lid")) == ["We cleaned the lid and took it off."]


def test_a_sentence_holds_no_more_than_three_deeds():
    deeds = [(verb, "blade") for verb in ("remove", "sharpen", "balance", "install")]
    assert told(*deeds) == [
        "We removed the blade, sharpened it and balanced it.",
        "We installed the blade.",
    ]


def test_the_first_and_the_last_of_many_are_said_to_be_so():
    said = told(("remove", "lid"), ("clean", "bowl"), ("install", "jet"), ("grease", "hub"))
    assert said[0].startswith("First we removed")
    assert said[-1].startswith("Last, we greased")


def test_a_thing_in_another_place_is_named_again():
    bench = Bench()
    bench.fact(Action, verb="clean", object="plug", where="left")
    bench.fact(Action, verb="replace", object="plug", where="right")
    assert [said.text for said in steps(bench.facts, {})] == [
        "We cleaned the plug (left).",
        "We replaced the plug (right).",
    ]


def test_a_figure_stays_with_the_deed_it_belongs_to():
    bench = Bench()
    torque = bench.reading("plug torque", "13", "ft.lbf")
    bench.fact(Action, verb="clean", object="plug")
    bench.fact(Action, verb="torque", object="plug", linked=(torque.id,))
    (said,) = steps(bench.facts, {torque.id: torque})
    assert said.text.replace("\N{NO-BREAK SPACE}", " ") == (
        "We cleaned the plug and tightened it to 13 ft·lbf (18 N·m)."
    )
    assert said.facts == ("f2", "f3", "f1")


def test_a_decision_stands_where_it_was_said():
    bench = Bench()
    bench.fact(Action, verb="remove", object="pump")
    bench.fact(Decision, chosen="a new pump", because="the shaft was scored")
    bench.fact(Action, verb="install", object="pump")
    assert [said.text for said in steps(bench.facts, {})] == [
        "We removed the pump.",
        "We chose a new pump, because the shaft was scored.",
        "We installed the pump.",
    ]


@settings(suppress_health_check=[HealthCheck.too_slow])  # a busy machine is no fault of the rules
@given(st.lists(st.tuples(st.sampled_from(["clean", "oil"]), st.sampled_from(["a", "b"]))))
def test_every_deed_is_in_one_sentence(deeds):
    bench = Bench()
    for verb, thing in deeds:
        bench.fact(Action, verb=verb, object=thing)
    ids = [fact for said in steps(bench.facts, {}) for fact in said.facts]
    assert sorted(ids) == sorted(fact.id for fact in bench.facts)


def test_a_figure_that_names_another_thing_is_not_told_of_this_one():
    bench = Bench()
    bench.say("torqued the injector clamps to twenty two glow plug to fifteen")
    clamps = bench.reading("injector clamps torque", "22", "N.m")
    plug = bench.reading("glow plug torque", "15", "N.m")
    bench.fact(Action, verb="torque", object="injector clamps", linked=(clamps.id, plug.id))
    (said,) = steps(bench.facts, {fact.id: fact for fact in bench.facts})
    assert said.text == "We tightened the injector clamps to 22\N{NO-BREAK SPACE}N·m."
    assert plug.id not in said.facts

import pytest

from jobnotes.extract.things import thing_before, thing_in, things
from jobnotes.extract.vocabulary import words


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("pulled the plug and the coil", ["spark plug", "ignition coil"]),
        ("left rear wheel bearing is rough", ["left rear wheel bearing"]),
        ("the upper ball joint boot is split", ["upper ball joint boot"]),
        ("drive belt and idler pulley", ["drive belt", "idler pulley"]),
        ("number two injector leaks", ["number two injector"]),
        ("new carb gasket", ["carb gasket"]),
        ("the flumble valve sticks", ["flumble valve"]),
        ("changed the O-ring on the PTO shaft", ["o-ring", "PTO shaft"]),
    ],
)
def test_a_component_keeps_its_modifiers_and_gets_its_trade_name(talk, said, names):
    assert [thing.name for thing in things(talk(said))] == names


def test_a_bare_plug_beside_a_cord_is_no_spark_plug(talk):
    assert [thing.name for thing in things(talk("cord is cut near the plug"))] == ["cord", "plug"]


def test_a_short_form_takes_the_fuller_name_said_before(talk):
    named = things(talk("the clutch coil is open", "fitted a coil"))
    assert [thing.name for thing in named] == ["clutch coil", "clutch coil"]


@pytest.mark.parametrize("said", ["fifty foot pounds", "nought point five bar", "ten fluid ounces"])
def test_a_unit_is_no_component(talk, said):
    assert things(talk(said)) == ()


def test_the_nearest_component_before_a_word_is_found_in_earlier_utterances_too(talk):
    said = talk("pulled the flywheel", "it was rusty")
    found = thing_before(said, list(words(said)).index("rusty"))
    assert found is not None
    assert found.name == "flywheel"


def test_no_component_is_before_the_first_word(talk):
    assert thing_before(talk("flywheel"), 0) is None


def test_the_last_component_in_a_stretch_is_given(talk):
    found = thing_in(talk("hose from the pump to the gun"), 0, 5)
    assert found is not None
    assert found.name == "pump"

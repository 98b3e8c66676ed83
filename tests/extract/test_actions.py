import pytest


def told(facts):
    return [(fact.verb, fact.object) for fact in facts]


@pytest.mark.parametrize(
    ("said", "verb", "what"),
    [
        ("pulled the flywheel", "remove", "flywheel"),
        ("took the rear cover off", "remove", "rear cover"),
        ("got the old seal out with a hook", "remove", "old seal"),
        ("unplugged the sensor", "disconnect", "sensor"),
        ("tore the starter down", "disassemble", "starter"),
        ("fitted a new reed block", "install", "reed block"),
        ("put a new impeller in", "install", "impeller"),
        ("popped the belt back on", "install", "belt"),
        ("swapped out the relay", "replace", "relay"),
        ("changed the gear oil", "change", "gear oil"),
        ("blew out the radiator fins", "clean", "radiator fins"),
        ("gave the contacts a clean", "clean", "contacts"),
        ("set the points gap to fifteen thou", "adjust", "points gap"),
        ("gapped the plug at thirty", "adjust", "spark plug gap"),
        ("torqued the head bolts to twenty", "torque", "head bolts"),
        ("tightened the blade bolt to forty foot pounds", "torque", "blade bolt"),
        ("snugged the clamp up", "tighten", "clamp"),
        ("drained the tank", "drain", "tank"),
        ("filled it with two quarts of hydraulic oil", "fill", "hydraulic oil"),
        ("topped up the coolant", "top up", "coolant"),
        ("bled the brakes", "bleed", "brakes"),
        ("load tested the battery", "test", "battery"),
        ("compression test on the left cylinder", "test", "left cylinder"),
        ("freed up the choke shaft", "free", "choke shaft"),
        ("straightened the rod", "straighten", "rod"),
        ("made up a new fuel line", "make", "fuel line"),
        ("had the drum skimmed", "skim", "drum"),
        ("fuel filter replaced", "replace", "fuel filter"),
        ("oil changed", "change", "oil"),
        ("mower blades were sharpened", "sharpen", "blades"),
        ("valve cover off", "remove", "valve cover"),
        ("new left bearing in", "install", "left bearing"),
        ("kit's in", "install", "kit"),
        ("new plug as well", "install", "spark plug"),
        ("torqued the bolts with thread locker", "apply", "thread locker"),
        ("I've greased the spindle", "grease", "spindle"),
        ("had to replace the inlet valve", "replace", "inlet valve"),
        ("pumped the front tyre up to thirty", "inflate", "front tyre"),
    ],
)
def test_work_done_is_a_plain_infinitive_and_an_object(hear, said, verb, what):
    found = hear("action", "customer says it stalls", said)
    assert any(f.verb == verb and what.endswith(f.object.split()[-1]) for f in found), told(found)


@pytest.mark.parametrize(
    ("said", "steps"),
    [
        (
            "removed the shroud and the fan",
            [("remove", "shroud"), ("remove", "fan")],
        ),
        (
            "installed the seal kit, bearing, cord and gland ring",
            [("install", w) for w in ("seal kit", "bearing", "cord", "gland ring")],
        ),
        (
            "cleaned the jet and reset the float",
            [("clean", "jet"), ("adjust", "float")],
        ),
    ],
)
def test_several_objects_and_verbs_are_several_actions(hear, said, steps):
    assert told(hear("action", "customer says it stalls", said)) == steps


def test_a_pronoun_object_is_resolved(hear):
    found = hear("action", "customer says it stalls", "inlet screen was blocked, cleaned it")
    assert told(found) == [("clean", "inlet screen")]


def test_an_object_from_the_utterance_before_is_resolved(hear):
    found = hear("action", "slip rings are black", "cleaned those with a fine stone")
    assert told(found) == [("clean", "slip rings")]


def test_the_tool_is_kept(hear):
    assert hear("action", "cleaned the rings with a fine stone")[0].using == "fine stone"


@pytest.mark.parametrize(
    "said",
    [
        "he replaced the plug himself last year",
        "didn't touch the governor or replace the spring",
        "I'd replace the belt next season",
        "tell him to change the oil every spring",
        "the last shop fitted the wrong belt",
        "needs a new chute, ordered one",
        "going to replace the bearing tomorrow",
        "with the heater plugged in it drops to ninety volts",
        "motor pulled fourteen amps",
        "battery dropped to nine volts",
        "took it round the block",
        "brush is stuck in the holder",
        "key off, lights on",
    ],
)
def test_what_was_not_done_here_is_no_action(hear, said):
    assert told(hear("action", "customer says it stalls", said)) == []


def test_a_part_told_by_number_and_put_in_later_is_one_action(hear):
    lines = ("new coil, part number r m dash four four one", "put that in")
    assert told(hear("action", "no spark", *lines)) == [("install", "ignition coil")]


def test_a_torque_carries_its_reading(hear):
    lines = ("customer says it stalls", "torqued the head bolts to twenty newton metres")
    reading = hear("reading", *lines)
    assert hear("action", *lines)[0].linked == (reading[0].id,)


def test_a_setting_told_in_the_next_clause_belongs_to_the_same_verb(hear):
    said = "torqued the clamps to twenty newton metres, the glow plug to fifteen"
    assert told(hear("action", said)) == [("torque", "clamps"), ("torque", "glow plug")]

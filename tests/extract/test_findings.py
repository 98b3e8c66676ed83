import pytest


def told(facts):
    return [(fact.what, fact.state_found) for fact in facts]


@pytest.mark.parametrize(
    ("said", "what", "state"),
    [
        ("diaphragm is torn", "diaphragm", "torn"),
        ("fuel hose cracked right through", "fuel hose", "cracked right through"),
        ("the left seal is weeping", "left seal", "weeping"),
        ("air filter's clogged with chaff", "air filter", "clogged with chaff"),
        ("reed valve looks tired", "reed valve", "tired"),
        ("brushes are down to the wire", "brushes", "down to the wire"),
        ("bearing was dry and noisy", "bearing", "dry and noisy"),
        ("plug black and oily", "spark plug", "black and oily"),
        ("clutch shoes have gone hard", "clutch shoes", "gone hard"),
        ("valve has a nick in the face", "valve", "nick in the face"),
        ("gear has two teeth missing", "gear", "two teeth missing"),
        ("crankshaft is out of true", "crankshaft", "out of true"),
        ("found a cracked manifold", "manifold", "cracked"),
        ("found water in the bowl", "bowl", "water"),
        ("sludge in the bottom of the tank", "tank", "sludge"),
        ("oil leaking from the drain plug", "drain plug", "oil leaking"),
        ("relay clicks but the pump growls", "pump", "growls"),
        ("oil got past the rear seal", "rear seal", "oil got past"),
        ("gearbox oil smells burnt", "gearbox oil", "burnt"),
        ("hub bearing growls", "hub bearing", "growls"),
        ("the widget plate is crispy", "widget plate", "crispy"),
        ("bores look good", "bores", "good"),
        ("starter shaft is a bit loose", "starter shaft", "a bit loose"),
        ("shoes are oil soaked", "shoes", "oil soaked"),
        ("pump wasn't pumping", "pump", "wasn't pumping"),
        ("cylinder two is low", "cylinder two", "low"),
    ],
)
def test_a_state_is_tied_to_its_thing(hear, said, what, state):
    assert (what, state) in told(hear("finding", "pulled the cover", said))


@pytest.mark.parametrize(
    ("said", "what", "state"),
    [
        ("no scoring on the piston", "piston", "no scoring"),
        ("found no leaks at the head gasket", "head gasket", "no leaks"),
        ("no cracked tines", "tines", "none cracked"),
        ("no spark at all", "spark", "none"),
        ("key's good, not sheared", "key", "good, not sheared"),
        ("solenoid has no voltage", "solenoid", "no voltage"),
        ("no continuity from the stator to ground", "stator to ground", "no continuity"),
    ],
)
def test_what_is_denied_is_kept_as_denied(hear, said, what, state):
    found = hear("finding", "pulled the cover", said)
    assert (what, state) in told(found)


def test_a_denied_state_is_marked(hear):
    assert hear("finding", "pulled the cover", "no wear on the cam")[0].negated


def test_a_pronoun_means_the_thing_named_last(hear):
    found = hear("finding", "pulled the plug and it's wet")
    assert told(found) == [("spark plug", "wet")]


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ("flywheel magnets are rusty, coil legs too", "coil legs"),
        ("left belt is cracked, right one the same", "right belt"),
        ("rear pads are worn, front pads as well", "front pads"),
    ],
)
def test_an_elided_state_is_carried_over(hear, said, what):
    found = hear("finding", "pulled the cover", said)
    assert what in [fact.what for fact in found]
    assert len({fact.state_found for fact in found}) == 1


def test_a_piece_is_named_by_its_whole(hear):
    found = hear("finding", "pulled the cover", "unloader valve, spring snapped")
    assert told(found) == [("unloader valve spring", "snapped")]


def test_of_several_each_has_its_own_state(hear):
    found = hear("finding", "pulled the valves", "left one is bent, the other one is fine")
    assert [fact.state_found for fact in found] == ["bent", "fine"]


@pytest.mark.parametrize(
    "said",
    [
        "engine stone cold, key off",
        "heater on, ninety volts",
        "book says the belt should be tight",
        "if the belt is cracked change it",
        "photo of the cracked hose",
        "that's wrong, it was fifty",
    ],
)
def test_conditions_limits_and_photos_are_no_findings(hear, said):
    assert hear("finding", "pulled the cover", said) == []


def test_the_evidence_is_the_words_of_the_finding(hear):
    found = hear("finding", "pulled the cover, the belt is frayed, took a photo")
    assert found[0].evidence[0].text == "belt is frayed,"

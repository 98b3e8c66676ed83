"""States told in the ways of many speakers, one way a case."""

import pytest

LEAD = ("next job, the tiller from the allotment", "having a look at it now")


def told(facts):
    return [(fact.what, fact.state_found) for fact in facts]


@pytest.mark.parametrize(
    ("said", "what", "state"),
    [
        ("the throttle shaft is kinda floppy", "throttle shaft", "kinda floppy"),
        ("jockey wheel's banjaxed", "jockey wheel", "banjaxed"),
        ("the ram rod is lekker", "ram rod", "lekker"),
        ("the gear lever is vague", "gear lever", "vague"),
        ("it's only the idler that's noisy", "idler", "noisy"),
        ("the rotor is sound and so's the stator", "stator", "sound"),
        ("front hub is dry and so is the rear one", "rear one hub", "dry"),
        ("rear bearing found to be dry", "rear bearing", "dry"),
        ("inlet valve proved to be bent", "inlet valve", "bent"),
        ("no pitting of the cam lobes", "cam lobes", "no pitting"),
        ("no rust in either float bowl", "float bowl", "no rust"),
        ("nothing wrong with the relay", "relay", "nothing wrong"),
        ("none of the bolts were loose", "bolts", "none of the bolts were loose"),
        ("check valve holds", "check valve", "holds"),
        ("blower fan spins", "blower fan", "spins"),
        ("the heat shield has dried out", "heat shield", "dried out"),
        ("the paper gasket did tear", "paper gasket", "tear"),
        ("mice chewed the cable", "cable", "chewed"),
        ("a stone cracked the housing", "housing", "cracked"),
        ("so not the capacitor then", "capacitor", "not the cause"),
        ("that rules out the relay", "relay", "not the cause"),
        ("sure enough the coupling is shot", "coupling", "shot"),
        ("the belt is having cracks", "belt", "cracks"),
        ("the mounts are going soft", "mounts", "going soft"),
        ("a lump of rubber in the jet", "jet", "lump of rubber"),
        ("seat cleaned up fine", "seat", "fine"),
        ("hopper's split wide open", "hopper", "split wide open"),
        ("the brake caliper's hanging on", "brake caliper", "hanging on"),
        ("the ball was stuck", "ball", "stuck"),
        ("brushes have loads left", "brushes", "loads left"),
        ("tip's short and the hole's egg shaped", "tip hole", "egg shaped"),
        ("impeller missing three vanes", "impeller", "missing three vanes"),
        ("fins blocked forty percent on the left", "fins", "blocked forty percent on the left"),
        ("the relief valve leaks, spit on it", "relief valve", "leaks"),
        ("the trigger was coming and going", "trigger", "coming and going"),
        ("the plug's chalky white", "spark plug", "chalky white"),
        ("cap is condemned", "cap", "condemned"),
        ("the stud nut was only finger tight", "stud nut", "only finger tight"),
        ("grease in the rear right drum", "rear right drum", "grease"),
        ("heat paste all cooked off", "heat paste", "cooked off"),
        ("the check valve was opened, it holds", "check valve", "holds"),
        ("so it's the pack not the coil", "battery pack", "at fault"),
        ("so it's the injector and not the pipe", "injector", "at fault"),
        ("so it's the injector and not the pipe", "pipe", "not the cause"),
        ("hissing out the intake, nothing in the crankcase", "crankcase", "no hissing"),
        ("piston, seen through the port, shows no scoring", "piston", "no scoring"),
        ("in the sight glass the oil is white", "oil", "white"),
        ("in the trough there's bubbles out of the seal", "seal", "bubbles out"),
        ("bubbles at the carb boot", "carb boot", "bubbles"),
        ("the strainer was like a tea bag", "strainer", "like a tea bag"),
        ("the piston through the port has light marks", "piston", "light marks"),
        ("no leak was detected at any joint", "joint", "no leak"),
        ("so the nozzle isn't the culprit", "nozzle", "not the cause"),
        ("the rear tyre has almost no tread", "rear tyre", "no tread"),
        ("piston through the port, nae scoring", "piston", "no scoring"),
        (
            "took the bowl off and there's green crud all over the bottom of it",
            "bowl",
            "green crud",
        ),
        ("case off and there's belt dust everywhere", "case", "belt dust everywhere"),
    ],
)
def test_a_state_is_found_however_it_is_told(hear, said, what, state):
    assert (what, state) in told(hear("finding", *LEAD, said))


@pytest.mark.parametrize(
    "said",
    [
        "pump's drawing twelve amps",
        "rope was hanging at sixty",
        "two clicks is the seat interlock",
        "was the fuse blown",
        "make sure the hose isn't kinked",
        "poor Mrs Grey can't lift it",
        "wide open, three thousand",
        "the brushes are scrap under six",
        "the output doesn't care",
        "charging, flat out",
        "two batteries in a year, poor love",
        "gearbox, rocked it by hand",
    ],
)
def test_what_only_sounds_like_a_state_is_none(hear, said):
    assert told(hear("finding", *LEAD, said)) == []


@pytest.mark.parametrize(
    ("said", "cause"),
    [
        ("grit's what ruined the bush", "grit's what ruined the bush"),
        ("dirty oil did for the bearing", "dirty oil did for the bearing"),
        ("it all stems from a blocked breather", "a blocked breather"),
        ("the bearing ran dry so the shaft seized", "the bearing ran dry so the shaft seized"),
        ("a chafed wire was to blame", "a chafed wire was to blame"),
    ],
)
def test_a_cause_told_as_a_cause_is_kept(hear, said, cause):
    assert [fact.text for fact in hear("cause", *LEAD, said)] == [cause]


def test_the_reason_of_a_choice_is_no_cause(hear):
    said = "went with the rebuild kit because the body is sound"
    assert hear("cause", *LEAD, said) == []


def test_a_list_of_colours_needs_no_word_for_wire(hear):
    wires = hear("wiring", *LEAD, "brown from the isolator to terminal three")
    assert [(w.from_point, w.to_point) for w in wires] == [("isolator", "terminal three")]

"""Work told in the ways of many speakers, one way a case."""

import pytest

LEAD = ("next job, the tiller from the allotment", "having a look at it now")


def told(facts):
    return [(fact.verb, fact.object) for fact in facts]


@pytest.mark.parametrize(
    ("said", "verb", "what"),
    [
        ("off comes the hubcap", "remove", "hubcap"),
        ("in went the new seal", "install", "seal"),
        ("back on went the fuel line", "install", "fuel line"),
        ("out with the old bearings", "remove", "bearings"),
        ("choke knob was broken, so that's new", "install", "choke knob"),
        ("the fuel tap is new", "install", "fuel tap"),
        ("she got a new belt", "install", "belt"),
        ("gave it a fresh plug", "install", "plug"),
        ("belts were shot so new ones", "install", "belts"),
        ("refitted the cover with new bolts", "install", "bolts"),
        ("locknuts, twelve newton metres", "torque", "locknuts"),
        ("injectors at thirty newton metres", "torque", "injectors"),
        ("gear oil was down, it took ninety millilitres", "fill", "gear oil"),
        ("fresh gear oil, a hundred and ten mils", "fill", "gear oil"),
        ("ran the silencer through the ultrasonic", "clean", "silencer"),
        ("gave the contacts a rub with emery", "clean", "contacts"),
        ("idle was fourteen hundred, bumped it to seventeen fifty", "adjust", "idle"),
        ("gap was forty, I made it thirty", "adjust", "gap"),
        ("tried a coil off the donor", "swap", "ignition coil"),
        ("hung a known good battery on it", "swap", "battery"),
        ("pump I have taken off", "remove", "pump"),
        ("plates I have rinsed with spirit", "clean", "plates"),
        ("the rotor is scored, so I replaced", "replace", "rotor"),
        ("the damaged seal was pressed out and a new one fitted", "install", "seal"),
        ("the caps were cracked and they were replaced", "replace", "caps"),
        ("and I did tighten the gland", "tighten", "gland"),
        ("put a second five amp breaker in", "install", "breaker"),
        ("radiator pressure test, holds fine", "test", "radiator"),
        ("thread sealed with paste", "seal", "thread"),
        ("cleaned the earth lug and smeared it with grease", "apply", "grease"),
        ("until it is collected we have capped the pipe", "cap", "pipe"),
        ("shifted the alternator", "move", "alternator"),
        ("chucked a new battery in", "install", "battery"),
        ("had the gear cap off", "remove", "gear cap"),
        ("rocker cover off and there's soot all over it", "remove", "rocker cover"),
        ("impeller's out, it wants eight vanes", "remove", "impeller"),
        ("cleaned and oiled the pawls", "clean", "pawls"),
        ("heat-shrunk the joint", "heat-shrink", "joint"),
        ("wire brushed the lug", "clean", "lug"),
        ("wiped down the float bowl", "wipe", "float bowl"),
        ("scraped the varnish off the needle", "clean", "needle"),
        ("idle screw was two turns out, put it at three", "adjust", "idle screw"),
        ("gave the gearbox sixty cc of grease", "grease", "gearbox"),
        ("front tyres were one bar, both at two now", "inflate", "tires"),
        ("twelve newton metres, cover bolts", "torque", "cover bolts"),
        ("gearbox oil new", "change", "gearbox oil"),
        ("the fins were packed with straw, dug all that out", "clean", "fins"),
        ("left battery, hung it on the crank, charged it overnight", "charge", "left battery"),
        ("put the rotor in with fresh paste on the bolts, torqued them", "torque", "bolts"),
        ("tickover was low, wound it up to twelve hundred", "adjust", "idle speed"),
    ],
)
def test_work_is_found_however_it_is_told(hear, said, verb, what):
    assert (verb, what) in told(hear("action", *LEAD, said))


@pytest.mark.parametrize(
    "said",
    [
        "somebody bent the shift rod",
        "they hit a stump, bent the blade",
        "the owner is advised to have the tank drained and cleaned",
        "stuck my meter on the battery",
        "took it down the road",
        "put down two hours of labour",
        "dropped the switch in a jug",
        "turned the engine over",
        "washers, six off",
        "the drum cleaned up nicely",
        "the grease has dried out",
        "checks out",
        "I make that forty",
        "it cuts out on the hill",
        "took about two thou off",
        "pulled a vacuum",
        "knocked it off",
        "twin cylinder ride-on",
        "filled a coffee can",
        "took it up Mill Lane",
    ],
)
def test_what_only_sounds_like_work_is_none(hear, said):
    assert told(hear("action", *LEAD, said)) == []

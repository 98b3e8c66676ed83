"""Ways of speaking at the bench: asides, contractions, dropped words, things pointed at."""

from decimal import Decimal

import pytest

JOB = ("customer says it stalls", "cleaned the carb")


def told(facts):
    return [(fact.verb, fact.object) for fact in facts]


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("started at nine, finished quarter to eleven, so that's an hour and three quarters", 105),
        ("about two and a half hours in her, make it two and a quarter", 135),
        ("should have been forty minutes, ended up an hour and a half", 90),
        ("hour and twenty so far", 80),
        ("forty minutes driving and an hour ten on the mower, just bill the mower", 70),
        ("three hours all told, knock off my dinner, two and a half", 150),
        ("book time's two point six, I did it in two hours ten, so bill two ten", 130),
        ("it was meant to take an hour but it took two hours fifteen", 135),
    ],
)
def test_labour_told_in_an_aside_is_what_the_speaker_settles_on(hear, said, minutes):
    assert [fact.minutes for fact in hear("labour", *JOB, said)] == [Decimal(minutes)]


@pytest.mark.parametrize(
    "said",
    [
        "ran it forty minutes on the bench, no leaks",
        "left it charging three hours",
        "he's to grease it every ten hours",
    ],
)
def test_the_time_of_a_test_run_is_no_labour(hear, said):
    assert hear("labour", *JOB, said) == []


def test_a_bare_figure_that_labour_is_settled_on_carries_a_flag(hear):
    found = hear("labour", *JOB, "put me down for three and a quarter")
    assert [flag.code for flag in found[0].flags] == ["unit-not-said"]


@pytest.mark.parametrize(
    "back",
    [
        "okay, for the invoice again, new belt fitted",
        "right, back to it, new belt fitted",
        "now for the customer, new belt fitted",
        "where was I, new belt fitted",
    ],
)
def test_a_private_stretch_ends_where_the_sheet_is_taken_up_again(hear, back):
    lines = ("this next bit stays in the shop, he never paid", "nor did his cousin", back)
    found = hear("private", "pulled the cover", *lines)
    assert [remark.utterances for remark in found] == [(1, 2)]


def test_the_words_that_end_a_private_note_belong_to_it(hear):
    lines = ("Private note.", "He was drunk.", "End of private note.", "Belt replaced.")
    found = hear("private", "Cover off.", *lines)
    assert [remark.utterances for remark in found] == [(1, 2, 3)]


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("trouble is she bogs the second the tines bite", "bogs the second the tines bite"),
        ("won't pull its own skin off, so they tell me", "won't pull its own skin off"),
        ("says it howls going downhill", "howls going downhill"),
        ("customer is telling that the oil goes away", "the oil goes away"),
        ("he also says it pulls left", "pulls left"),
    ],
)
def test_a_complaint_is_found_however_it_is_led_in(hear, said, text):
    found = hear("complaint", "little rotary tiller", said, "pulled the cover")
    assert text in [fact.text for fact in found]


def test_who_brought_the_machine_in_is_no_complaint(hear):
    found = hear("complaint", "log splitter, in for Harlan Farms", "customer says it leaks")
    assert [fact.text for fact in found] == ["leaks"]


def test_a_sound_behaviour_beside_a_complaint_is_none(hear):
    assert [fact.text for fact in hear("complaint", "Reported, no drive, engine runs.")] == [
        "no drive"
    ]


@pytest.mark.parametrize(
    ("said", "verb", "what"),
    [
        ("now I take off the belt cover", "remove", "belt cover"),
        ("gear oil I change", "change", "gear oil"),
        ("blade guard back on, same bolts", "install", "blade guard"),
        ("I've the flywheel chocked", "chock", "flywheel"),
        ("soaked the jets overnight", "clean", "jets"),
        ("locked out the disconnect", "lock out", "disconnect"),
        ("governor speed, adjusted after cleaning", "adjust", "governor speed"),
        ("valve gap was wide so I closed it up to six thou", "adjust", "valve gap"),
        ("gave the slip rings a brush", "clean", "slip rings"),
        ("gearbox apart", "disassemble", "gearbox"),
        ("cable was loose, hooked it back on", "reconnect", "cable"),
        ("ran the hose round the other side", "reroute", "hose"),
        ("just to be safe I changed the relay", "replace", "relay"),
    ],
)
def test_work_is_found_however_it_is_told(hear, said, verb, what):
    assert (verb, what) in told(hear("action", *JOB, said))


@pytest.mark.parametrize(
    "said",
    [
        "dug six holes with it",
        "split half a cord of ash, never bogged",
        "motor current with the blade fitted, nine amps",
        "the control board disconnected it",
        "I recommend fitting two mounts and checking the belt every fifty hours",
        "the link had come off",
        "I turned it over by the rope",
    ],
)
def test_what_the_machine_did_and_what_is_advised_is_no_work(hear, said):
    assert hear("action", "customer says it stalls", "the link is bent", said) == []


def test_a_new_one_means_the_part_that_was_bad(hear):
    lines = ("the sun wheel is fine, output bearing's rough", "pressed a new one in")
    assert told(hear("action", "customer says it whines", *lines)) == [
        ("install", "output bearing")
    ]


def test_a_torque_said_of_a_fastener_is_a_step(hear):
    lines = ("four bolts on the pump cover, eleven newton metres",)
    assert ("torque", "pump cover bolts") in told(hear("action", *JOB, *lines))


@pytest.mark.parametrize(
    ("lines", "what", "state"),
    [
        (("gear oil drained, two hundred millilitres", "Milky."), "gear oil", "Milky"),
        (("so it's not the switch",), "switch", "not the cause"),
        (("cover off", "the fault is in the charger"), "charger", "at fault"),
        (("Mounts. Front pair perished, rear pair sound.",), "front mounts", "perished"),
        (("shaft spins by hand, no play",), "shaft", "no play"),
        (("chute flap's in ribbons",), "chute flap", "in ribbons"),
        (("left coupling's grand",), "left coupling", "grand"),
        (("bearing's showin' rust",), "bearing", "rust"),
    ],
)
def test_a_state_is_found_however_it_is_told(hear, lines, what, state):
    found = hear("finding", "customer says it stalls", *lines)
    assert any(what.split()[-1] in fact.what and state in fact.state_found for fact in found), [
        (fact.what, fact.state_found) for fact in found
    ]


@pytest.mark.parametrize(
    "said",
    ["kettle's boiled", "that's the black and yellow wire", "so that's gone in the bin"],
)
def test_what_tells_no_state_of_a_component_is_no_finding(hear, said):
    assert hear("finding", "customer says it stalls", "pulled the cover", said) == []


def test_a_judgement_is_of_what_was_measured_just_before(hear):
    lines = ("pulled the plug", "compression, warm, nine bar, we want eight so that's fine")
    found = hear("finding", "customer says it stalls", *lines)
    assert [(fact.what, fact.state_found) for fact in found] == [("compression", "fine")]


def test_a_part_looked_at_and_not_worn_is_a_finding_and_no_proof(hear):
    lines = (*JOB, "fitted a new seal", "pump housing's not cracked")
    assert [fact.what for fact in hear("finding", *lines)] == ["pump housing"]
    assert hear("verification", *lines) == []


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("blades dead still at idle", "blades dead still at idle"),
        ("not one drop under the sump after ten minutes", "not one drop under the sump"),
        ("dug six holes behind the shed, didn't stall once", "dug six holes behind the shed"),
        ("hot run, half an hour, didn't miss a beat", "hot run, half an hour, didn't miss a beat"),
        ("with the shop battery it cuts normally", "with the shop battery it cuts normally"),
    ],
)
def test_proof_of_the_repair_is_found_however_it_is_told(hear, said, text):
    found = hear("verification", *JOB, "fitted a new seal", said)
    assert any(text in fact.text for fact in found), [fact.text for fact in found]


@pytest.mark.parametrize("said", ["never run it indoors", "don't know who wired that plug"])
def test_a_warning_and_a_guess_prove_nothing(hear, said):
    assert hear("verification", *JOB, "fitted a new seal", said) == []


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("for the customer: use the maker's oil", "use the maker's oil"),
        ("not to go out until the brake is done", "don't go out until the brake is done"),
        ("belt and filter come due at sixty hours", "belt and filter come due at sixty hours"),
        ("my advice is keep it dry, and a new tyre before winter", "a new tyre before winter"),
    ],
)
def test_advice_is_found_however_it_is_put(hear, said, text):
    assert text in [fact.text for fact in hear("recommendation", *JOB, said)]


@pytest.mark.parametrize(
    "said", ["pop-off ought to be between nine and eleven", "I'd knocked the dial, it's two thou"]
)
def test_a_limit_and_what_i_had_done_are_no_advice(hear, said):
    assert hear("recommendation", *JOB, said) == []


def test_a_cause_goes_on_to_the_end_of_its_sentence(hear):
    found = hear("cause", "pulled the cover", "the cause is a coil that opens when it gets hot.")
    assert [fact.text for fact in found] == ["a coil that opens when it gets hot"]


def test_a_wire_of_two_colours_keeps_both(hear):
    said = "that's the black and yellow wire, it runs from the coil tab to the engine switch"
    assert [wire.colour for wire in hear("wiring", "pulled the cover", said)] == [
        "black and yellow"
    ]


@pytest.mark.parametrize(
    ("said", "state"),
    [
        ("inlet valves aren't worn", "aren't worn"),
        ("the rod isn't bent", "isn't bent"),
        ("the seal hasn't perished", "hasn't perished"),
        ("neither bearing is worn", "not worn"),
    ],
)
def test_a_denied_state_is_never_told_as_found(hear, said, state):
    found = hear("finding", "customer says it stalls", said)
    assert [(fact.state_found, fact.negated) for fact in found] == [(state, True)]


def test_a_complaint_ends_before_the_work_told_in_the_same_breath(hear):
    found = hear("complaint", "Well pump. No pressure. Replaced foot valve. Holds prime.")
    assert [fact.text for fact in found] == ["No pressure"]


@pytest.mark.parametrize("said", ["pulled and", "it needs one", "cover off, under internal"])
def test_an_unfinished_last_sentence_is_read_without_an_error(hear, said):
    assert hear("caution", "customer says it stalls", said) == []

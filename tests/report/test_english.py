"""Grammar, held against lemminflect (past tense) and inflect (plurals, articles)."""

import inflect
import lemminflect
import pytest

from jobnotes.report.english import (
    a,
    as_advice,
    clean,
    is_plural,
    joined,
    past,
    rules,
    sentence,
    state_of,
    the,
)

REGULAR = [
    "replace",
    "clean",
    "adjust",
    "test",
    "inspect",
    "drain",
    "install",
    "remove",
    "disconnect",
    "tighten",
    "loosen",
    "lubricate",
    "charge",
    "flush",
    "fill",
    "solder",
    "splice",
    "straighten",
    "sharpen",
    "balance",
    "align",
    "measure",
    "scrape",
    "file",
    "hone",
    "thread",
    "carry",
    "dry",
    "empty",
    "verify",
    "apply",
    "modify",
    "identify",
    "dismantle",
    "bypass",
    "calibrate",
    "cover",
    "seal",
]
BRITISH = {"fit": "fitted", "refit": "refitted"}  # American "fit" is not our spelling


@pytest.mark.parametrize("verb", REGULAR)
def test_regular_verbs_form_the_past_tense_as_the_reference_does(verb):
    assert past(verb) in lemminflect.getInflection(verb, "VBD")


def test_irregular_verbs_form_the_past_tense_as_the_reference_does():
    listed = rules("english")["past"]
    wrong = [
        verb
        for verb in listed
        if past(verb) not in (*lemminflect.getInflection(verb, "VBD"), BRITISH.get(verb))
    ]
    assert wrong == []


DOUBLING = [
    "swap",
    "strip",
    "cap",
    "trim",
    "shim",
    "grip",
    "snap",
    "plug",
    "tap",
    "fix",
    "tow",
    "heat",
]


@pytest.mark.parametrize("verb", DOUBLING)
def test_a_short_verb_doubles_its_last_letter_where_the_reference_does(verb):
    assert past(verb) in lemminflect.getInflection(verb, "VBD")


def test_a_verb_with_a_particle_changes_its_first_word():
    assert past("take off") == "took off"


def test_a_verb_of_two_words_changes_its_last_word():
    assert past("pressure test") == "pressure tested"


def test_a_prefix_keeps_the_irregular_form():
    assert past("unwind") == "unwound"


@pytest.mark.parametrize(
    "noun",
    [
        "belt",
        "valve",
        "bearing",
        "brush",
        "pulley",
        "glass",
        "bus",
        "lens",
        "chassis",
        "gas",
        "fuse",
        "housing",
        "piston",
    ],
)
def test_one_thing_is_singular_and_its_plural_is_plural(noun):
    many = inflect.engine().plural(noun)
    assert not is_plural(noun)
    assert many == noun or is_plural(many)


def test_two_things_joined_are_plural():
    assert is_plural("piston and ring")


def test_numbers_behind_a_noun_do_not_hide_its_plural():
    assert is_plural("inlet valves one and two")


def test_what_follows_a_preposition_does_not_make_a_plural():
    assert not is_plural("gap between the contacts")


@pytest.mark.parametrize(
    "noun",
    [
        "orange wire",
        "black wire",
        "hour meter",
        "one-way valve",
        "used part",
        "uniform gap",
        "eight-pin plug",
        "unused wire",
    ],
)
def test_the_indefinite_article_is_that_of_the_reference(noun):
    assert a(noun) == inflect.engine().a(noun)


def test_a_name_with_a_determiner_takes_no_article():
    assert the("both pads") == "both pads"
    assert the("pad") == "the pad"


@pytest.mark.parametrize(
    ("what", "state", "negated", "said"),
    [
        ("fuel line", "cracked", False, "the fuel line was cracked"),
        ("coil legs", "rusty", False, "the coil legs were rusty"),
        ("keyway", "sheared", True, "the keyway was not sheared"),
        ("plungers", "scoring", True, "the plungers had no scoring"),
        ("gasket", "a small leak", False, "the gasket had a small leak"),
        ("seat", "has a chip", False, "the seat had a chip"),
        ("pump", "leaks at the seal", False, "the pump leaked at the seal"),
        ("bearing", "a bit rough", False, "the bearing was a bit rough"),
        ("tank", "no good", False, "the tank was no good"),
        ("screen", "plugged with grit", False, "the screen was plugged with grit"),
        ("valve", "chipped seat", False, "valve: chipped seat"),
        ("cell", "collapses under load", False, "the cell collapsed under load"),
        ("feeler", "won't go in", True, "the feeler would not go in"),
        ("tines", "none broken", True, "tines: none broken"),
    ],
)
def test_a_state_becomes_a_clause_that_agrees(what, state, negated, said):
    assert state_of(what, state, negated=negated) == said


def test_lists_end_in_and():
    assert joined(["a"]) == "a"
    assert joined(["a", "b", "c"]) == "a, b and c"


def test_fillers_and_stutters_are_cleaned():
    assert clean("uh the the seal is, um, split") == "the seal is, split"


def test_a_repeated_digit_is_kept():
    assert clean("part four four two") == "part four four two"


def test_shouting_is_calmed_and_codes_are_kept():
    assert clean("THE SEAL IS SPLIT") == "the seal is split"
    assert clean("the LB seal, CDI box") == "the LB seal, CDI box"


def test_control_and_direction_characters_are_dropped():
    assert clean("a\x00b\u202ec\x1b[0m\nd") == "abc[0m d"


def test_a_sentence_has_a_capital_and_one_stop():
    assert sentence("runs clean.") == "Runs clean."
    assert sentence("runs clean") == "Runs clean."
    assert sentence("um") == ""


@pytest.mark.parametrize(
    ("state", "negated", "clause"),
    [
        ("growls when it is hot", False, "the bearing growled when it is hot"),
        ("died after a minute", False, "the bearing died after a minute"),
        ("doesn't turn", True, "the bearing didn't turn"),
        ("won't free off", True, "the bearing would not free off"),
        ("seized", False, "the bearing was seized"),
    ],
)
def test_a_state_that_is_a_clause_keeps_its_own_verb(
    state: str, negated: bool, clause: str
) -> None:
    assert state_of("bearing", state, negated=negated) == clause


@pytest.mark.parametrize(
    ("said", "advice"),
    [
        ("cleaning the filter and checking the oil", "clean the filter and check the oil"),
        ("replace the tyre", "replace the tyre"),
        ("spring cleaning", "spring cleaning"),
    ],
)
def test_advice_is_given_as_what_to_do(said: str, advice: str) -> None:
    assert as_advice(said) == advice


@pytest.mark.parametrize(
    ("what", "state", "clause"),
    [
        ("spark", "none", "there was no spark"),
        ("switch", "not the cause", "the switch was not the cause"),
        ("inlet valves", "aren't worn", "the inlet valves were not worn"),
        ("rod", "isn't bent", "the rod was not bent"),
        ("seal", "hasn't perished", "the seal had not perished"),
        ("belts", "weren't slipping", "the belts were not slipping"),
    ],
)
def test_what_is_not_there_or_not_so_is_said_in_a_sentence(what, state, clause) -> None:
    assert state_of(what, state, negated=True) == clause

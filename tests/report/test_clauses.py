"""Dictated stretches in sentences: whatever they are, the sentence stands."""

import pytest

from jobnotes.report.clauses import cause, choice, kind, reason, with_subject


@pytest.mark.parametrize(
    ("text", "is_a"),
    [
        ("the belt slipped because the spring had stretched", "clause"),
        ("it's running lean", "clause"),
        ("the bladder ain't leaking", "clause"),
        ("an ignition coil that breaks down when it gets hot", "phrase"),
        ("a cracked coil", "phrase"),
        ("a badly worn brush", "phrase"),
        ("the float needle sticking open", "phrase"),
        ("water in the fuel", "unsure"),
        ("the idler spring snapped", "unsure"),
        ("", "unsure"),
    ],
)
def test_a_clause_is_told_from_a_phrase_where_it_can_be(text, is_a):
    assert kind(text) == is_a


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("an ignition coil that breaks down", "The cause was an ignition coil that breaks down"),
        ("the belt slipped", "The belt slipped"),
        ("so it was the, the float", "It was the float"),
        ("water in the fuel", "This is what went wrong: water in the fuel"),
    ],
)
def test_a_cause_is_a_whole_sentence(text, said):
    assert cause(text) == said


@pytest.mark.parametrize(
    ("why", "said"),
    [
        ("it is safer", ", because it is safer"),
        ("because the shaft was scored", ", because the shaft was scored"),
        ("the price", ", because of the price"),
        ("corrosion", ". The reason: corrosion"),
        ("", ""),
    ],
)
def test_a_reason_follows_the_choice(why, said):
    assert reason(why) == said


@pytest.mark.parametrize(
    ("chosen", "said"),
    [
        ("a new pump", "We chose a new pump"),
        ("replace both", "We chose to replace both"),
        ("he didn't want a new belt", "He didn't want a new belt"),
        ("genuine parts", "Our choice: genuine parts"),
    ],
)
def test_a_choice_is_a_whole_sentence(chosen, said):
    assert choice(chosen) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Ran it forty minutes", "we ran it forty minutes"),
        ("Started first pull", "it started first pull"),
        ("It restarts hot", "It restarts hot"),
        ("Picks up cleanly", "it picks up cleanly"),
        ("Blades dead still", "Blades dead still"),
        ("Ran", "Ran"),
    ],
)
def test_what_starts_with_its_verb_gets_a_subject(text, said):
    assert with_subject(text) == said

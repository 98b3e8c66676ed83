import pytest
from heard import heard

from jobnotes.record import Part, Reading, Withdrawn


def kept(*lines):
    return [str(reading.value) for reading in heard(Reading, *lines)]


def gone(*lines):
    return [str(fact.value) for fact in heard(Withdrawn, *lines)]


@pytest.mark.parametrize(
    "cue",
    [
        "no wait",
        "no",
        "sorry",
        "scratch that",
        "correction",
        "make that",
        "I mean",
        "hang on",
        "no hang on",
        "strike that",
        "actually",
        "or rather",
        "no let me look again",
        "my mistake",
    ],
)
def test_a_figure_corrected_at_once_is_gone(cue):
    said = f"battery voltage twelve point nine volts, {cue}, eleven point six"
    assert kept(said) == ["11.6"]
    assert gone(said) == ["12.9"]


@pytest.mark.parametrize(
    "line",
    [
        "make that eleven point six",
        "correction, eleven point six",
        "sorry, eleven point six",
        "no, eleven point six",
        "that twelve point nine I said earlier, make it eleven point six",
        "I said twelve point nine, that's wrong, it was eleven point six",
        "correction on that battery voltage, it's eleven point six",
    ],
)
def test_a_figure_corrected_in_a_later_breath_is_gone(line):
    said = ("battery voltage twelve point nine volts", line)
    assert kept(*said) == ["11.6"]
    assert gone(*said) == ["12.9"]


def test_a_correction_further_on_finds_its_figure():
    said = (
        "battery voltage twelve point nine volts",
        "plug gap thirty thou",
        "that twelve point nine I gave you, make it eleven point six",
    )
    assert kept(*said) == ["30", "11.6"]


def test_the_new_figure_keeps_the_old_ones_unit_and_name():
    found = heard(Reading, "hub nut torqued to eighty foot pounds, no, ninety")[0]
    assert (found.unit, found.what) == ("ft.lbf", "hub nut torque")


def test_the_old_figure_gets_the_unit_said_with_the_new_one():
    assert heard(Withdrawn, "torqued to eight, no wait, eleven newton metres")[0].unit == "N.m"


def test_a_correction_may_be_corrected():
    assert kept("plug gap twenty, no thirty, no thirty-five thou") == ["35"]


def test_a_figure_erased_leaves_nothing():
    said = ("brake pad thickness three millimetres", "scratch that last reading")
    assert kept(*said) == []
    assert gone(*said) == ["3"]


def test_not_this_but_that():
    said = "hub nut torque one forty foot pounds, not one forty, one twenty"
    assert kept(said) == ["120"]


def test_the_cue_may_come_after_the_better_figure():
    assert kept("idle is nine hundred, nine fifty actually") == ["950"]


@pytest.mark.parametrize(
    ("line", "count"),
    [
        ("eighteen thou of play on the left, no play on the right", 1),
        ("output ninety volts, no load", 1),
        ("compression ninety psi, no leaks", 1),
        ("gap thirty thou, wait ten minutes", 1),
    ],
)
def test_no_that_takes_nothing_back(line, count):
    assert len(kept(line)) == count
    assert gone(line) == []


def test_a_part_number_corrected_in_the_next_breath_is_gone():
    said = ("belt is w b dash two two", "no, that's w b dash two three")
    assert [part.number for part in heard(Part, *said)] == ["WB-23"]
    assert [fact.text for fact in heard(Withdrawn, *said)] == ["WB-22"]


def test_the_evidence_holds_the_words_taken_back_and_the_cue():
    fact = heard(Withdrawn, "plug gap twenty thou, scratch that, thirty")[0]
    assert [evidence.text for evidence in fact.evidence] == ["twenty thou,", "scratch that,"]

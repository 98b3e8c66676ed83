from math import inf

import pytest

from jobnotes.record import Word
from jobnotes.speech.engine import Said
from jobnotes.speech.second import doubted

SAID = "against the stop twenty-four H.E. and no more"


def words(text: str, probability: float = 0.95) -> list[Word]:
    return [
        Word(recording="", index=n, text=t, start_s=n, end_s=n + 0.5, probability=probability)
        for n, t in enumerate(text.split())
    ]


def said(text: str, probability: float = 0.95, margin: float = inf) -> list[Said]:
    return [Said(word, probability, margin) for word in text.split()]


FIFTY_IN_FIGURES = said("draws 50 amps"), said("draws fifteen amps")


def flagged(
    ours: str, figures: str, other: str | None = None, probability: float = 0.95
) -> list[str]:
    also = said(ours if other is None else other, probability)
    heard = doubted(words(ours, probability), said(figures, probability), also)
    return [word.text for word in heard if word.flags]


def test_hearings_that_agree_raise_no_doubt() -> None:
    ours = "Battery reads twelve point four volts, compression one hundred and ten psi."
    figures = "battery reads 12.4 volts compression 110 PSI"
    assert flagged(ours, figures, ours) == []


def test_a_number_heard_otherwise_in_figures_is_flagged() -> None:
    assert flagged("draws fifteen amps on the flat", "draws 50 amps on the flat") == ["fifteen"]


def test_a_number_heard_otherwise_by_the_second_listener_is_flagged() -> None:
    said = "draws fifteen amps on the flat"
    assert flagged(said, "draws 15 amps on the flat", "draws fifty amps on the flat") == ["fifteen"]


def test_both_readings_are_named() -> None:
    (_, word, *_) = doubted(words("draws fifteen amps"), *FIFTY_IN_FIGURES)
    (flag,) = word.flags
    assert (flag.by, flag.code, flag.options) == ("speech", "heard-two-ways", ("fifteen", "50"))


def test_a_word_where_the_figures_have_a_number_is_flagged() -> None:
    assert flagged("set it to for turns out", "set it to 4 turns out") == ["for"]


def test_a_number_that_the_other_hearing_leaves_out_is_flagged() -> None:
    assert flagged("torqued to nine and checked", "torqued to and checked") == ["nine"]


def test_a_number_where_the_second_listener_hears_nothing_is_flagged() -> None:
    assert flagged("draws nine amps", "draws 9 amps", "") == ["nine"]


def test_a_number_that_only_the_other_hearing_has_flags_the_word_before() -> None:
    assert flagged("torqued and checked", "torqued 9 and checked") == ["torqued"]


def test_other_words_may_differ_without_a_flag() -> None:
    assert flagged("stator reads nine ohms", "status reads 9 owns") == []


def test_a_part_number_agrees_however_it_is_written() -> None:
    assert flagged("number tk four one dash one seven two", "number TK41-172") == []


def test_thousandths_written_as_thousands_are_no_doubt() -> None:
    assert flagged("gap is ten thousandths of an inch", "gap is 10,000ths of an inch") == []


def test_a_number_of_low_probability_is_flagged() -> None:
    low = said("reads 9 volts", 0.2), said("reads nine volts", 0.2)
    heard = doubted(words("reads nine volts", 0.2), *low)
    assert [flag.code for word in heard for flag in word.flags] == ["unsure-number"]


def test_a_number_gets_the_highest_of_its_probabilities() -> None:
    others = said("reads 9 volts", 0.9), said("reads nine volts", 0.1)
    heard = doubted(words("reads nine volts", 0.2), *others)
    assert [word.probability for word in heard] == [0.2, 0.9, 0.2]


@pytest.mark.parametrize(
    ("ours", "written", "other"),
    [
        ("fifteen", "15", "fifty"),
        ("fifty", "50", "fifteen"),
        ("thirty-nine", "39", "thirteen"),
        ("one thirteen", "113", "thirty"),
    ],
)
def test_a_teen_hardly_told_from_its_ten_names_it(ours: str, written: str, other: str) -> None:
    near = said(f"draws {written} amps", margin=0.5), said(f"draws {ours} amps", margin=0.5)
    heard = doubted(words(f"draws {ours} amps"), *near)
    (flag,) = heard[1].flags
    assert flag.options == (ours, other)


def test_a_teen_clearly_told_from_its_ten_is_no_doubt() -> None:
    clear = said("draws 15 amps", margin=6.0), said("draws fifteen amps", margin=6.0)
    heard = doubted(words("draws fifteen amps"), *clear)
    assert [word for word in heard if word.flags] == []


def test_a_number_beside_a_word_not_understood_is_flagged() -> None:
    clear = [word.having(end_s=word.start_s + 0.9) for word in words(SAID, 0.85)]
    mumbled = [w.having(probability=0.1) if w.text == "H.E." else w for w in clear]
    others = said(SAID.replace("twenty-four", "24"), 0.85), said(SAID, 0.85)
    assert not [word for word in doubted(clear, *others) if word.flags]
    assert [w.text for w in doubted(mumbled, *others) if w.flags] == ["twenty-four"]


def test_six_to_five_may_have_been_sixty_five() -> None:
    assert flagged("nut six to five foot pounds", "nut 6 to 5 foot pounds") == ["six", "to", "five"]


def test_a_rising_range_is_left_alone() -> None:
    assert flagged("book says six to nine foot pounds", "book says 6 to 9 foot pounds") == []


def test_no_words_and_a_number_in_the_other_hearing_is_no_error() -> None:
    assert doubted([], said("5"), said("")) == []


@pytest.mark.parametrize(
    ("ours", "figures"),
    [
        ("runs thirty to sixty four amps", "runs 30-64 amps"),
        ("top one forty eight bottom one forty six", "top bottom 148.146"),
        ("gap is three sixteenths of an inch", "gap is 316th of an inch"),
        ("gap is a sixteenth of an inch", "gap is a 16th of an inch"),
        ("slack five eighths of an inch", "slack 5.8 of an inch"),
        ("lash is point one oh millimetres", "lash is point 1.0 millimetres"),
    ],
)
def test_figures_that_the_models_join_or_write_in_their_own_way_are_no_doubt(
    ours: str, figures: str
) -> None:
    assert flagged(ours, figures) == []


def test_a_number_run_together_with_another_of_other_figures_is_flagged() -> None:
    assert flagged("runs sixty to five amps", "runs 65 amps") == ["sixty", "five"]


def test_words_keep_their_text_and_seconds() -> None:
    ours = words("draws fifteen amps")
    heard = doubted(ours, said("draws 50 amps"), said("draws fifty amps"))
    kept = [(word.text, word.start_s, word.end_s) for word in heard]
    assert kept == [(word.text, word.start_s, word.end_s) for word in ours]

import pytest

from jobnotes.record import Word
from jobnotes.speech.second import doubted


def words(text: str, probability: float = 0.95) -> list[Word]:
    return [
        Word(recording="", index=n, text=t, start_s=n, end_s=n + 0.5, probability=probability)
        for n, t in enumerate(text.split())
    ]


def flagged(ours: str, figures: str, other: str = "", probability: float = 0.95) -> list[str]:
    heard = doubted(words(ours), words(figures, probability), words(other))
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
    (_, word, *_) = doubted(words("draws fifteen amps"), words("draws 50 amps"))
    (flag,) = word.flags
    assert (flag.by, flag.code, flag.options) == ("speech", "heard-two-ways", ("fifteen", "50"))


def test_a_word_where_the_figures_have_a_number_is_flagged() -> None:
    assert flagged("set it to for turns out", "set it to 4 turns out") == ["for"]


def test_a_number_that_the_other_hearing_leaves_out_is_flagged() -> None:
    assert flagged("torqued to nine and checked", "torqued to and checked") == ["nine"]


def test_a_number_that_only_the_other_hearing_has_flags_the_word_before() -> None:
    assert flagged("torqued and checked", "torqued 9 and checked") == ["torqued"]


def test_other_words_may_differ_without_a_flag() -> None:
    assert flagged("stator reads nine ohms", "status reads 9 owns") == []


def test_a_part_number_agrees_however_it_is_written() -> None:
    assert flagged("number tk four one dash one seven two", "number TK41-172") == []


def test_thousandths_written_as_thousands_are_no_doubt() -> None:
    assert flagged("gap is ten thousandths of an inch", "gap is 10,000ths of an inch") == []


def test_a_number_of_low_probability_is_flagged() -> None:
    heard = doubted(words("reads nine volts", 0.2), words("reads 9 volts", 0.2))
    assert [flag.code for word in heard for flag in word.flags] == ["unsure-number"]


def test_a_number_gets_the_higher_of_its_two_probabilities() -> None:
    heard = doubted(words("reads nine volts", 0.2), words("reads 9 volts", 0.9))
    assert [word.probability for word in heard] == [0.2, 0.9, 0.2]


@pytest.mark.parametrize(("said", "written"), [("fifteen", "15"), ("fifty", "50")])
def test_a_teen_that_is_not_quite_sure_names_its_double(said: str, written: str) -> None:
    heard = doubted(words(f"draws {said} amps", 0.8), words(f"draws {written} amps", 0.8))
    (flag,) = heard[1].flags
    assert set(flag.options) == {"fifteen", "fifty"}


def test_six_to_five_may_have_been_sixty_five() -> None:
    assert flagged("nut six to five foot pounds", "nut 6 to 5 foot pounds") == ["six", "to", "five"]


def test_a_rising_range_is_left_alone() -> None:
    assert flagged("book says six to nine foot pounds", "book says 6 to 9 foot pounds") == []


def test_no_words_and_a_number_in_the_other_hearing_is_no_error() -> None:
    assert doubted([], words("5")) == []


def test_words_keep_their_text_and_seconds() -> None:
    said = words("draws fifteen amps")
    heard = doubted(said, words("draws 50 amps"), words("draws fifty amps"))
    kept = [(word.text, word.start_s, word.end_s) for word in heard]
    assert kept == [(word.text, word.start_s, word.end_s) for word in said]

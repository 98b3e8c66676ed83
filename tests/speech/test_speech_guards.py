from jobnotes.record import Word
from jobnotes.speech.engine import Stretch
from jobnotes.speech.guards import loop_in, uncovered


def words(text: str) -> list[Word]:
    return [
        Word(recording="", index=n, text=t, start_s=0.4 * n, end_s=0.4 * n + 0.3)
        for n, t in enumerate(text.split())
    ]


def test_a_phrase_over_and_over_is_a_loop() -> None:
    assert loop_in(words("the coil " + "and the plug, " * 5 + "is new")) == (2, 3, 17)


def test_one_word_over_and_over_is_a_loop() -> None:
    assert loop_in(words("reads " + "no " * 7)) == (1, 1, 8)


def test_a_part_number_of_equal_figures_is_no_loop() -> None:
    assert loop_in(words("number four four four four dash two two two")) is None


def test_plain_speech_is_no_loop() -> None:
    assert loop_in(words("turn it off and on, off and on, and off again")) is None


def test_a_stretch_without_words_is_uncovered() -> None:
    stretches = [Stretch(0.0, 2.0), Stretch(5.0, 7.0)]
    assert uncovered(stretches, words("the coil is cracked through")) == [Stretch(5.0, 7.0)]


def test_a_long_stretch_with_a_word_or_two_is_uncovered() -> None:
    assert uncovered([Stretch(0.0, 6.0)], words("the coil")) == [Stretch(0.0, 6.0)]


def test_slow_spelling_is_covered() -> None:
    assert uncovered([Stretch(0.0, 6.0)], words("four one dash seven two")) == []


def test_a_knock_needs_no_words() -> None:
    assert uncovered([Stretch(9.0, 9.3)], []) == []


def test_a_word_placed_in_the_next_stretch_of_the_same_breath_covers_it() -> None:
    stretches = [Stretch(0.0, 0.6), Stretch(0.8, 1.4), Stretch(1.6, 2.2)]
    assert uncovered(stretches, words("four five six")[:2]) == []

from jobnotes.live.cutting import cut_at, silent_from
from jobnotes.speech.engine import Stretch


def test_speech_is_cut_in_the_middle_of_its_last_pause():
    assert cut_at([Stretch(1, 3), Stretch(4, 6)], 6.1) == 3.5


def test_the_end_of_speech_counts_as_a_pause_once_it_lasts():
    assert cut_at([Stretch(1, 3)], 3.4) == 0
    assert cut_at([Stretch(1, 3)], 4.0) == 3.5


def test_a_short_stop_within_a_phrase_cuts_nothing():
    assert cut_at([Stretch(1, 3), Stretch(3.3, 6)], 6.1) == 0


def test_half_a_minute_without_a_pause_is_cut_at_the_longest_stop():
    assert cut_at([Stretch(0, 9), Stretch(9.4, 20), Stretch(20.1, 29)], 29) == 9.2


def test_silence_is_never_cut_and_only_its_end_is_kept():
    assert cut_at([], 60) == 0
    assert silent_from([], 60) == 59.5


def test_a_soft_beginning_is_kept_with_the_speech():
    assert silent_from([Stretch(10, 12)], 12) == 9.5

import pytest

from jobnotes.record import Word
from jobnotes.speech.engine import Said
from jobnotes.speech.meant import with_meaning


def meant(heard: str, other: str, ours: float = 0.3, theirs: float = 0.7) -> list[str]:
    words = [
        Word(recording="", index=n, text=text, start_s=n, end_s=n + 0.5, probability=ours)
        for n, text in enumerate(heard.split())
    ]
    opinion = [Said(text, theirs) for text in other.split()]
    return [word.meant for word in with_meaning(words, opinion) if word.meant]


@pytest.mark.parametrize(
    ("heard", "other", "word"),
    [
        ("the Impellor, is worn", "the impeller is worn", "impeller"),
        ("new bairings fitted", "new bearings fitted", "bearings"),
        ("rear axel bent", "rear axle bent", "axle"),
    ],
)
def test_a_trade_word_of_another_hearing_is_meant(heard: str, other: str, word: str) -> None:
    assert meant(heard, other) == [word]


def test_a_word_heard_surely_is_left_alone() -> None:
    assert meant("new bairings fitted", "new bearings fitted", ours=0.9, theirs=0.95) == []


def test_a_less_sure_hearing_changes_nothing() -> None:
    assert meant("new bairings fitted", "new bearings fitted", ours=0.6, theirs=0.4) == []


def test_a_trade_word_is_never_taken_for_another() -> None:
    assert meant("new springs fitted", "new strings fitted") == []


def test_a_word_that_sounds_otherwise_is_left_alone() -> None:
    assert meant("used emery cloth", "used number cloth") == []


def test_words_keep_their_text() -> None:
    heard = [Word(recording="", index=0, text="bairings", start_s=0, end_s=1, probability=0.3)]
    (word,) = with_meaning(heard, [Said("bearings", 0.8)])
    assert (word.text, word.meant) == ("bairings", "bearings")

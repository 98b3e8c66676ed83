from datetime import UTC, datetime

import pytest

from jobnotes import pipeline
from jobnotes.live.understanding import News, Understanding
from jobnotes.record import Job, Private, Reading, Withdrawn
from jobnotes.speech.canned import CannedRecogniser


@pytest.fixture
def understanding() -> Understanding:
    stages = pipeline.later_stages()
    job = Job(id="2026-0001", created_at=datetime(2026, 3, 14, tzinfo=UTC))
    return Understanding(job, lambda said: pipeline.run(said, stages))


def say(understanding: Understanding, text: str, at_s: float) -> News:
    """Let the job hear a line at some second."""
    return understanding.hear(CannedRecogniser.saying(text).hear(None), at_s)


def test_a_reading_is_news_once(understanding):
    first = say(understanding, "Battery reads thirteen six volts.", 0)
    second = say(understanding, "It starts now.", 5)
    (reading,) = first.facts
    assert isinstance(reading, Reading)
    assert reading.as_said == "13.6"
    assert second.facts == ()


def test_a_figure_that_is_corrected_by_voice_is_shown_as_corrected(understanding):
    say(understanding, "Battery reads thirteen six volts.", 0)
    news = say(understanding, "No, make that twelve six.", 5)
    assert [f.as_said for f in news.facts if isinstance(f, Reading)] == ["12.6"]
    assert [str(f.value) for f in news.facts if isinstance(f, Withdrawn)] == ["13.6"]
    assert [f.as_said for f in news.gone] == ["13.6"]


def test_a_reading_in_doubt_is_shown_with_its_flag(understanding):
    (reading,) = say(understanding, "Air gap is two hundred inches.", 0).facts
    assert reading.open_flags


def test_a_private_remark_is_shown_as_such(understanding):
    news = say(understanding, "Off the record, he ran it dry.", 0)
    assert [type(fact) for fact in news.facts] == [Private]


def test_a_spoken_photo_mark_is_shown_with_what_it_names(understanding):
    say(understanding, "Photo of the scored piston.", 0)
    assert say(understanding, "Photo of the belt guard.", 5).photos == ("the belt guard",)


def test_words_keep_their_second_of_the_dictation(understanding):
    say(understanding, "Battery reads thirteen six volts.", 0)
    say(understanding, "It starts now.", 61.5)
    assert [word.start_s for word in understanding.job.words if word.text == "It"] == [61.5]

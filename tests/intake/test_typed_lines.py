from datetime import UTC, datetime

import pytest

from jobnotes.errors import EmptyFileError
from jobnotes.intake.typed import typed
from jobnotes.record import Job

EMPTY = Job(id="2026-0001", created_at=datetime(2026, 9, 17, 8, tzinfo=UTC))


def said(job: Job) -> list[str]:
    return [
        " ".join(w.text for w in job.words_of(u.recording)[u.first : u.last + 1])
        for u in job.utterances
    ]


def test_each_line_is_an_utterance() -> None:
    assert said(typed(EMPTY, "pump hums\nseal is torn\n")) == ["pump hums", "seal is torn"]


def test_empty_lines_are_passed_over() -> None:
    assert said(typed(EMPTY, "\n  \npump hums\n\n\nseal is torn")) == ["pump hums", "seal is torn"]


def test_words_are_split_at_white_space_and_left_as_typed() -> None:
    assert [w.text for w in typed(EMPTY, " 12.4V,\tre-set  it!").words] == [
        "12.4V,",
        "re-set",
        "it!",
    ]


def test_words_and_utterances_count_from_nought_within_their_recording() -> None:
    job = typed(typed(EMPTY, "one two\nthree"), "four five")
    assert [(w.recording, w.index) for w in job.words[3:]] == [("r2", 0), ("r2", 1)]
    assert [(u.recording, u.index, u.first, u.last) for u in job.utterances] == [
        ("r1", 0, 0, 1),
        ("r1", 1, 2, 2),
        ("r2", 0, 0, 1),
    ]


def test_typed_words_claim_no_seconds() -> None:
    job = typed(EMPTY, "one two three")
    assert {(w.start_s, w.end_s) for w in job.words} == {(0.0, 0.0)}
    assert job.recordings[0].duration_s == 0.0


def test_typed_lines_are_a_recording_without_an_original() -> None:
    recording = typed(EMPTY, "one").recordings[0]
    assert (recording.format, recording.sha256) == ("text", "")


@pytest.mark.parametrize("text", ["", " \n\t\n"])
def test_a_text_without_words_is_refused(text: str) -> None:
    with pytest.raises(EmptyFileError, match="no word"):
        typed(EMPTY, text)

from datetime import UTC, datetime
from io import StringIO

from rich.console import Console

from jobnotes import pipeline
from jobnotes.live.screen import show
from jobnotes.live.understanding import Understanding
from jobnotes.record import Flag, Job, Word
from jobnotes.speech.engine import NOT_CHECKED, Heard

UNSURE = Flag(by="speech", code="unsure-number", why="It could be 'thirteen'.")


def shown(*flags: Flag) -> str:
    """Return what the screen shows of a reading whose number carries flags."""
    stages = pipeline.later_stages()
    job = Job(id="2026-0001", created_at=datetime(2026, 3, 14, tzinfo=UTC))
    said = ["battery", "reads", "twelve", "volts"]
    words = [
        Word(recording="", index=n, text=word, start_s=n / 2, end_s=n / 2 + 0.4)
        for n, word in enumerate(said)
    ]
    words[2] = words[2].having(flags=flags)
    news = Understanding(job, lambda one: pipeline.run(one, stages)).hear(Heard(tuple(words)), 0.0)
    console = Console(file=StringIO(), width=90)
    show(console, news)
    return console.file.getvalue()


def test_a_figure_that_was_heard_once_is_marked_as_not_checked():
    told = shown(NOT_CHECKED)
    assert "12" in told
    assert "not checked yet" in told
    assert "!" not in told


def test_a_doubt_is_told_in_its_own_words():
    assert "! It could be 'thirteen'." in shown(UNSURE)


def test_a_figure_without_a_doubt_has_no_mark():
    told = shown()
    assert "12" in told
    assert "not checked" not in told

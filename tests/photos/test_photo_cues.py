from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobnotes.extract.talk import talk_of
from jobnotes.intake.typed import typed
from jobnotes.photos.cues import cues
from jobnotes.record import Audience, Finding, Flag, Job, State

EMPTY = Job(id="2026-0001", created_at=datetime(2026, 9, 17, 8, tzinfo=UTC))


def job_of(*lines: str) -> Job:
    return typed(EMPTY, "\n".join(lines))


def captions(job: Job) -> list[str]:
    return [cue.said.caption if cue.said else "" for cue in cues(talk_of(job))]


def finding(job: Job, first: int, last: int, what: str, found: str, **fields: object) -> Job:
    words = job.words[first : last + 1]
    evidence = {
        "recording": "r1",
        "first": first,
        "last": last,
        "start_s": 0.0,
        "end_s": 0.0,
        "text": " ".join(word.text for word in words),
    }
    fact = Finding.model_validate(
        {"id": "f1", "what": what, "state_found": found, "evidence": (evidence,), **fields}
    )
    return job.having(facts=(fact,))


@pytest.mark.parametrize(
    ("line", "caption"),
    [
        ("photo of the scored piston", "the scored piston"),
        ("Photo of the torn diaphragm.", "the torn diaphragm"),
        ("picture of that burnt terminal", "the burnt terminal"),
        ("taking a photo of the seal now", "the seal"),
        ("here's a shot of the gear case with the cover off", "the gear case with the cover off"),
        ("grabbing a quick pic of the rating plate", "the rating plate"),
        ("got a snap of the corroded connector", "the corroded connector"),
        ("photographed the cracked housing", "the cracked housing"),
        ("photo showing the melted socket", "the melted socket"),
        ("took a picture of the piston and rings before I washed them", "the piston and rings"),
        ("photos of both brushes, they're worn", "both brushes"),
        ("a close up photo, please, of nothing", ""),
        ("picture of the old one and the new one", "the old one and the new one"),
        ("photo of the reed valve so the customer can see it", "the reed valve"),
        ("photo of the stator and then I'll pull it", "the stator"),
        ("one more photo of a chipped tooth", "a chipped tooth"),
        ("photo of the, um, throttle shaft", "the throttle shaft"),
        ("photo of where the hose rubbed", ""),
    ],
)
def test_a_spoken_mark_says_what_the_photo_shows(line: str, caption: str) -> None:
    assert captions(job_of(line)) == [caption]


@pytest.mark.parametrize(
    "line",
    [
        "gave the hinge a shot of grease",
        "a shot of starting fluid and it fires",
        "this bearing is shot",
        "you get the picture",
        "that's the whole picture",
        "no photo of that one",
        "I didn't get a photo of the seal",
        "customer sent a photo of the leak",
        "I'll take a photo of that tomorrow",
        "as you can see in the photo",
        "it needs a picture of the label",
        "forgot to take a picture of the wiring",
        "snap ring is out",
        "the photograph on the manual is wrong",
    ],
)
def test_other_talk_of_pictures_is_no_mark(line: str) -> None:
    assert captions(job_of(line)) == []


@pytest.mark.parametrize(
    ("line", "caption"),
    [
        ("photo of the meter at twelve point four volts", "the meter"),
        ("photo of the meter reading twelve four", "the meter"),
        ("photo of the gauge at 95 psi", "the gauge"),
        ("photo of the two bent pins", "the bent pins"),
        ("photo of number three injector", "the injector"),
        ("photo of the six volt lamp", "the lamp"),
        ("photo of the float RX-7, point two", "the float"),
        ("photo of the 12v", ""),
        ("photo of half the gasket", "the gasket"),
        ("photo of the new regulator Q R one seven dash four", "the new regulator"),
    ],
)
def test_a_caption_holds_no_figure(line: str, caption: str) -> None:
    assert captions(job_of(line)) == [caption]


@pytest.mark.parametrize(
    "mark", ["photo of that", "picture of it", "photo please", "photo", "and a pic of this one too"]
)
def test_a_mark_that_names_nothing_shows_what_was_named_last(mark: str) -> None:
    assert captions(job_of("oil filter first", f"the impeller is worn, {mark}")) == ["the impeller"]


def test_what_was_named_in_the_breath_before_counts() -> None:
    assert captions(job_of("the impeller is worn", "photo of that")) == ["the impeller"]


def test_what_was_named_long_ago_does_not_count() -> None:
    lines = ["the impeller is worn", "well", "let me see", "coffee first", "photo of that"]
    assert captions(job_of(*lines)) == [""]


def test_what_was_named_in_a_private_remark_does_not_count() -> None:
    job = job_of("off the record, the impeller is junk", "back on the record", "photo of that")
    assert captions(job) == [""]


def test_a_finding_gives_the_caption_with_its_state() -> None:
    job = job_of("drive cup has rounded off, photo of that")
    said = cues(talk_of(finding(job, 0, 4, "drive cup", "rounded off")))[0].said
    assert said is not None
    assert said.caption == "the drive cup, rounded off"
    assert [evidence.text for evidence in said.evidence] == ["drive cup has rounded off,"]


def test_a_finding_of_something_absent_gives_no_state() -> None:
    job = job_of("no scoring on the liner, photo of that")
    assert captions(finding(job, 0, 4, "liner", "scored", negated=True)) == ["the liner"]


def test_the_figure_in_a_state_is_left_out() -> None:
    job = job_of("liner worn twelve thou, photo of that")
    assert captions(finding(job, 0, 3, "liner", "worn twelve thou")) == ["the liner"]


@pytest.mark.parametrize(
    "fields",
    [
        {"state": State.REJECTED},
        {"audience": Audience.OFFICE},
        {"flags": (Flag(by="checks", code="doubt", why="?"),)},
    ],
)
def test_a_finding_in_doubt_or_not_for_the_customer_gives_no_caption(
    fields: dict[str, object],
) -> None:
    job = finding(job_of("liner is scored, photo of that"), 0, 2, "liner", "scored", **fields)
    assert captions(job) == ["the liner"]


def test_there_may_be_several_marks_in_one_breath() -> None:
    job = job_of("photo of the rotor, photo of the stator, and a picture of the brushes")
    assert captions(job) == ["the rotor", "the stator", "the brushes"]


def test_a_job_without_words_has_no_marks() -> None:
    assert cues(talk_of(EMPTY)) == ()


SPEECH = """
photo picture of the that it two 12 12.4 volts dash seven point pump seal one and number scored
, . at reading 3/8 RX-7 new
"""
SPOKEN = st.sampled_from(SPEECH.split())


@settings(deadline=None, max_examples=500)
@given(words=st.lists(SPOKEN, min_size=1, max_size=14))
def test_no_caption_holds_a_figure_whatever_is_said(words: list[str]) -> None:
    said = " ".join(captions(job_of(" ".join(words))))
    assert not any(letter.isdigit() for letter in said)
    assert {"two", "seven"}.isdisjoint(said.split())


@settings(deadline=None, max_examples=200)
@given(text=st.text(min_size=1), again=st.text())
def test_any_text_can_be_looked_through_for_marks(text: str, again: str) -> None:
    job = job_of(f"photo of {text} photo {again}", "photo of that")
    assert all("\n" not in caption for caption in captions(job))

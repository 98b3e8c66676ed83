from datetime import UTC, datetime, timedelta, timezone

import pytest

from jobnotes.intake.typed import typed
from jobnotes.photos.match import place
from jobnotes.record import Flag, Job, Photo, Recording, Utterance, Word

ZONE = timezone(timedelta(hours=-5))
START = datetime(2026, 9, 17, 8, 0, 0, tzinfo=ZONE)
EMPTY = Job(id="2026-0001", created_at=START)
LINES = [
    (10, "belt cover is off"),
    (20, "photo of the frayed belt"),
    (60, "the tensioner spring is broken"),
    (66, "picture of that"),
    (130, "new belt is on"),
    (138, "photo of the new belt"),
]


def spoken(lines: list[tuple[float, str]], started_at: datetime | None = START) -> Job:
    """A job with one recording: each line begins at its second and takes 0.4 s a word."""
    words: list[Word] = []
    utterances: list[Utterance] = []
    for number, (begin, line) in enumerate(lines):
        first = len(words)
        for n, text in enumerate(line.split()):
            at = begin + 0.4 * n
            index = len(words)
            word = Word(recording="r1", index=index, text=text, start_s=at, end_s=at + 0.4)
            words.append(word)
        last = len(words) - 1
        utterances.append(Utterance(recording="r1", index=number, first=first, last=last))
    recording = Recording(
        id="r1", name="a.m4a", sha256="ab" * 32, format="m4a", started_at=started_at
    )
    return EMPTY.having(recordings=(recording,), words=tuple(words), utterances=tuple(utterances))


def photos(*moments: datetime | None) -> tuple[Photo, ...]:
    return tuple(
        Photo(
            id=f"p{n}",
            name=f"{n}.jpg",
            sha256=f"{n:064}",
            format="jpeg",
            width=40,
            height=30,
            taken_at=moment,
            zone_known=bool(moment and moment.tzinfo),
        )
        for n, moment in enumerate(moments, 1)
    )


def at(*seconds: float, ahead: float = 0.0) -> tuple[Photo, ...]:
    return photos(*(START + timedelta(seconds=second + ahead) for second in seconds))


def captions(job: Job) -> list[str]:
    return [photo.caption for photo in place(job).photos]


def doubts(job: Job) -> list[list[str]]:
    return [[flag.code for flag in photo.flags if flag.open] for photo in place(job).photos]


JOB = spoken(LINES)
SAID = ["the frayed belt", "the tensioner spring", "the new belt"]


@pytest.mark.parametrize("ahead", [0.0, 90.0, -300.0, 3600.0, -26_000_000.0])
def test_photos_are_placed_at_their_spoken_marks_whatever_the_clock_says(ahead: float) -> None:
    job = JOB.having(photos=at(24, 71, 143, ahead=ahead))
    assert captions(job) == SAID
    assert doubts(job) == [[], [], []]
    assert {photo.matched_by for photo in place(job).photos} == {"time and words"}


def test_photos_that_were_handed_in_out_of_order_are_placed_by_their_time() -> None:
    assert captions(JOB.having(photos=at(143, 24, 71))) == [SAID[2], SAID[0], SAID[1]]


def test_a_photo_without_a_zone_is_taken_to_be_in_that_of_the_others() -> None:
    zoned = at(24, 71, 143)
    without = zoned[1].taken_at.replace(tzinfo=None)  # type: ignore[union-attr]
    mixed = (zoned[0], zoned[1].having(taken_at=without, zone_known=False), zoned[2])
    assert captions(JOB.having(photos=mixed)) == SAID


def test_a_recording_in_utc_and_photos_with_a_zone_agree() -> None:
    job = spoken(LINES, START.astimezone(UTC))
    assert captions(job.having(photos=at(24, 71, 143))) == SAID


def test_a_mark_is_the_evidence_of_a_placed_photo() -> None:
    photo = place(JOB.having(photos=at(24, 71, 143))).photos[0]
    assert [evidence.text for evidence in photo.evidence] == ["photo of the frayed belt"]
    assert photo.evidence[0].start_s == 20.0


def test_what_a_pronoun_stands_for_is_evidence_too() -> None:
    photo = place(JOB.having(photos=at(24, 71, 143))).photos[1]
    assert [evidence.text for evidence in photo.evidence] == ["picture of that", "tensioner spring"]


def test_a_photo_that_nobody_spoke_of_stands_where_it_was_taken_and_is_flagged() -> None:
    job = JOB.having(photos=at(24, 61, 71, 143))
    assert captions(job) == [SAID[0], "the tensioner spring", SAID[1], SAID[2]]
    assert doubts(job) == [[], ["by-time"], [], []]
    assert place(job).photos[1].matched_by == "time"


def test_a_photo_far_from_all_speech_is_not_placed() -> None:
    job = JOB.having(photos=at(24, 71, 143, 2000))
    photo = place(job).photos[3]
    assert (photo.caption, photo.evidence, photo.matched_by) == ("", (), "")
    assert doubts(job)[3] == ["not-placed"]


def test_without_marks_photos_stand_where_they_were_taken() -> None:
    job = spoken([(10, "belt cover is off"), (60, "the tensioner spring is broken")])
    job = job.having(photos=at(12, 63))
    assert captions(job) == ["the belt cover", "the tensioner spring"]
    assert doubts(job) == [["by-time"], ["by-time"]]


def test_clocks_that_cannot_be_reconciled_are_said_to_be_so() -> None:
    job = JOB.having(photos=at(9_000, 9_500, 12_000, 40_000))
    assert captions(job) == [""] * 4
    assert doubts(job) == [["clock"]] * 4


def test_as_many_photos_without_a_time_as_marks_are_placed_in_their_order() -> None:
    job = JOB.having(photos=photos(None, None, None))
    assert captions(job) == SAID
    assert {photo.matched_by for photo in place(job).photos} == {"words"}
    assert doubts(job) == [["by-order"]] * 3


def test_other_than_as_many_photos_without_a_time_are_not_placed() -> None:
    job = JOB.having(photos=photos(None, None))
    assert captions(job) == ["", ""]
    assert doubts(job) == [["not-placed"]] * 2


def test_marks_that_were_typed_have_no_time_but_an_order() -> None:
    job = typed(EMPTY, "photo of the frayed belt\nphoto of the new belt")
    job = job.having(photos=at(50, 10))
    assert captions(job) == ["the new belt", "the frayed belt"]


def test_a_photo_taken_in_a_private_remark_has_no_caption_and_is_flagged() -> None:
    lines = [
        (20, "photo of the frayed belt"),
        (50, "off the record, photo of the mess he made"),
        (60, "back on the record"),
        (90, "photo of the new belt"),
    ]
    job = spoken(lines).having(photos=at(23, 54, 93))
    assert captions(job) == ["the frayed belt", "", "the new belt"]
    assert doubts(job) == [[], ["private"], []]
    evidence = place(job).photos[1].evidence
    assert evidence[0].text == "photo of the mess"


def test_a_photo_that_a_person_placed_stays_as_it_is() -> None:
    first, second, third = at(24, 71, 143)
    mine = second.having(caption="my words", matched_by="person", confidence=1.0)
    job = JOB.having(photos=(first, mine, third))
    assert place(job).photos[1] == mine
    assert captions(job) == [SAID[0], "my words", SAID[2]]


def test_placing_again_changes_nothing() -> None:
    once = place(JOB.having(photos=at(24, 61, 71, 143, 2000)))
    assert place(once) == once


def test_placing_again_after_more_was_said_replaces_what_was_proposed() -> None:
    before = spoken(LINES[:2]).having(photos=at(24, 71, 143))
    after = JOB.having(photos=place(before).photos)
    assert captions(after) == SAID
    assert doubts(after) == [[], [], []]


def test_flags_of_other_stages_stay() -> None:
    dark = Flag(by="photos", code="dark", why="dark")
    job = JOB.having(photos=tuple(p.having(flags=(dark,)) for p in at(24, 71, 143)))
    assert [photo.flags for photo in place(job).photos] == [(dark,)] * 3


def test_a_settled_flag_stays_settled_while_the_photo_keeps_its_place() -> None:
    once = place(JOB.having(photos=photos(None, None, None)))
    settled = tuple(
        photo.having(flags=tuple(flag.having(open=False) for flag in photo.flags))
        for photo in once.photos
    )
    assert doubts(once.having(photos=settled)) == [[], [], []]


def test_a_settled_flag_opens_again_when_the_photo_changes_its_place() -> None:
    once = place(JOB.having(photos=photos(None, None, None)))
    settled = tuple(
        photo.having(caption="something else", flags=(photo.flags[0].having(open=False),))
        for photo in once.photos
    )
    assert doubts(once.having(photos=settled)) == [["by-order"]] * 3


def test_a_job_without_photos_stays_as_it_is() -> None:
    assert place(JOB) is JOB

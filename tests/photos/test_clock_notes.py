from datetime import UTC, datetime

import pytest

from jobnotes.photos.clock_notes import clock_notes
from jobnotes.record import Job, Photo

NOW = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)


def photo(**fields) -> Photo:
    return Photo(id="p1", name="a.jpg", sha256="a" * 64, format="jpeg", width=4, height=3, **fields)


@pytest.mark.parametrize(("ahead", "told"), [(92.4, "92 s ahead of"), (-30.0, "30 s behind")])
def test_how_far_the_camera_was_off_is_told(ahead, told):
    (note,) = clock_notes(Job(id="1", created_at=NOW, camera_ahead_s=ahead))
    assert told in note


def test_a_zone_that_the_camera_did_not_write_is_told():
    job = Job(id="1", created_at=NOW, photos=(photo(taken_at=NOW.replace(tzinfo=None)),))
    assert clock_notes(job) == ("The camera did not write the time zone of 1 photo.",)


def test_nothing_is_told_of_a_clock_that_nothing_tells_of():
    assert clock_notes(Job(id="1", created_at=NOW, photos=(photo(),))) == ()

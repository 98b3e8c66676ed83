"""What the office's page tells of a job's photos and of what cannot be printed."""


def test_the_page_says_how_far_the_camera_was_off_and_how_sure_a_place_is(clerk, desk, job):
    (photo,) = job.photos
    placed = photo.having(matched_by="time and words", confidence=0.9)
    desk.change(job.id, lambda one: one.having(camera_ahead_s=92.0, photos=(placed,)))
    page = clerk.get(f"/jobs/{job.id}").text
    assert "camera&#39;s clock is 92 s ahead" in page
    assert "placed by time and words, 90 % sure" in page


def test_the_page_says_what_the_pdf_cannot_show(clerk, desk, job):
    desk.change(job.id, lambda one: one.having(customer="Al \U00012000"))
    page = clerk.get(f"/jobs/{job.id}").text
    assert "It will read “Al [1 character that cannot be printed]”." in page

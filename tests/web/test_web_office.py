"""The office's pages: the list, one job, its review, its report."""

import hashlib
from decimal import Decimal
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from web_shop import fact_id, step

from jobnotes.record import Audience, State
from jobnotes.store.issued import issued_of
from jobnotes.web.office import MOST_JOBS


def fact(desk, job, kind, holds=""):
    wanted = fact_id(job, kind, holds)
    return next(one for one in desk.load(job.id).facts if one.id == wanted)


def take(client, desk, job, name, subject="", **more):
    form = step(desk, job.id, name, subject, **more)
    return client.post(f"/jobs/{job.id}/review", data=form)


def settle_all(client, desk, job):
    """Settle everything that waits, the doubtful reading by typing it anew."""
    take(client, desk, job, "unflagged")
    for one in desk.load(job.id).facts:
        if one.open_flags:
            assert take(client, desk, job, "listened", one.id).status_code == 303


def test_the_list_says_what_waits_and_puts_it_first(clerk, desk, job):
    desk.new(machine="edger")
    page = clerk.get("/jobs").text
    assert "1 flagged" in page
    assert page.index("tiller") < page.index("edger")


def test_the_list_is_searched_by_customer(clerk, desk, job):
    desk.new(machine="edger", customer="Marlow Paving")
    page = clerk.get("/jobs?q=marlow").text
    assert "edger" in page
    assert "tiller" not in page


def test_a_job_that_was_issued_and_changed_waits_again(clerk, desk, job):
    settle_all(clerk, desk, job)
    clerk.post(f"/jobs/{job.id}/issue", data=step(desk, job.id, "issue"))
    assert "Report 1 issued" in clerk.get("/jobs").text
    take(clerk, desk, job, "undo")
    assert "changed since report 1" in clerk.get("/jobs").text


def test_a_job_is_started(clerk, desk):
    answer = clerk.post("/jobs", data={"machine": "edger", "customer": "Ms Marsh"})
    number = answer.headers["location"].removeprefix("/jobs/")
    assert desk.load(number).machine.description == "edger"


def test_a_flagged_fact_stands_first_with_both_readings(clerk, job):
    page = clerk.get(f"/jobs/{job.id}").text
    first = page.partition('<article class="fact')[2].partition("</article>")[0]
    assert "Heard in two ways" in first
    assert "<b>92</b> or <b>72</b>" in first


def test_without_a_script_the_words_of_a_fact_are_marked_and_its_seconds_set(clerk, job):
    wanted = fact_id(job, "reading", "twelve")
    page = clerk.get(f"/jobs/{job.id}?fact={wanted}").text
    assert 'data-word="r1:4" class="marked">twelve' in page
    place = next(one for one in job.facts if one.id == wanted).evidence[0]
    assert f"/sound/r1#t={place.start_s},{place.end_s}" in page


def test_confirming_notes_who_signed_in(clerk, desk, job):
    wanted = fact_id(job, "reading", "twelve")
    assert take(clerk, desk, job, "confirm", wanted, who="Mallory").status_code == 303
    assert fact(desk, job, "reading", "twelve").state is State.CONFIRMED
    assert desk.load(job.id).events[-1].who == "Ada"


def test_after_a_step_the_next_fact_that_waits_is_chosen(clerk, desk, job):
    answer = take(clerk, desk, job, "listened", fact_id(job, "reading", "ninety"))
    chosen = answer.headers["location"].partition("?fact=")[2].partition("#")[0]
    assert next(one for one in job.facts if one.id == chosen).state is State.PROPOSED


def test_a_confirmed_fact_keeps_its_doubt_unless_somebody_listened(clerk, desk, job):
    take(clerk, desk, job, "confirm", fact_id(job, "reading", "ninety"))
    assert fact(desk, job, "reading", "ninety").open_flags


def test_a_correction_changes_the_figure_and_how_it_is_printed(clerk, desk, job):
    typed = {"field-value": "72", "field-as_said": "92", "field-unit": "psi"}
    wanted = fact_id(job, "reading", "ninety")
    assert take(clerk, desk, job, "correct", wanted, **typed).status_code == 303
    new = fact(desk, job, "reading", "ninety")
    assert (new.value, new.as_said, new.state) == (Decimal(72), "72", State.CORRECTED)
    assert not new.open_flags


@pytest.mark.parametrize("value", ["seventy", "1,5", "NaN", ""])
def test_a_figure_that_is_none_is_refused_and_kept_in_the_form(clerk, desk, job, value):
    wanted = fact_id(job, "reading", "ninety")
    answer = take(clerk, desk, job, "correct", wanted, **{"field-value": value})
    assert answer.status_code == 422
    assert f'value="{value}"' in answer.text
    assert fact(desk, job, "reading", "ninety").value == Decimal(92)


def test_a_choice_that_is_not_offered_is_refused(clerk, desk, job):
    wanted = fact_id(job, "reading", "ninety")
    answer = take(clerk, desk, job, "correct", wanted, **{"field-phase": "during"})
    assert answer.status_code == 422


def test_where_a_fact_came_from_cannot_be_typed_over(clerk, desk, job):
    wanted = fact_id(job, "reading", "ninety")
    take(clerk, desk, job, "correct", wanted, **{"field-rule": "mine", "field-unit": "bar"})
    new = fact(desk, job, "reading", "ninety")
    assert new.unit == "bar"
    assert new.rule != "mine"


def test_a_fact_is_rejected(clerk, desk, job):
    take(clerk, desk, job, "reject", fact_id(job, "reading", "ninety"))
    assert fact(desk, job, "reading", "ninety").state is State.REJECTED


def test_a_fact_is_kept_for_the_office(clerk, desk, job):
    take(clerk, desk, job, "office", fact_id(job, "reading", "twelve"))
    assert fact(desk, job, "reading", "twelve").audience is Audience.OFFICE


def test_one_doubt_is_settled_by_its_code(clerk, desk, job):
    doubt = fact(desk, job, "reading", "ninety").open_flags[0]
    take(clerk, desk, job, "settle", fact_id(job, "reading", "ninety"), code=doubt.code)
    left = fact(desk, job, "reading", "ninety").open_flags
    assert doubt.code not in [flag.code for flag in left]


def test_the_last_step_is_undone(clerk, desk, job):
    take(clerk, desk, job, "reject", fact_id(job, "reading", "twelve"))
    take(clerk, desk, job, "undo")
    assert fact(desk, job, "reading", "twelve").state is State.PROPOSED


def test_a_photo_is_captioned_and_left_out(clerk, desk, job):
    take(clerk, desk, job, "caption", "p1", text="the worn belt")
    take(clerk, desk, job, "leave-out", "p1")
    (photo,) = desk.load(job.id).photos
    assert (photo.caption, photo.included) == ("the worn belt", False)


def test_an_unknown_step_is_refused(clerk, desk, job):
    assert take(clerk, desk, job, "delete").status_code == 422


def test_two_clerks_do_not_overwrite_each_other(clerk, other_clerk, desk, job):
    wanted = fact_id(job, "reading", "ninety")
    mine = step(desk, job.id, "correct", wanted, **{"field-value": "71.5"})
    take(other_clerk, desk, job, "correct", wanted, **{"field-value": "72"})
    answer = clerk.post(f"/jobs/{job.id}/review", data=mine)
    assert answer.status_code == 409
    assert fact(desk, job, "reading", "ninety").value == Decimal(72)
    assert "Bo: put right" in answer.text
    assert 'value="71.5"' in answer.text


def test_a_step_that_came_too_late_is_repeated_from_the_page_that_kept_it(
    clerk, other_clerk, desk, job
):
    wanted = fact_id(job, "reading", "ninety")
    mine = step(desk, job.id, "correct", wanted, **{"field-value": "71.5"})
    take(other_clerk, desk, job, "reject", fact_id(job, "reading", "twelve"))
    page = clerk.post(f"/jobs/{job.id}/review", data=mine).text
    revision = page.partition('name="revision" value="')[2].partition('"')[0]
    assert clerk.post(f"/jobs/{job.id}/review", data={**mine, "revision": revision}).is_redirect
    assert fact(desk, job, "reading", "ninety").value == Decimal("71.5")


@pytest.mark.parametrize("revision", ["", "x", "-1", "9" * 30])
def test_a_step_that_saw_no_state_of_the_job_is_refused(clerk, desk, job, revision):
    form = {**step(desk, job.id, "unflagged"), "revision": revision}
    assert clerk.post(f"/jobs/{job.id}/review", data=form).status_code in (409, 422)
    assert desk.load(job.id).events == ()


def test_sound_is_served_whole_and_by_range(clerk, desk, job):
    whole = desk.audio_path(job.recordings[0]).read_bytes()
    path = f"/jobs/{job.id}/sound/r1"
    answer = clerk.get(path)
    assert answer.content == whole
    assert answer.headers["content-type"] == "audio/ogg"
    part = clerk.get(path, headers={"range": "bytes=100-299"})
    assert (part.status_code, part.content) == (206, whole[100:300])
    assert part.headers["content-range"] == f"bytes 100-299/{len(whole)}"
    assert clerk.get(path, headers={"range": f"bytes={len(whole)}-"}).status_code == 416


def test_sound_of_another_job_is_not_served_under_this_one(clerk, desk, job):
    other = desk.new(machine="edger").id
    assert clerk.get(f"/jobs/{other}/sound/r1").status_code == 404


@pytest.mark.parametrize("name", ["..%2f..%2fjobs.db", "r1%00", "%2e%2e", "r9"])
def test_a_hostile_name_of_a_recording_finds_nothing(clerk, job, name):
    assert clerk.get(f"/jobs/{job.id}/sound/{name}").status_code == 404


def test_a_photo_is_drawn_anew_without_what_the_camera_wrote(clerk, desk, job):
    answer = clerk.get(f"/jobs/{job.id}/photos/p1")
    assert answer.headers["content-type"] == "image/jpeg"
    assert hashlib.sha256(answer.content).hexdigest() != job.photos[0].sha256


def test_the_preview_leaves_out_what_is_in_doubt(clerk, job):
    page = clerk.get(f"/jobs/{job.id}/draft.html").text.replace("\N{NO-BREAK SPACE}", " ")
    assert "12.4 V" in page
    assert "92 psi" not in page


def test_the_preview_is_the_page_that_the_customer_would_get(clerk, desk, job):
    answer = clerk.get(f"/jobs/{job.id}/draft.html")
    assert answer.content == desk.report(desk.load(job.id), Path("story.html"), draft=True)
    assert "script-src" not in answer.headers["content-security-policy"]
    assert "default-src 'none'" in answer.headers["content-security-policy"]


def test_the_draft_says_that_it_is_one(clerk, job):
    answer = clerk.get(f"/jobs/{job.id}/draft.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    printed = PdfReader(BytesIO(answer.content)).pages[0].extract_text()
    assert "Draft" in printed


def test_no_report_is_issued_while_a_flag_is_open(clerk, desk, job):
    answer = clerk.post(f"/jobs/{job.id}/issue", data=step(desk, job.id, "issue"))
    assert answer.status_code == 409
    assert issued_of(desk.store, job.id) == ()


def test_an_issued_report_stays_as_it_was_and_a_later_one_is_a_new_version(clerk, desk, job):
    settle_all(clerk, desk, job)
    issue = f"/jobs/{job.id}/issue"
    assert clerk.post(issue, data=step(desk, job.id, "issue")).status_code == 303
    first = clerk.get(f"/jobs/{job.id}/reports/1.pdf").content
    assert "92 psi" in "".join(p.extract_text() for p in PdfReader(BytesIO(first)).pages)
    typed = {"field-value": "72"}
    take(clerk, desk, job, "correct", fact_id(job, "reading", "ninety"), **typed)
    assert clerk.post(issue, data=step(desk, job.id, "issue")).status_code == 303
    assert clerk.get(f"/jobs/{job.id}/reports/1.pdf").content == first
    assert [one.version for one in issued_of(desk.store, job.id)] == [1, 2]
    assert issued_of(desk.store, job.id)[0].sha256 == hashlib.sha256(first).hexdigest()


def test_a_report_is_not_issued_from_a_page_that_is_out_of_date(clerk, other_clerk, desk, job):
    settle_all(clerk, desk, job)
    old = step(desk, job.id, "issue")
    take(other_clerk, desk, job, "confirm", fact_id(job, "labour"))
    assert clerk.post(f"/jobs/{job.id}/issue", data=old).status_code == 409


def test_a_lost_report_is_found_by_verify(clerk, desk, job):
    settle_all(clerk, desk, job)
    clerk.post(f"/jobs/{job.id}/issue", data=step(desk, job.id, "issue"))
    desk.media.path(issued_of(desk.store, job.id)[0].sha256).unlink()
    assert any(f"{job.id}.pdf" in problem for problem in desk.problems())


def test_older_jobs_are_a_page_away(clerk, desk):
    for n in range(MOST_JOBS + 1):
        desk.new(machine=f"mower {n}")
    first = clerk.get("/jobs?q=mower").text
    assert "mower 0<" not in first
    assert f"/jobs?q=mower&amp;skip={MOST_JOBS}" in first
    assert "mower 0<" in clerk.get(f"/jobs?q=mower&skip={MOST_JOBS}").text

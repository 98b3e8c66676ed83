"""What leaves the shop: settled facts only, and never a figure that is in doubt."""

import pytest
from report_jobs import FLAG, NOW, SHOP, Bench, changed, repair

from jobnotes.errors import IncompleteJobError, OpenFlagsError
from jobnotes.record import (
    Audience,
    Complaint,
    Finding,
    Private,
    StageRun,
    State,
    Verification,
    Withdrawn,
)
from jobnotes.report.content import story
from jobnotes.report.gate import issue, photos, printable, waiting


def test_a_settled_and_finished_job_may_leave():
    issue(repair().job())


def test_an_open_flag_holds_a_job_back():
    job = changed(repair().job(), "f4", flags=(FLAG,))
    with pytest.raises(OpenFlagsError, match="1 with an open flag: f4"):
        issue(job)


def test_a_settled_flag_does_not_hold_a_job_back():
    issue(changed(repair().job(), "f4", flags=(FLAG.having(open=False),)))


def test_an_unreviewed_fact_holds_a_job_back():
    with pytest.raises(OpenFlagsError, match="1 not reviewed: f7"):
        issue(changed(repair().job(), "f7", state=State.PROPOSED))


def test_a_flag_on_a_fact_for_the_office_does_not_hold_a_job_back():
    issue(changed(repair().job(), "f4", flags=(FLAG,), audience=Audience.OFFICE))


def test_a_stage_that_failed_holds_a_job_back():
    stages = (StageRun(stage="transcribe", at=NOW, done=False, why="No weights."),)
    with pytest.raises(IncompleteJobError, match="No weights"):
        issue(repair().job(stages=stages))


def test_a_final_story_cannot_be_had_around_the_gate():
    with pytest.raises(OpenFlagsError):
        story(changed(repair().job(), "f4", flags=(FLAG,)), SHOP, draft=False)


def test_a_draft_counts_what_waits_for_the_office():
    job = changed(changed(repair().job(), "f4", flags=(FLAG,)), "f7", flags=(FLAG,))
    assert waiting(job) == 2
    assert "2 statements wait for the office" in story(job, SHOP, draft=True).notes[1]


def test_a_draft_names_a_stage_that_did_not_finish():
    stages = (StageRun(stage="transcribe", at=NOW, done=False, why="No weights."),)
    notes = story(repair().job(stages=stages), SHOP, draft=True).notes
    assert any("No weights." in note for note in notes)


def test_a_draft_prints_proposed_facts_and_a_final_story_does_not():
    job = changed(repair().job(), "f7", state=State.PROPOSED)
    assert "f7" in {fact.id for fact in printable(job, draft=True)}
    assert "f7" not in {fact.id for fact in printable(job, draft=False)}


@pytest.mark.parametrize(
    "change",
    [
        {"state": State.REJECTED},
        {"audience": Audience.OFFICE},
        {"flags": (FLAG,)},
    ],
)
def test_rejected_office_and_flagged_facts_are_never_printed(change):
    job = changed(repair().job(), "f7", **change)
    for draft in (True, False):
        assert "f7" not in {fact.id for fact in printable(job, draft=draft)}


def test_a_fact_said_in_private_is_not_printed_whatever_its_audience():
    bench = Bench()
    bench.say("he fed it bricks the screen is bent")
    bench.fact(Private, text="he fed it bricks", utterances=(0,), audience=Audience.OFFICE)
    bench.fact(Finding, what="screen", state_found="bent")
    assert printable(bench.job(), draft=False) == ()


def test_a_private_remark_that_was_rejected_hides_nothing():
    bench = Bench()
    bench.say("the screen is bent")
    bench.fact(Private, text="x", utterances=(0,), state=State.REJECTED)
    bench.fact(Finding, what="screen", state_found="bent")
    assert [fact.kind for fact in printable(bench.job(), draft=False)] == ["finding"]


def test_words_that_repeat_a_flagged_figure_are_held_with_it():
    bench = Bench()
    bench.say("holds at twenty four hundred")
    bench.reading("pressure", "2400", "psi", flags=(FLAG,))
    bench.fact(Verification, text="holds at twenty four hundred")
    assert printable(bench.job(), draft=True) == ()


@pytest.mark.parametrize("state", [State.REJECTED, State.CORRECTED])
def test_words_that_repeat_a_figure_found_wrong_hold_a_job_back(state):
    bench = Bench()
    bench.say("holds at twenty four hundred")
    bench.reading("pressure", "2400", "psi", state=state)
    bench.fact(Verification, text="holds at twenty four hundred")
    with pytest.raises(OpenFlagsError, match="repeating a figure"):
        issue(bench.job())


def test_words_that_repeat_a_figure_taken_back_hold_a_job_back():
    bench = Bench()
    bench.say("idles at nine hundred no twelve hundred")
    bench.fact(Withdrawn, of="reading", text="nine hundred", audience=Audience.OFFICE)
    bench.fact(Verification, text="idles at nine hundred")
    with pytest.raises(OpenFlagsError, match="repeating a figure"):
        issue(bench.job())


def test_words_that_a_person_corrected_may_repeat_a_figure():
    bench = Bench()
    bench.say("holds at twenty four hundred")
    bench.reading("pressure", "2100", "psi", state=State.CORRECTED)
    bench.fact(Verification, text="holds at twenty one hundred", state=State.CORRECTED)
    issue(bench.job())


def test_words_without_a_figure_are_not_held_by_a_flag_beside_them():
    bench = Bench()
    bench.say("belt worn forty two long")
    bench.reading("belt length", "42", "in", flags=(FLAG,))
    bench.fact(Finding, what="belt", state_found="worn")
    assert [fact.kind for fact in printable(bench.job(), draft=True)] == ["finding"]


def test_a_proposal_from_words_in_doubt_waits():
    bench = Bench()
    bench.say("it surges", flags=(FLAG,))
    bench.fact(Complaint, text="it surges", state=State.PROPOSED)
    assert printable(bench.job(), draft=True) == ()


def test_a_photo_taken_in_private_is_not_printed():
    bench = Bench()
    bench.say("off the record look at this")
    bench.fact(Private, text="look at this", utterances=(0,), audience=Audience.OFFICE)
    bench.photo("the mess")
    assert photos(bench.job()) == ()


def test_an_excluded_photo_is_not_printed():
    bench = Bench()
    bench.photo("the mess", included=False)
    assert photos(bench.job()) == ()


def test_a_photo_whose_place_is_in_doubt_loses_its_caption():
    bench = Bench()
    bench.photo("the mess", flags=(FLAG,))
    assert photos(bench.job())[0].caption == ""


def test_a_blurred_photo_keeps_its_caption():
    bench = Bench()
    bench.photo("the mess", flags=(FLAG.having(by="photos", code="blurred"),))
    assert photos(bench.job())[0].caption == "the mess"


def test_a_caption_that_repeats_a_flagged_figure_is_not_printed():
    bench = Bench()
    bench.say("photo of the gauge at ninety")
    bench.reading("pressure", "90", "psi", flags=(FLAG,))
    bench.photo("the gauge at ninety")
    assert photos(bench.job())[0].caption == ""


def test_a_recording_that_was_not_understood_holds_a_job_back() -> None:
    job = repair().job()
    doubted = job.recordings[0].having(name="hum.wav", flags=(FLAG,))
    with pytest.raises(OpenFlagsError, match="hum.wav"):
        issue(job.having(recordings=(doubted,)))
    settled = doubted.having(flags=(FLAG.having(open=False),))
    issue(job.having(recordings=(settled,)))

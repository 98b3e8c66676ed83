"""The facts as JSON: the keys, the sources, and what stays out."""

import json
from decimal import Decimal

import pytest
from report_jobs import FLAG, Bench, changed, repair

from jobnotes.record import Audience, Complaint, Flag, Labour, Recording, State
from jobnotes.report.export import facts_json


def test_every_kind_of_fact_has_its_key():
    told = facts_json(repair().job())
    assert set(told) == {
        "complaint", "readings", "specs", "parts", "actions", "findings", "recommendations",
        "verification", "labour_minutes", "private", "withdrawn", "causes", "tests", "wiring",
        "decisions", "symptoms", "cautions", "photos", "recordings",
    }  # fmt: skip


def test_a_recording_in_which_nobody_spoke_says_so():
    silent = Flag(by="speech", code="no-speech", why="No speech was heard.")
    recording = Recording(id="r9", name="hum.wav", format="wav", duration_s=8, flags=(silent,))
    told = facts_json(repair().job().having(recordings=(recording,)))
    assert told["recordings"] == [{"name": "hum.wav", "duration_s": 8, "flags": ["no-speech"]}]


def test_it_is_plain_json():
    told = facts_json(repair().job())
    assert json.loads(json.dumps(told)) == told


def test_a_reading_has_its_value_as_a_number_and_its_source():
    first = facts_json(repair().job())["readings"][0]
    assert first["value"] == 3.5
    assert first["said"] == [1]
    assert first["seconds"] == [4.5, 10.9]
    assert first["words"].startswith("belt tension before")
    assert first["rule"] == "test.rule"
    assert first["flags"] == []


def test_a_whole_number_stays_whole():
    bench = Bench()
    bench.reading("idle speed", "1750", "rpm")
    assert json.dumps(facts_json(bench.job())["readings"][0]["value"]) == "1750"


def test_only_open_flags_are_listed():
    flags = (FLAG, FLAG.having(code="settled", open=False))
    told = facts_json(changed(repair().job(), "f4", flags=flags))
    assert told["readings"][0]["flags"] == ["ambiguous"]


def test_an_open_end_of_a_spec_is_null():
    spec = facts_json(repair().job())["specs"][0]
    assert (spec["low"], spec["high"]) == (6, None)


def test_a_finding_has_its_state_under_the_short_name():
    assert facts_json(repair().job())["findings"][0]["state"] == "low"


@pytest.mark.parametrize("change", [{"state": State.REJECTED}, {"audience": Audience.OFFICE}])
def test_rejected_and_office_facts_stay_out(change):
    told = facts_json(changed(repair().job(), "f4", **change))
    assert [reading["value"] for reading in told["readings"]] == [42, 7.2]


def test_private_remarks_are_given_by_the_numbers_of_their_utterances():
    assert facts_json(repair().job())["private"] == [6]


def test_what_was_taken_back_is_listed_apart_by_kind():
    (taken,) = facts_json(repair().job())["withdrawn"]
    assert taken["kind"] == "readings"
    assert (taken["value"], taken["unit"], taken["said"]) == (9, "kg", [7])


def test_labour_is_in_minutes_and_null_when_unsaid():
    assert facts_json(repair().job())["labour_minutes"] == 95
    assert facts_json(Bench().job())["labour_minutes"] is None


def test_labour_counts_whoever_may_read_it():
    bench = Bench()
    bench.fact(Labour, minutes=Decimal("7.5"), as_said="", audience=Audience.OFFICE)
    assert facts_json(bench.job())["labour_minutes"] == 7.5


def test_complaints_are_plain_texts_in_the_order_said():
    bench = Bench()
    bench.say("one")
    one = bench.fact(Complaint, text="it whines")
    bench.say("two")
    two = bench.fact(Complaint, text="it stops")
    job = bench.job().having(facts=(two, one))
    assert facts_json(job)["complaint"] == ["it whines", "it stops"]


def test_a_photo_has_its_caption_and_source():
    (photo,) = facts_json(repair().job())["photos"]
    assert photo["caption"] == "the glazed drive belt"
    assert photo["said"] == [2]

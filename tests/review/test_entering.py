"""Facts that a person enters because no rule found them."""

from datetime import UTC, datetime
from decimal import Decimal
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobnotes.errors import ReviewError
from jobnotes.intake.typed import typed
from jobnotes.pipeline import extract
from jobnotes.record import AnyFact, Job, Part, Private, Reading, Spec, State
from jobnotes.review import events
from jobnotes.review.entering import RULE, Span, enter, span_of

NOW = datetime(2026, 3, 14, 10, 0, tzinfo=UTC)
SAID = """the plug gap thirty thou I think
it's off the record he ran it dry
the gap again, thirty thou"""
GAP = Span("r1", 1, 4)
READING = {"what": "plug gap", "value": "30", "unit": "thou"}
LEAST: dict[str, dict[str, str]] = {
    "test": {"method": "spun it"},
    "reading": READING,
    "spec": {"what": "plug gap", "low": "28", "unit": "thou"},
    "part": {"number": "", "name": "plug"},
    "wiring": {"from_point": "switch", "to_point": "coil"},
    "finding": {"what": "plug", "state_found": "worn"},
    "action": {"verb": "replace", "object": "plug"},
    "decision": {"chosen": "a new plug", "alternatives": "the old one; none"},
    "labour": {"minutes": "40"},
    "withdrawn": {"of": "reading", "text": "thirty"},
}


def job() -> Job:
    return typed(Job(id="2026-0001", created_at=NOW), SAID)


def put(given_job: Job, kind: str = "reading", span: Span = GAP, **fields: str) -> Job:
    return enter(given_job, kind, fields or READING, span, "Ada", NOW)


def test_an_entered_fact_holds_what_was_typed_and_the_words_it_rests_on():
    (fact,) = put(job()).facts
    assert isinstance(fact, Reading)
    assert (fact.what, fact.value, fact.unit, fact.as_said) == (
        "plug gap",
        Decimal(30),
        "thou",
        "30",
    )
    assert [place.text for place in fact.evidence] == ["plug gap thirty thou"]
    assert (fact.rule, fact.state) == (RULE, State.CORRECTED)


def test_who_entered_it_and_when_is_an_event():
    (event,) = put(job()).events
    assert (event.who, event.at, event.subject) == ("Ada", NOW, "e1")
    assert event.after["value"] == "30"


@pytest.mark.parametrize(
    "kind", [one.model_fields["kind"].default for one in get_args(get_args(AnyFact)[0])]
)
def test_every_kind_of_fact_can_be_entered(kind):
    fields = LEAST.get(kind, {"text": "it runs again"})
    (fact,) = enter(job(), kind, fields, GAP, "Ada", NOW).facts
    assert fact.kind == kind


def test_undo_takes_it_away_again():
    done = events.undo(put(job()), "Bo", NOW)
    assert done.facts == ()
    assert [event.what for event in done.events] == ["enter", "undo"]


def test_a_later_step_on_it_is_undone_first():
    done = events.reject(put(job()), "e1", "Bo", NOW)
    done = events.undo(done, "Bo", NOW)
    assert [fact.state for fact in done.facts] == [State.CORRECTED]
    assert events.undo(done, "Bo", NOW).facts == ()


def test_a_number_is_never_given_twice():
    done = put(events.undo(put(job()), "Ada", NOW))
    assert [fact.id for fact in done.facts] == ["e2"]


def test_it_stays_when_the_facts_are_found_anew():
    found = extract(put(job()))
    assert "e1" in [fact.id for fact in found.facts]
    assert extract(found).facts == found.facts


def test_facts_stay_in_the_order_they_were_said():
    done = put(put(job(), span=Span("r1", 14, 18)), span=GAP)
    assert [fact.id for fact in done.facts] == ["e2", "e1"]


def test_a_private_remark_names_the_breaths_it_covers():
    (fact,) = put(job(), "private", Span("r1", 8, 12), text="he ran it dry").facts
    assert isinstance(fact, Private)
    assert fact.utterances == (1,)


def test_a_list_is_typed_with_semicolons():
    (fact,) = enter(job(), "decision", LEAST["decision"], GAP, "Ada", NOW).facts
    assert fact.alternatives == ("the old one", "none")


def test_limits_are_printed_as_typed():
    (fact,) = enter(job(), "spec", {**LEAST["spec"], "high": "1200"}, GAP, "Ada", NOW).facts
    assert isinstance(fact, Spec)
    assert fact.as_said == "28 to 1,200"


@pytest.mark.parametrize(
    ("kind", "fields", "named"),
    [
        ("rumour", {"text": "x"}, "rumour"),
        ("reading", {"what": "gap", "unit": "thou"}, "value"),
        ("reading", {**READING, "value": "thirty"}, "value"),
        ("reading", {**READING, "value": "NaN"}, "value"),
        ("reading", {**READING, "value": "1e999999999"}, "too many digits"),
        ("reading", {**READING, "phase": "sometime"}, "phase"),
        ("reading", {**READING, "id": "f1"}, "id"),
        ("reading", {**READING, "state": "confirmed"}, "state"),
        ("reading", {}, "value"),
        ("spec", {"what": "gap", "unit": "thou"}, "limit"),
        ("spec", {"what": "gap", "unit": "thou", "low": "9", "high": "8"}, "above"),
        ("part", {"number": "K", "name": "k", "quantity": "-1"}, "nought"),
        ("labour", {"minutes": "-5"}, "nought"),
    ],
    ids=str,
)
def test_what_does_not_fit_is_named(kind, fields, named):
    with pytest.raises(ReviewError, match=named):
        enter(job(), kind, fields, GAP, "Ada", NOW)


@pytest.mark.parametrize(
    "span", [Span("r1", 3, 99), Span("r1", 4, 3), Span("r9", 0, 1), Span("r1", 19, 20)]
)
def test_words_that_are_not_there_are_refused(span):
    with pytest.raises(ReviewError, match="no words"):
        put(job(), span=span)


@pytest.mark.parametrize(
    ("text", "span"),
    [
        ("r1:1-4", GAP),
        ("plug gap thirty thou", GAP),
        ("Plug GAP, thirty thou.", GAP),
        ("its off the record", Span("r1", 7, 10)),
    ],
)
def test_words_are_named_by_number_or_as_they_were_heard(text, span):
    assert span_of(job(), text) == span


def test_words_said_twice_are_named_with_their_numbers():
    with pytest.raises(ReviewError, match=r"r1:3-4, r1:18-19"):
        span_of(job(), "thirty thou")


@pytest.mark.parametrize("text", ["", "...", "forty thou", "r1 1-4"])
def test_words_that_nobody_said_are_refused(text):
    with pytest.raises(ReviewError, match="Nobody said"):
        span_of(job(), text)


@given(first=st.integers(0, 18), last=st.integers(0, 18))
def test_words_as_they_stand_are_found_again(first: int, last: int) -> None:
    words = job().words[min(first, last) : max(first, last) + 1]
    said = " ".join(word.text for word in words)
    if SAID.replace("\n", " ").count(said) == 1:
        span = span_of(job(), said)
        assert (span.first, span.last) == (min(first, last), max(first, last))


def test_a_part_that_was_missed_counts_as_a_part():
    (fact,) = put(job(), "part", number="KL-4", name="plug", status="installed").facts
    assert isinstance(fact, Part)
    assert fact.status == "installed"

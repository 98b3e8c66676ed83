import pytest

from jobnotes.record import Audience


@pytest.mark.parametrize(
    "said",
    [
        "off the record, he ran it without oil",
        "just between us he drives it like a tank",
        "don't put this on the ticket but the last shop botched it",
        "keep that off the bill, his brother had a go at it first",
        "not for the customer, she never cleans it",
        "leave this out of the report, somebody dropped it",
        "he's been hosing it down, but keep that to yourself",
        "note to self, order more of those clips",
        "office only, third one of these this month",
        "customer doesn't need to know but the kid broke that tab",
        "this stays in the shop, we cracked that cover ourselves",
    ],
)
def test_a_remark_said_to_be_private_is_kept_from_the_customer(hear, said):
    remarks = hear("private", "pulled the cover", said, "new belt fitted")
    assert [remark.utterances for remark in remarks] == [(1,)]


def test_off_the_record_lasts_until_back_on_the_record(hear):
    lines = ("off the record, he lent it out", "and never told her", "back on the record, new belt")
    assert hear("private", *lines)[0].utterances == (0, 1)


def test_leave_that_last_bit_off_looks_back(hear):
    lines = ("fitted the belt", "we forgot to grease it last time", "leave that off the invoice")
    assert hear("private", *lines)[0].utterances == (1, 2)


def test_the_next_bit_is_for_us_looks_on(hear):
    lines = ("this next bit is just for us", "he runs it on kerosene", "labour one hour")
    assert hear("private", *lines)[0].utterances == (0, 1)


def test_a_private_remark_is_for_the_office(hear):
    assert hear("private", "off the record, he is a pest")[0].audience is Audience.OFFICE


@pytest.mark.parametrize("kind", ["action", "finding", "recommendation", "caution"])
def test_no_fact_comes_from_a_private_remark(hear, kind):
    said = "off the record, the belt is torn, we replaced the belt, tell him to be careful with it"
    assert hear(kind, "complaint is it squeals", said) == []


def test_putting_advice_on_the_bill_is_not_private(hear):
    assert hear("private", "grease it yearly, put that on the bill as advice") == []


def test_labour_said_off_the_record_is_for_the_office(hear):
    found = hear("labour", "new belt fitted", "off the record, labour was really three hours")
    assert [fact.audience for fact in found] == [Audience.OFFICE]

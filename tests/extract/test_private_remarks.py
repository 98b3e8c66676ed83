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
        "dinnae tell the foreman but the lad mixed it wrong",
        "don't tell his wife, he bought it twice",
        "keep this bit in the shed, the manager is a cousin of mine",
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


@pytest.mark.parametrize(
    "said",
    [
        "this you do not print, his cousin bent it",
        "kindly omit this, she argues over every bill",
        "can that remark not go on there, we lost a clip of hers",
        "the foreman need not hear this, we had to do it twice",
        "I don't want him reading this, the last fitter was a friend of his",
        "he isn't to know but I chipped the paint",
        "skip this bit in the write up, he pays late",
        "keep that one under wraps, it rolled off the bench",
        "confidential, their account is on stop",
        "counter staff only, ask for cash",
        "not to appear on the invoice, the grease was left over",
        "client is not to be told, the bolt is second hand",
        "we'd rather this wasn't printed, his son left the cap off",
        "not a word to the landlord, the lad scratched the door",
    ],
)
def test_a_remark_is_private_by_who_must_not_have_it(hear, said):
    remarks = hear("private", "pulled the cover", said, "new belt fitted")
    assert [remark.utterances for remark in remarks] == [(1,)]


@pytest.mark.parametrize(
    "said",
    [
        "the winding is shorted internally",
        "keep that between the two marks",
        "leave it off for a minute",
        "he can't hear it over the engine",
        "that one does not go in there",
        "nobody told him to change the oil",
        "the owner doesn't need to change the plug",
        "don't put it on the charger hot",
        "there's not a word on the tag about the model",
    ],
)
def test_what_only_sounds_like_secrecy_is_not_private(hear, said):
    assert hear("private", "pulled the cover", said, "new belt fitted") == []


@pytest.mark.parametrize(
    "back",
    [
        "resuming the report, new belt fitted",
        "okay customer copy again, new belt fitted",
        "on paper, new belt fitted",
        "he can see this one, new belt fitted",
        "ticket on again, new belt fitted",
    ],
)
def test_a_private_stretch_ends_where_the_customer_may_read_again(hear, back):
    lines = ("the next bit is internal", "he owes us for the last one", back)
    assert hear("private", "pulled the cover", *lines)[0].utterances == (1, 2)


def test_he_need_not_see_that_one_looks_back(hear):
    lines = ("fitted the belt", "his brother broke it", "he doesn't need to see that one")
    assert hear("private", *lines)[0].utterances == (1, 2)

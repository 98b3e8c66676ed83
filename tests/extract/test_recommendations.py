import pytest

REPAIR = ("complaint is it stalls", "cleaned the carb")


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("tell him to change the oil every spring", "change the oil every spring"),
        ("tell them drain it every Friday", "drain it every Friday"),
        ("told her not to store it with fuel in", "don't store it with fuel in"),
        ("recommend a water separator", "a water separator"),
        ("I'd put tires on it next season", "put tires on it next season"),
        ("he should budget for a battery before winter", "budget for a battery before winter"),
        ("she ought to run it once a month", "run it once a month"),
        (
            "have him back for a valve check at twenty hours",
            "back for a valve check at twenty hours",
        ),
        (
            "sharpen the knives twice a year, put that down as advice",
            "sharpen the knives twice a year",
        ),
        ("advise new belts at the next service", "new belts at the next service"),
        ("keep an eye on the left seal", "keep an eye on the left seal"),
        ("should grease the pivot weekly", "grease the pivot weekly"),
        ("under recommendations, flush the tank every fall", "flush the tank every fall"),
        ("drain the bowl before winter", "drain the bowl before winter"),
        (
            "the front hubs want regreasing before she hauls it",
            "the front hubs want regreasing before she hauls it",
        ),
        ("he must use the low gear when he climbs", "use the low gear when he climbs"),
        ("nine, customer to renew the strap before use", "renew the strap before use"),
        ("change the filter every tank, tell the renter", "change the filter every tank"),
        ("wouldn't put off the belt past spring", "wouldn't put off the belt past spring"),
        ("don't hoist that mast till it's done", "don't hoist that mast till it's done"),
        ("keep the fins clear", "keep the fins clear"),
        ("impeller every two seasons", "impeller every two seasons"),
        ("forty to one from now on", "forty to one from now on"),
        ("get the depot to mix it at forty to one", "mix it at forty to one"),
        (
            "the rear tyre has a plug that weeps, I'd get that done before the rally",
            "the rear tyre has a plug that weeps, I'd get that done before the rally",
        ),
    ],
)
def test_advice_is_kept_without_the_words_that_announce_it(hear, said, text):
    assert text in [fact.text for fact in hear("recommendation", *REPAIR, said)]


def test_two_things_to_do_are_two_pieces_of_advice(hear):
    found = hear("recommendation", *REPAIR, "he should keep it covered and run it once a month")
    assert [fact.text for fact in found] == ["keep it covered", "run it once a month"]


def test_when_it_is_due_is_the_urgency(hear):
    found = hear("recommendation", *REPAIR, "recommend a new belt before winter")
    assert found[0].urgency == "before winter"


@pytest.mark.parametrize(
    "said",
    [
        "wants ten to fifteen psi",
        "I'd want nine or better",
        "needs four gallons a minute",
        "told him it's ready",
        "he needs it back by Friday",
        "should be thirteen volts",
        "it needs a new pump, fitted a new pump",
        "you can rattle it",
        "so we need the valve kit",
        "so he don't need a battery",
        "she ought to turn five thousand",
        "a quarter inch is the most I'd let go",
    ],
)
def test_limits_wishes_and_things_already_done_are_no_advice(hear, said):
    assert hear("recommendation", *REPAIR, said) == []


def test_advice_may_follow_a_comma_late_in_the_job(hear):
    lines = ("fitted the belt", "the hoses are soft, replace them at the next service")
    assert "replace" in hear("recommendation", *lines)[0].text


def test_told_in_one_breath_news_is_left_and_advice_is_kept(hear):
    said = "tell her the oil is black and she wants to change it before the season"
    assert len(hear("recommendation", *REPAIR, said)) == 1


def test_a_second_wish_in_one_breath_is_a_second_piece_of_advice(hear):
    said = "change the fuel filter every autumn, and he wants the other plugs soon"
    assert len(hear("recommendation", *REPAIR, said)) == 2

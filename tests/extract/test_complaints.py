import pytest


@pytest.mark.parametrize(
    ("said", "texts"),
    [
        ("customer says it stalls when he lifts the deck", ["stalls when he lifts the deck"]),
        ("she reckons it whines in reverse", ["whines in reverse"]),
        ("complaint, hard to start and the choke sticks", ["hard to start", "the choke sticks"]),
        ("in for not charging", ["not charging"]),
        ("the landscaper says it pulls left", ["pulls left"]),
        ("concern is weak brakes, and it squeals", ["weak brakes", "squeals"]),
        ("it died under load, he reckons", ["died under load"]),
        ("no reverse is what it's in for", ["no reverse"]),
        ("leaf blower from the school, won't idle", ["won't idle"]),
        ("under complaint put, loses prime", ["loses prime"]),
        ("came in with a dead battery", ["a dead battery"]),
        ("ticket says cuts out over bumps", ["cuts out over bumps"]),
        ("this is the farm trike, it cranks really slow", ["cranks really slow"]),
        ("they wrote on the tag, revs well but won't climb", ["revs well but won't climb"]),
        ("weak arc and lots of spatter, she says", ["weak arc", "lots of spatter"]),
        ("she says it surges up and down", ["surges up and down"]),
        ("he says you pull the cord and it kicks back", ["you pull the cord and it kicks back"]),
        (
            "she says it quits on the hill, then it comes back",
            ["quits on the hill, then it comes back"],
        ),
        ("vibrating plate, two smoke, won't idle", ["won't idle"]),
    ],
)
def test_what_the_customer_says_is_wrong_is_kept_in_the_speakers_words(hear, said, texts):
    found = hear("complaint", said, "pulled the cover", "new belt fitted")
    assert [fact.text for fact in found] == texts


def test_two_things_the_machine_does_in_one_breath_stay_one_complaint(hear):
    found = hear("complaint", "customer says it runs a minute and quits")
    assert [fact.text for fact in found] == ["runs a minute and quits"]


def test_an_utterance_that_goes_on_with_and_adds_a_complaint(hear):
    found = hear("complaint", "she says the horn is weak", "and the left light flickers")
    assert [fact.text for fact in found] == ["the horn is weak", "the left light flickers"]


@pytest.mark.parametrize(
    "said", ["book says three ohms or less", "customer said go ahead", "I said ten, it was twelve"]
)
def test_other_things_that_are_said_are_no_complaint(hear, said):
    assert hear("complaint", "pulled the cover and the belt", said) == []


def test_a_complaint_is_no_finding(hear):
    assert hear("finding", "customer says the belt is torn and the brake drags") == []


def test_worse_when_hot_stays_with_what_it_qualifies(hear):
    said = "customer says it cranks slow, worse when it's hot"
    assert [one.text for one in hear("complaint", said)] == ["cranks slow, worse when it's hot"]

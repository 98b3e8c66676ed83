import pytest

REPAIR = (
    "complaint is it stalls",
    "fitted a new fuel pump",
    "torqued the bolts to ten foot pounds",
)


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("starts on the first pull now", "starts on the first pull now"),
        ("idles clean and doesn't hunt", "idles clean"),
        ("ran it twenty minutes, no leaks", "ran it twenty minutes, no leaks"),
        ("never missed a beat", "never missed a beat"),
        ("breaker holds", "breaker holds"),
        ("no more squeal", "no more squeal"),
        ("brakes are firm now", "brakes are firm now"),
        ("climbs the ramp without slowing", "climbs the ramp without slowing"),
        ("good strong spark", "good strong spark"),
        ("took it round the yard, pulls strong", "took it round the yard, pulls strong"),
        ("chain not creeping", "chain not creeping"),
        ("works a treat", "works a treat"),
        ("starts ten times from ten", "starts ten times from ten"),
        ("horn and both lamps all work", "horn and both lamps all work"),
        ("no weep at the union after an hour", "no weep at the union after an hour"),
        ("no more burn back", "no more burn back"),
        ("road test, the chain is quiet", "road test, the chain is quiet"),
    ],
)
def test_what_runs_well_after_the_repair_proves_it(hear, said, text):
    assert text in [fact.text for fact in hear("verification", *REPAIR, said)]


def test_what_was_bad_before_and_is_good_at_the_end_proves_the_repair(hear):
    found = hear("verification", "dripping from the weep hole", *REPAIR, "weep hole's dry")
    assert [fact.text for fact in found] == ["weep hole's dry"]


def test_a_good_state_of_another_thing_at_the_end_is_a_finding(hear):
    assert hear("verification", *REPAIR, "left mirror is fine") == []
    assert [fact.what for fact in hear("finding", *REPAIR, "left mirror is fine")] == [
        "left mirror"
    ]


@pytest.mark.parametrize(
    "said",
    [
        "fourteen point two volts now",
        "if it does it again it wants a pump",
        "right bearing growls",
        "tell him to run it monthly",
        "found no cracks in the frame",
    ],
)
def test_figures_faults_and_advice_prove_nothing(hear, said):
    assert hear("verification", *REPAIR, said) == []


def test_before_the_repair_nothing_is_proved(hear):
    assert hear("verification", "complaint is it stalls", "spark's good", "fitted a pump") == []


def test_a_section_of_the_sheet_is_taken_as_verification(hear):
    found = hear("verification", *REPAIR, "under verification put, mowed the lot, left seal's dry")
    assert any("left seal's dry" in fact.text for fact in found)


@pytest.mark.parametrize(
    "said",
    [
        "cycled it eight times without fault",
        "the squeal is also gone",
        "took it round the yard, not one rattle",
        "all three lit for an hour, none dropped out",
    ],
)
def test_fewness_after_the_work_proves_the_repair(hear, said):
    assert hear("verification", "customer says it has a squeal", "fitted a new belt", said)


def test_leaving_a_thing_to_be_done_is_no_proof(hear):
    said = ("fitted a new belt", "don't raise that mast till the cable is changed")
    assert hear("verification", *said) == []

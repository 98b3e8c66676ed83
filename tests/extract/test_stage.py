from datetime import UTC, datetime

from jobnotes.extract.stage import find_facts
from jobnotes.intake.typed import typed
from jobnotes.record import AnyFact, Flag, Job, Reading

SAID = """battery voltage is twelve point four volts
cleaned the terminals
head bolts torqued to thirty newton metres"""


def job(text: str = SAID) -> Job:
    return typed(Job(id="j", created_at=datetime(2026, 9, 1, tzinfo=UTC)), text)


def readings(facts: tuple[AnyFact, ...]) -> list[Reading]:
    return [fact for fact in facts if isinstance(fact, Reading)]


def test_every_fact_has_a_number_of_its_own():
    ids = [fact.id for fact in find_facts(job())]
    assert "" not in ids
    assert len(ids) == len(set(ids))


def test_the_same_words_give_the_same_facts_again():
    assert find_facts(job()) == find_facts(job())


def test_every_fact_points_at_words_that_were_said():
    said = job()
    for fact in find_facts(said):
        assert fact.evidence
        for place in fact.evidence:
            words = said.words_of(place.recording)[place.first : place.last + 1]
            assert place.text == " ".join(word.text for word in words)


def test_every_fact_names_the_rule_that_saw_it():
    assert all("." in fact.rule for fact in find_facts(job()))


def test_a_doubt_about_a_word_becomes_a_flag_of_the_figure_that_rests_on_it():
    doubt = Flag(by="speech", code="heard-two-ways", why="Two ways.", options=("12.4", "20.4"))
    said = job()
    words = tuple(
        word.having(flags=(doubt,)) if word.text == "twelve" else word for word in said.words
    )
    volts, torque = readings(find_facts(said.having(words=words)))
    assert doubt in volts.flags
    assert doubt not in torque.flags


def test_a_job_in_which_nothing_was_said_has_no_facts():
    assert find_facts(Job(id="j", created_at=datetime(2026, 9, 1, tzinfo=UTC))) == ()

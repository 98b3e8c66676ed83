from datetime import UTC, datetime

from jobnotes.extract.talk import talk_of
from jobnotes.record import Job, Utterance, Word


def job() -> Job:
    texts = ["new", "bairings", "fitted"]
    words = [
        Word(recording="r1", index=n, text=text, start_s=n, end_s=n + 0.5)
        for n, text in enumerate(texts)
    ]
    words[1] = words[1].having(meant="bearings")
    breath = Utterance(recording="r1", index=0, first=0, last=2)
    made = Job(id="", created_at=datetime(2026, 3, 14, tzinfo=UTC))
    return made.having(words=tuple(words), utterances=(breath,))


def test_the_rules_read_the_word_that_was_meant() -> None:
    assert [token.text for token in talk_of(job()).doc] == ["new", "bearings", "fitted"]


def test_evidence_stays_as_heard() -> None:
    assert talk_of(job()).evidence(0, 3).text == "new bairings fitted"

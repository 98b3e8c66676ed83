"""What may leave the shop: facts that a person has settled, and nothing said in private."""

import re
from collections.abc import Iterable

from jobnotes.errors import IncompleteJobError, OpenFlagsError
from jobnotes.numbers.tokens import split
from jobnotes.pipeline import incomplete
from jobnotes.record import AnyFact, Audience, Evidence, Fact, Job, Photo, Private, State, Withdrawn
from jobnotes.report.english import rules
from jobnotes.report.spans import over, overlaps, place

SETTLE = "Listen to it, then say so with `jobnotes settle`."
REJECTED = State.REJECTED
SETTLED = (State.CONFIRMED, State.CORRECTED)
QUALITY_FLAGS = ("blurred", "dark", "alike")
FREE_TEXT = (
    "complaint", "symptom", "test", "finding", "cause", "action", "decision",
    "recommendation", "verification", "caution",
)  # fmt: skip


def for_customer(job: Job) -> tuple[AnyFact, ...]:
    """Return the facts that are meant for the customer, settled or not, in the order said."""
    private = _private_words(job)
    return tuple(
        fact
        for fact in sorted(job.facts, key=lambda fact: place(job, fact.evidence))
        if fact.audience is Audience.CUSTOMER
        and fact.state is not REJECTED
        and not isinstance(fact, (Private, Withdrawn))
        and not overlaps(fact.evidence, private)
    )


def printable(job: Job, *, draft: bool) -> tuple[AnyFact, ...]:
    """Return the facts that are printed: settled ones, in a draft also undoubted proposals."""
    allowed = (*SETTLED, State.PROPOSED) if draft else SETTLED
    unsure = _unsure_words(job)
    doubtful = tuple(fact for fact in job.facts if _figure_in_doubt(fact))
    return tuple(
        fact
        for fact in for_customer(job)
        if fact.state in allowed
        and not fact.open_flags
        and not (fact.state is State.PROPOSED and overlaps(fact.evidence, unsure))
        and not repeats_doubt(fact, doubtful)
    )


def waiting(job: Job) -> int:
    """Count the customer's facts that wait for the office: flagged, or near a doubtful figure."""
    return len(for_customer(job)) - len(printable(job, draft=True))


def _figure_in_doubt(fact: AnyFact) -> bool:
    """Say whether a figure in the words of this fact may be wrong as heard."""
    return (
        bool(fact.open_flags)
        or isinstance(fact, Withdrawn)
        or fact.state
        in (
            REJECTED,
            State.CORRECTED,
        )
    )


def repeats_doubt(fact: AnyFact, doubtful: Iterable[AnyFact]) -> bool:
    """Say whether a fact in the speaker's own words holds a figure that is in doubt elsewhere."""
    if fact.kind not in FREE_TEXT or fact.state is State.CORRECTED or not _numeric(own_words(fact)):
        return False
    others = (other for other in doubtful if other is not fact)
    return any(overlaps(fact.evidence, other.evidence) for other in others)


def own_words(fact: AnyFact) -> str:
    """Return all that a fact says in the speaker's words, as one text."""
    said = fact.model_dump(include=set(type(fact).model_fields) - set(Fact.model_fields) - {"kind"})
    return " ".join(value for value in said.values() if isinstance(value, str))


def _numeric(text: str) -> bool:
    words = set(rules("numbers")["words"])
    return any(re.search(r"\d", token) or token in words for token in _tokens(text))


def _tokens(text: str) -> list[str]:
    return [token for word in text.split() for token in split(word)]


def _private_words(job: Job) -> tuple[Evidence, ...]:
    remarks = [
        fact for fact in job.facts if isinstance(fact, Private) and fact.state is not REJECTED
    ]
    numbers = {n for remark in remarks for n in remark.utterances}
    breaths = (u for n, u in enumerate(job.utterances) if n in numbers)
    spans = tuple(over(u.recording, u.first, u.last) for u in breaths)
    return spans + tuple(evidence for remark in remarks for evidence in remark.evidence)


def _unsure_words(job: Job) -> tuple[Evidence, ...]:
    flagged = (word for word in job.words if any(flag.open for flag in word.flags))
    return tuple(over(word.recording, word.index, word.index) for word in flagged)


def photos(job: Job) -> tuple[Photo, ...]:
    """Return the photos that are printed, each without its caption while that is in doubt."""
    private = _private_words(job)
    doubtful = tuple(fact for fact in job.facts if _figure_in_doubt(fact))
    kept = (p for p in job.photos if p.included and not overlaps(p.evidence, private))
    return tuple(
        photo.having(caption="", evidence=()) if _caption_in_doubt(photo, doubtful) else photo
        for photo in kept
    )


def _caption_in_doubt(photo: Photo, doubtful: Iterable[AnyFact]) -> bool:
    if any(flag.open and flag.code not in QUALITY_FLAGS for flag in photo.flags):
        return True
    return _numeric(photo.caption) and any(overlaps(photo.evidence, f.evidence) for f in doubtful)


def issue(job: Job) -> None:
    """Refuse to let a job out while a stage is unfinished or a customer's fact is not settled.

    Raises IncompleteJobError, or OpenFlagsError when a recording or a fact is flagged, or a fact
    is unreviewed, or repeats in words a figure that was corrected, rejected or taken back.
    """
    unfinished = incomplete(job)
    if unfinished:
        raise IncompleteJobError(" ".join(unfinished))
    unheard = [
        f"{one.name}: {flag.why}" for one in job.recordings for flag in one.flags if flag.open
    ]
    if unheard:
        raise OpenFlagsError(" ".join(unheard), SETTLE)
    facts = for_customer(job)
    settled = {fact.id for fact in printable(job, draft=False)}
    left = [fact for fact in facts if fact.id not in settled]
    if left:
        raise OpenFlagsError(_why_not(left))


def _why_not(left: list[AnyFact]) -> str:
    flagged = [fact.id for fact in left if fact.open_flags]
    unread = [f.id for f in left if not f.open_flags and f.state is State.PROPOSED]
    repeated = [f.id for f in left if f.id not in (*flagged, *unread)]
    reasons = {
        "with an open flag": flagged,
        "not reviewed": unread,
        "repeating a figure that was corrected, rejected or taken back": repeated,
    }
    told = [f"{len(ids)} {why}: {', '.join(ids)}" for why, ids in reasons.items() if ids]
    return f"The report cannot go out; facts {'; '.join(told)}."

"""The job's facts as plain JSON, each with the words, seconds and rule it came from."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any

from jobnotes.record import (
    AnyFact,
    Audience,
    Evidence,
    Fact,
    Flag,
    Job,
    Labour,
    Photo,
    Private,
    Recording,
    State,
    Withdrawn,
)
from jobnotes.report.spans import breaths, place

KEYS = {
    "reading": "readings",
    "spec": "specs",
    "part": "parts",
    "action": "actions",
    "finding": "findings",
    "recommendation": "recommendations",
    "verification": "verification",
    "cause": "causes",
    "test": "tests",
    "wiring": "wiring",
    "decision": "decisions",
    "symptom": "symptoms",
    "caution": "cautions",
}
RENAMED = {"state_found": "state"}


def facts_json(job: Job) -> dict[str, Any]:
    """Return the facts of a job by kind, in the order said, with numbers as JSON numbers.

    Each fact has `said` (numbers of its utterances, counted over the job), `seconds` (start and
    end), `words`, `rule`, and `flags` (codes of those still open). Facts that are private,
    withdrawn or rejected stay out, but for the keys `private` and `withdrawn` themselves.
    """
    facts = sorted(job.facts, key=lambda fact: place(job, fact.evidence))
    standing = [fact for fact in facts if fact.state is not State.REJECTED]
    told = [fact for fact in standing if fact.audience is Audience.CUSTOMER]
    lists = {
        key: [_entry(job, fact) for fact in told if fact.kind == kind] for kind, key in KEYS.items()
    }
    return {
        "complaint": [fact.text for fact in told if fact.kind == "complaint"],
        **lists,
        "labour_minutes": _labour(standing),
        "private": sorted({n for f in standing if isinstance(f, Private) for n in f.utterances}),
        "withdrawn": [_withdrawn(job, f) for f in standing if isinstance(f, Withdrawn)],
        "photos": [_photo(job, photo) for photo in job.photos],
        "recordings": [_recording(recording) for recording in job.recordings],
    }


def _recording(recording: Recording) -> dict[str, Any]:
    """A recording and what is in doubt about it as a whole, such as that nothing was heard."""
    open_codes = [flag.code for flag in recording.flags if flag.open]
    return {"name": recording.name, "duration_s": recording.duration_s, "flags": open_codes}


def _entry(job: Job, fact: AnyFact) -> dict[str, Any]:
    own = [name for name in type(fact).model_fields if name not in (*Fact.model_fields, "kind")]
    fields = {RENAMED.get(name, name): _plain(getattr(fact, name)) for name in own}
    return {**fields, "id": fact.id, "rule": fact.rule, **_source(job, fact.evidence, fact.flags)}


def _source(job: Job, evidence: Sequence[Evidence], flags: Iterable[Flag]) -> dict[str, Any]:
    seconds = [*(e.start_s for e in evidence), *(e.end_s for e in evidence)]
    return {
        "said": list(breaths(job, evidence)),
        "seconds": [min(seconds), max(seconds)] if seconds else [],
        "words": " … ".join(part.text for part in evidence),
        "flags": [flag.code for flag in flags if flag.open],
    }


def _plain(value: Any) -> Any:
    """Turn a field into what JSON holds: decimals into numbers, tuples into lists."""
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    return list(value) if isinstance(value, tuple) else value


def _labour(facts: Iterable[AnyFact]) -> int | float | None:
    """Return the minutes of all labour facts together, None where none was said."""
    minutes = [fact.minutes for fact in facts if isinstance(fact, Labour)]
    total: int | float | None = _plain(sum(minutes, Decimal(0))) if minutes else None
    return total


def _withdrawn(job: Job, fact: Withdrawn) -> dict[str, Any]:
    kind = KEYS.get(fact.of, fact.of)
    return {**_entry(job, fact), "kind": kind}


def _photo(job: Job, photo: Photo) -> dict[str, Any]:
    return {
        "id": photo.id,
        "name": photo.name,
        "sha256": photo.sha256,
        "caption": photo.caption,
        "matched_by": photo.matched_by,
        "confidence": photo.confidence,
        "included": photo.included,
        **_source(job, photo.evidence, photo.flags),
    }

"""Where facts stand in the speech: the same words, the same breath, the order said."""

from collections.abc import Iterable, Sequence

from jobnotes.record import Evidence, Job


def over(recording: str, first: int, last: int) -> Evidence:
    """Return the span of words `first` to `last`, without seconds or text."""
    return Evidence(recording=recording, first=first, last=last, start_s=0, end_s=0, text="")


def overlaps(one: Iterable[Evidence], other: Iterable[Evidence]) -> bool:
    """Say whether two pieces of evidence share a word."""
    others = tuple(other)
    return any(
        a.recording == b.recording and a.first <= b.last and b.first <= a.last
        for a in one
        for b in others
    )


def place(job: Job, evidence: Sequence[Evidence]) -> tuple[int, int]:
    """Return a key that sorts by the order said; what has no evidence comes last."""
    order = {recording.id: n for n, recording in enumerate(job.recordings)}
    if not evidence:
        return len(order), 0
    return order.get(evidence[0].recording, len(order)), evidence[0].first


def breaths(job: Job, evidence: Iterable[Evidence]) -> tuple[int, ...]:
    """Return the numbers, counted over the job, of the utterances that the evidence touches."""
    spans = tuple(evidence)
    return tuple(
        n
        for n, breath in enumerate(job.utterances)
        if overlaps(spans, [over(breath.recording, breath.first, breath.last)])
    )


def clock(seconds: float) -> str:
    """Return seconds as minutes and seconds, 75.2 as 1:15."""
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"

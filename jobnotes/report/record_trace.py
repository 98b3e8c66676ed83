"""Where a line of the job record was said, who looked at it, and why it is in doubt."""

from collections.abc import Sequence

from jobnotes.record import Event, Evidence, Flag, Job, State
from jobnotes.report.english import clean, joined, rules
from jobnotes.report.spans import clock
from jobnotes.review.history import ENTER, standing


def said_at(job: Job, evidence: Sequence[Evidence]) -> str:
    """Return recording and time of each piece of evidence: "r1 0:14, 1:05"; lines have no time."""
    typed = {recording.id for recording in job.recordings if recording.format == "text"}
    times: dict[str, dict[str, None]] = {}
    for part in evidence:
        told = times.setdefault(part.recording, {})
        told |= {} if part.recording in typed else {clock(part.start_s): None}
    return "; ".join(f"{name} {', '.join(told)}".strip() for name, told in times.items())


def reviewed(job: Job, subject: str, state: str) -> str:
    """Return what was last said of a subject, by whom and when; times are UTC."""
    steps = [event for event in standing(job) if event.subject == subject]
    if not steps:
        return rules("record")["words"]["unreviewed"] if state == State.PROPOSED else state
    last = steps[-1]
    told = rules("record")["words"]["entered"] if last.what == ENTER else state
    return f"{told}, {clean(last.who)}, {last.at:%Y-%m-%d %H:%M} UTC"


def doubt(flag: Flag) -> str:
    """Return why something is in doubt, and what it may be."""
    options = joined([clean(option) for option in flag.options], "or")
    return f"{clean(flag.why)}{f' It may be {options}.' if len(flag.options) > 1 else ''}"


def answered(event: Event) -> str:
    """Return what the customer said to a piece of advice, by the link to an issued report."""
    said, report = event.after["answer"], event.after["report"]
    when = f"{event.at:%Y-%m-%d %H:%M} UTC"
    return f"The customer said {said} to report {report} ({clean(event.who)}, {when})."

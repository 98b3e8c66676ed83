"""What the command line prints of jobs, facts and progress, in plain words."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from textwrap import fill
from typing import TYPE_CHECKING

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn
from rich.table import Table

from jobnotes.photos.clock_notes import clock_notes
from jobnotes.record import AnyFact, Evidence, Fact, Flag, Job
from jobnotes.report.spans import clock
from jobnotes.store.store import Summary

if TYPE_CHECKING:
    from jobnotes.report.explain import Explanation, Place
    from jobnotes.report.machine import Series, Visit
    from jobnotes.retention import Due
    from jobnotes.store.erasures import Taken

_CARRIED = frozenset(Fact.model_fields) | {"kind"}


@contextmanager
def progress(title: str) -> Iterator[Callable[[float], None]]:
    """Show a bar on a terminal's standard error while work goes on; the function takes 0 to 1."""
    console = Console(stderr=True)
    columns = TextColumn(title), BarColumn(), TextColumn("{task.percentage:.0f} %")
    hidden = not console.is_terminal
    with Progress(*columns, TimeElapsedColumn(), console=console, disable=hidden) as bar:
        task = bar.add_task(title, total=1.0)
        yield lambda done: bar.update(task, completed=done)


def print_words(job: Job) -> None:
    """Print one line a breath: its first second, its words."""
    words = {(word.recording, word.index): word for word in job.words}
    for breath in job.utterances:
        heard = [words[breath.recording, n] for n in range(breath.first, breath.last + 1)]
        print(f"{clock(heard[0].start_s)}  {' '.join(word.text for word in heard)}")
    for recording in job.recordings:
        for flag in recording.flags:
            print(f"{recording.name}: {flag.why}")


def print_jobs(jobs: Sequence[Summary]) -> None:
    """Print one line a job."""
    table = Table("Job", "Started", "Machine", "Customer", box=None, header_style="bold")
    for job in jobs:
        table.add_row(job.id, f"{job.created_at:%Y-%m-%d %H:%M}", job.machine, job.customer)
    Console(markup=False).print(table)


def print_due(due: Sequence["Due"], erased: bool, backups: Sequence["Taken"]) -> None:
    """Print what an erasure takes, or took, a line a job, and which backups still hold it."""
    table = Table("Job", "Started", "Machine", "Recordings", "Photos", "Reports", box=None)
    for one in due:
        counts = (str(one.recordings), str(one.photos), str(one.reports))
        table.add_row(one.job, f"{one.started:%Y-%m-%d}", one.machine, *counts)
    Console(markup=False).print(table)
    if not due:
        print("There is nothing to erase.")
    elif not erased:
        print("Nothing was erased yet: add --for-good. It cannot be taken back.")
    else:
        print("Erased, but for the number of each job and a note of when and by whom.")
    if due and backups:
        print("These backups still hold it, until you delete them; a restored one brings it back:")
    for taken in backups if due else ():
        print(f"  {taken.at}  {taken.place}")


def print_history(visits: Sequence["Visit"], series: Sequence["Series"]) -> None:
    """Print a machine's jobs, oldest first, then each reading that was taken on several."""
    table = Table("Date", "Job", "Complaint", "Cause", box=None, header_style="bold")
    for visit in visits:
        table.add_row(f"{visit.day}", visit.job, visit.complaint, visit.cause)
    Console(markup=False).print(table)
    for one in series:
        print(f"\n{one.name}")
        for taken in one.taken:
            print(f"  {taken.day}  {taken.job}  {taken.words}")


def print_outcome(job: Job) -> None:
    """Print what came of a job in a few lines."""
    flagged = sum(1 for fact in job.facts if fact.open_flags)
    heard = f"{len(job.words)} words and {len(job.photos)} photos"
    print(f"Job {job.id}: {heard}; {len(job.facts)} facts, {flagged} with an open flag.")
    for question in job.questions:
        print(f"  Still to ask: {question.ask}")


def print_job(job: Job) -> None:
    """Print a job whole: steps, facts (flagged ones first), photos, open questions."""
    print(f"Job {job.id}  {job.machine.description}  {job.customer}".rstrip())
    for run in job.stages:
        print(f"  {run.stage}: {'done' if run.done else f'not done: {run.why} {run.remedy}'}")
    for recording in job.recordings:
        print(f"  {recording.id}  {recording.name}: {clock(recording.duration_s)} long")
        _print_flags(recording.flags)
    for fact in sorted(job.facts, key=lambda fact: not fact.open_flags):
        print_fact(fact)
    for note in clock_notes(job):
        print(f"\n{note}")
    for photo in job.photos:
        how = f", {photo.matched_by}, {photo.confidence:.0%} sure" if photo.matched_by else ""
        print(f"\n{photo.id}  photo  {photo.name}: {photo.caption or 'no caption'}{how}")
        _print_flags(photo.flags)
    print()
    for question in job.questions:
        print(f"Still to ask: {question.ask}")


def print_fact(fact: AnyFact) -> None:
    """Print a fact in three lines or more: what it says, the words it came from, its flags."""
    print(f"\n{fact.id}  {fact.kind}, {fact.state}: {described(fact)}")
    heard = " ... ".join(place.text for place in fact.evidence)
    print(f'    {_when(fact.evidence)} "{heard}"  ({fact.rule})')
    _print_flags(fact.flags)


def print_explanation(told: "Explanation") -> None:
    """Print how a fact came about; its own words stand between square brackets."""
    fact = told.fact
    print(f"{fact.id}  {fact.kind}, {fact.state}: {described(fact)}")
    for place in told.places:
        span = f"{clock(place.start_s)} to {clock(place.end_s)}"
        print(f"\n{place.name or place.recording}, {span}, words {_span(place)}:")
        _print_wrapped(f"{place.before} [{place.own}] {place.after}".strip())
    _print_rule(told)
    for flag in fact.flags:
        print(f"\nFlag {flag.code} ({'open' if flag.open else 'settled'}): {flag.why}")
        for option in flag.options:
            print(f"    it may be: {option}")
    for event in told.events:
        print(f"\n{event.at:%Y-%m-%d %H:%M}  {event.who}: {event.what}")
        for name in (name for name in event.after if name not in _CARRIED):
            print(f"    {name}: {event.before.get(name, '')} -> {event.after[name]}")


def _print_rule(told: "Explanation") -> None:
    print(f"\nRule {told.rule.id}:")
    _print_wrapped(told.rule.meaning)
    if told.heard:
        _print_wrapped(f"Heard here: {', '.join(told.heard)}.")
    if told.rule.phrases:
        _print_wrapped(f"It knows: {', '.join(told.rule.phrases)}.")


def _print_wrapped(text: str) -> None:
    print(fill(text, width=96, initial_indent="    ", subsequent_indent="    "))


def _span(place: "Place") -> str:
    return f"{place.recording}:{place.first}-{place.last}"


def _print_flags(flags: Sequence[Flag]) -> None:
    for flag in flags:
        if flag.open:
            print(f"    ! {flag.code}: {flag.why}")


def described(fact: AnyFact) -> str:
    """Return what a fact says: its own fields that are not empty, each with its name."""
    fields = fact.model_dump(exclude=set(_CARRIED))
    return ", ".join(
        f"{name.replace('_', ' ')} {value}"
        for name, value in fields.items()
        if value not in ("", None, ())
    )


def _when(evidence: Sequence[Evidence]) -> str:
    return clock(evidence[0].start_s) if evidence else ""

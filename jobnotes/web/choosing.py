"""Which job somebody means who says it: a new one, one by its number, or one by its words."""

from collections.abc import Sequence
from dataclasses import dataclass

from jobnotes.numbers.spoken import number_at
from jobnotes.numbers.tokens import split
from jobnotes.store.rows import folded
from jobnotes.store.store import Summary

FILLERS = frozenset({
    "a", "an", "the", "this", "that", "is", "it", "its", "job", "number", "for", "of", "on",
    "with", "go", "start", "begin", "open", "continue", "please", "now", "machine",
    "customer", "from", "back", "to", "and",
})  # fmt: skip
NEW = ("new", "job")
_FOR = "for"


@dataclass(frozen=True)
class Choice:
    """What was meant: a new job of a machine and a customer, or the jobs that it may be."""

    new: bool = False
    machine: str = ""
    customer: str = ""
    jobs: tuple[Summary, ...] = ()


def meant(said: str, jobs: Sequence[Summary]) -> Choice:
    """Return what was meant; `jobs` are those that can be, the newest first."""
    words = [word.strip(".,;:!?") for word in said.split()]
    low = [word.lower() for word in words]
    for at in range(len(low) - 1):
        if tuple(low[at : at + 2]) == NEW:
            return _new(words[at + 2 :])
    return Choice(jobs=_numbered(low, jobs) or _named(low, jobs))


def _new(words: Sequence[str]) -> Choice:
    """The machine is named first, the customer behind the last "for"."""
    rest = list(words)
    while rest and rest[0].lower() in FILLERS:
        rest.pop(0)
    places = [n for n, word in enumerate(rest) if word.lower() == _FOR]
    cut = places[-1] if places else len(rest)
    return Choice(True, " ".join(rest[:cut]), " ".join(rest[cut + 1 :]))


def _numbered(low: Sequence[str], jobs: Sequence[Summary]) -> tuple[Summary, ...]:
    """Only a number said behind "job" or "number" counts, the last part of what a job is called."""
    tokens = [token for word in low for token in split(word)]
    for at in range(1, len(tokens)):
        if tokens[at - 1] in ("job", "number") and (number := number_at(tokens, at)):
            wanted = {f"{option.value:f}" for option in number.options}
            return tuple(job for job in jobs if job.id.rpartition("-")[2].lstrip("0") in wanted)
    return ()


def _named(low: Sequence[str], jobs: Sequence[Summary]) -> tuple[Summary, ...]:
    """Return the jobs that share the most words with what was said."""
    wanted = {folded(word) for word in low} - FILLERS - {""}
    shared = {
        job: len(wanted & set(folded(f"{job.machine} {job.customer}").split())) for job in jobs
    }
    most = max(shared.values(), default=0)
    return tuple(job for job, count in shared.items() if count == most) if most else ()

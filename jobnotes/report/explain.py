"""How a fact came about: the words around it, the rule that saw it, and its review."""

from dataclasses import dataclass

from jobnotes.extract.meanings import Rule, rule
from jobnotes.record import AnyFact, Event, Evidence, Job
from jobnotes.review.events import fact_of

AROUND = 14  # words shown on either side of a fact's own


@dataclass(frozen=True)
class Place:
    """Where a fact was said: a recording, seconds in it, its own words and those on both sides.

    `first` and `last` number its words within the recording, as `jobnotes enter` takes them.
    """

    recording: str
    name: str
    first: int
    last: int
    start_s: float
    end_s: float
    before: str
    own: str
    after: str


@dataclass(frozen=True)
class Explanation:
    """A fact with all that it rests on; `heard` are the rule's phrases that stand in the words."""

    fact: AnyFact
    places: tuple[Place, ...]
    rule: Rule
    heard: tuple[str, ...]
    events: tuple[Event, ...]


def explain(job: Job, fact_id: str) -> Explanation:
    """Return how a fact came about; raises ReviewError for an id that the job does not have."""
    fact = fact_of(job, fact_id)
    places = tuple(place(job, evidence) for evidence in fact.evidence)
    found = rule(fact.rule)
    return Explanation(
        fact=fact,
        places=places,
        rule=found,
        heard=tuple(phrase for phrase in found.phrases if any(_holds(p, phrase) for p in places)),
        events=tuple(event for event in job.events if event.subject == fact_id),
    )


def place(job: Job, evidence: Evidence) -> Place:
    """Return the words of a piece of evidence with those around them in the same recording."""
    said = job.words_of(evidence.recording)
    names = {recording.id: recording.name for recording in job.recordings}

    def text(first: int, last: int) -> str:
        return " ".join(word.text for word in said if first <= word.index <= last)

    return Place(
        recording=evidence.recording,
        name=names.get(evidence.recording, ""),
        first=evidence.first,
        last=evidence.last,
        start_s=evidence.start_s,
        end_s=evidence.end_s,
        before=text(evidence.first - AROUND, evidence.first - 1),
        own=text(evidence.first, evidence.last),
        after=text(evidence.last + 1, evidence.last + AROUND),
    )


def _holds(found: Place, phrase: str) -> bool:
    """Tell whether a phrase stands in a fact's words or in those right before and after them."""
    said = " ".join((found.before, found.own, found.after)).lower()
    plain = "".join(letter if letter.isalnum() or letter == "'" else " " for letter in said)
    return f" {phrase} " in f" {' '.join(plain.split())} "

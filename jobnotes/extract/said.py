"""One state as told."""

from dataclasses import dataclass

from jobnotes.extract.clauses import Clause
from jobnotes.extract.nouns import Noun


@dataclass(frozen=True, slots=True)
class Seen:
    """A thing and its state: the words, the tokens that tell it, whether it is good or denied."""

    what: Noun
    state: str
    start: int
    stop: int
    rule: str
    good: bool
    negated: bool
    clause: Clause
    symptom: bool = False

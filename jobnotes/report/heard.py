"""Small words around a fact's fields, taken from the words that it rests on."""

import re

from jobnotes.record import AnyFact
from jobnotes.report.english import clean


def as_heard(text: str, fact: AnyFact) -> str:
    """Return text with the "a", "an" or "some" that was said before it, if one was."""
    said = clean(text)
    found = _before(said, fact)
    return f"{found} {said}" if found in ("a", "an", "some") else said


def is_known(name: str, fact: AnyFact) -> bool:
    """Say whether a thing was spoken of as one that is known: "the hose", "its hose"."""
    return _before(clean(name), fact) in ("the", "this", "that", "these", "those", "its", "their")


def _before(text: str, fact: AnyFact) -> str:
    """Return the small word before a text in the fact's own words, nothing where there is none."""
    heard = " ".join(part.text for part in fact.evidence).lower()
    small = "a|an|some|the|this|that|these|those|its|their"
    found = re.search(rf"\b({small}) {re.escape(text.lower())}\b", heard) if text else None
    return found[1] if found else ""

"""What the report asks of a language beside its catalogue: to put the facts' own words into it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from jobnotes.record import Action, Decision, Finding, Language, Reading, Wiring


@dataclass(frozen=True)
class Deed:
    """Work on a thing in words: with the thing named, and told of one just named ("took it off").

    `again` is empty where that cannot be said; `closed` says that nothing more goes into its
    sentence.
    """

    named: str
    again: str
    closed: bool = False


class Tongue(Protocol):
    """A language. Every text is without its full stop unless it says otherwise."""

    @property
    def code(self) -> Language:
        """Return the language's code."""

    def sentence(self, text: str) -> str:
        """Return a text with a capital and a full stop; nothing for nothing."""

    def words(self, text: str) -> str:
        """Return free words, to stand behind a colon or in a table."""

    def quotation(self, text: str) -> str:
        """Return what somebody said as a sentence with its stop, to stand in quotation marks."""

    def name(self, thing: str) -> str:
        """Return the name of a thing or of what is measured, bare."""

    def the(self, thing: str) -> str:
        """Return the name of a thing that is known, with its article."""

    def one(self, thing: str) -> str:
        """Return the name of a thing not met before, with its article."""

    def clause(self, text: str) -> str:
        """Return what somebody did or saw happen, as a sentence of its own."""

    def finding(self, fact: Finding) -> str:
        """Say in which state a thing was found."""

    def cause(self, text: str) -> str:
        """Say why the machine failed."""

    def advice(self, text: str, urgency: str) -> str:
        """Say what is advised, and by when."""

    def decision(self, fact: Decision) -> str:
        """Say what was chosen, over what and why; nothing where nothing was."""

    def wiring(self, fact: Wiring) -> str:
        """Say which wire runs from where to where, and what for; nothing without ends."""

    def deed(self, action: Action, readings: Sequence[Reading]) -> Deed:
        """Say what was done, to what, with what, and to which figures."""

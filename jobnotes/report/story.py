"""The repair story as data: what is said, and the facts each sentence rests on; no form, no ink."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from jobnotes.record import Language, Photo
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.quoting import plain

PageSize = Literal["A4", "Letter"]

PhotoBytes = Callable[[Photo, int], bytes]
"""Gives a photo's JPEG or PNG bytes, its long side at most so many pixels."""


@dataclass(frozen=True)
class Shop:
    """Whose report it is; `address` may have lines, `logo` is a PNG or JPEG file's bytes."""

    name: str = ""
    address: str = ""
    phone: str = ""
    logo: bytes = b""


@dataclass(frozen=True)
class Sentence:
    """One printed sentence and the ids of the facts it rests on."""

    text: str
    facts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Picture:
    """A photo with its number in the report; `phase` is set when the caption says which it is.

    `alt` stands for the photo where it cannot be seen.
    """

    number: int
    photo: Photo
    caption: Sentence
    alt: str
    phase: Literal["", "before", "after"] = ""


@dataclass(frozen=True)
class Item:
    """A sentence of a list, with the photos that show it."""

    sentence: Sentence
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True)
class Point:
    """One reading of a measure, its value in the measure's unit.

    `name` tells it from the others ("before", "cylinder 2"); `said` is the figure as said, `text`
    has the converted one behind it; `hollow` marks are drawn as rings.
    """

    name: str
    said: str
    text: str
    value: float
    verdict: str = ""
    hollow: bool = False


@dataclass(frozen=True)
class Limits:
    """What the value should be: `text` as printed, both ends in the unit of the measure."""

    text: str
    low: float | None
    high: float | None
    low_said: str
    high_said: str


@dataclass(frozen=True)
class Measure:
    """Readings of one thing in one place, against its limits where these are known."""

    what: str
    context: str
    points: tuple[Point, ...]
    limits: Limits | None
    facts: tuple[str, ...]
    language: Language = "en"

    def name(self) -> str:
        """Return what was measured, with where, when and how."""
        return f"{self.what}, {self.context}" if self.context else self.what

    def lines(self) -> tuple[str, ...]:
        """Return each reading with its name and what the limits say of it."""
        named = [
            say(self.language, "reading-line", name=p.name, figure=p.text) if p.name else p.text
            for p in self.points
        ]
        return tuple(
            f"{said} – {point.verdict}" if point.verdict else said
            for said, point in zip(named, self.points, strict=True)
        )

    def alt(self) -> str:
        """Return what stands for the drawing of the readings where it cannot be seen."""
        message = "drawn-against" if self.limits else "drawn"
        limits = self.limits.text if self.limits else ""
        readings = "; ".join(self.lines())
        told = say(self.language, message, name=self.name(), readings=readings, limits=limits)
        return plain(told)


@dataclass(frozen=True)
class PartRow:
    """A part: `fate` says in plain words what became of it."""

    name: str
    number: str
    quantity: str
    fate: str
    note: str
    price: str
    facts: tuple[str, ...]


@dataclass(frozen=True)
class Gallery:
    """Photos that belong to no sentence of their own."""

    pictures: tuple[Picture, ...]


@dataclass(frozen=True)
class Term:
    """A word of the trade and its meaning."""

    name: str
    meaning: str


Block = Item | Measure | PartRow | Gallery | Term


@dataclass(frozen=True)
class Section:
    """A headed part of the story; `numbered` lists happened in that order."""

    key: str
    title: str
    blocks: tuple[Block, ...]
    lead: str = ""
    numbered: bool = False


@dataclass(frozen=True)
class Story:
    """Everything the customer reads, in order; a draft's `notes` say what it still lacks."""

    shop: Shop
    job: str
    title: str
    customer: str
    technician: str
    machine: str
    date: str
    draft: bool
    notes: tuple[str, ...]
    sections: tuple[Section, ...]
    language: Language = "en"

    def say(self, message: str, **values: str) -> str:
        """Return a fixed text in the language of the story."""
        return say(self.language, message, **values)

    def name(self) -> str:
        """Return what the report is called, in a list of files or the head of a window."""
        return self.say("story-name", title=plain(self.title))

    def about(self) -> str:
        """Return whose job it is, its number, day and technician, as one line."""
        technician = self.say("work-by", name=self.technician) if self.technician else ""
        customer = self.say("for-customer", name=self.customer) if self.customer else ""
        told = [customer, self.say("job", job=self.job), self.date, technician]
        return " · ".join(part for part in told if part)

    def edge(self) -> str:
        """Return what stands at the foot of every page."""
        return self.say("edge", title=plain(self.title), job=self.job)

    def advice(self) -> tuple[Sentence, ...]:
        """Return what the customer is advised to do, a sentence each."""
        items = (block for one in self.sections if one.key == "advice" for block in one.blocks)
        return tuple(block.sentence for block in items if isinstance(block, Item))

    def sentences(self) -> tuple[Sentence, ...]:
        """Return every sentence and caption that rests on facts, in printed order."""
        items = [block for section in self.sections for block in section.blocks]
        return tuple(
            sentence
            for block in items
            if isinstance(block, (Item, Gallery))
            for sentence in _sentences(block)
        )


def _sentences(block: Item | Gallery) -> tuple[Sentence, ...]:
    captions = tuple(picture.caption for picture in block.pictures)
    return (block.sentence, *captions) if isinstance(block, Item) else captions

"""What the PDF has no glyph for, told to the office before the customer sees it."""

import unicodedata
from collections.abc import Iterator

from jobnotes.record import Job
from jobnotes.report import gate
from jobnotes.report.english import clean
from jobnotes.report.lettering import legible, missing


def unprinted(job: Job) -> tuple[str, ...]:
    """Return a sentence on each text for the customer that the PDF cannot show whole."""
    told = dict.fromkeys(text for text in _texts(job) if _lost(text))
    return tuple(
        f"The PDF has no shape for part of “{clean(text)}”. It will read “{legible(clean(text))}”."
        for text in told
    )


def _texts(job: Job) -> Iterator[str]:
    machine = job.machine
    yield from (job.customer, job.technician)
    yield from (machine.description, machine.make, machine.model, machine.serial)
    yield from (gate.own_words(fact) for fact in gate.printable(job, draft=True))
    yield from (photo.caption for photo in gate.photos(job))


def _lost(text: str) -> bool:
    private = any(unicodedata.category(char) == "Co" for char in text)
    return private or bool(missing(clean(text)))

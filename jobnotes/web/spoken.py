"""Choosing a job by voice: a few seconds of sound, heard at once and not kept."""

from pathlib import Path
from tempfile import TemporaryDirectory

from starlette.responses import Response

from jobnotes.errors import TooLargeError
from jobnotes.intake.audio import RATE, blocks
from jobnotes.speech.engine import Samples
from jobnotes.web.choosing import Choice, meant
from jobnotes.web.site import Ask, go, page

LONGEST_S = 15.0
"""Seconds that are heard; the phone stops after fewer."""

MOST_JOBS = 200
"""The newest jobs among which one is looked for: what stands in a shop; no source."""

MOST_SHOWN = 6


def choose(ask: Ask) -> Response:
    """Open the one job that was meant, start a new one, or show which it may be."""
    heard = ask.site.listening.hear(_samples(ask.body))
    said = " ".join(word.text for word in heard.words)
    choice = meant(said, ask.desk.store.list(limit=MOST_JOBS))
    if choice.new:
        return _started(ask, choice)
    if len(choice.jobs) == 1:
        return go(f"/bench/{choice.jobs[0].id}")
    return page(ask, "which_job.html", said=said, jobs=choice.jobs[:MOST_SHOWN])


def _started(ask: Ask, choice: Choice) -> Response:
    machine, customer = choice.machine[:200], choice.customer[:200]
    return go(f"/bench/{ask.desk.new(machine, customer=customer).id}")


def _samples(sound: bytes) -> Samples:
    """Return what is heard of a sound file; raises InputError for what is none, or is too long."""
    with TemporaryDirectory() as scratch:
        file = Path(scratch) / "spoken"
        file.write_bytes(sound)
        found = blocks(file, LONGEST_S)
        first = next(found)
        if next(found, None) is not None:
            raise TooLargeError(f"That is more than {LONGEST_S:.0f} s ({first.size / RATE:.0f} s).")
        return first

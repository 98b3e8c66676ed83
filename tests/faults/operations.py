"""What a shop does that writes: each operation, the shop it begins in, and what is given to it."""

import hashlib
import mmap
import os
import wave
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import NamedTuple

import numpy as np
from old_store import make_old_store
from PIL import Image

from jobnotes import retention
from jobnotes.backup import form
from jobnotes.backup.restore import restore
from jobnotes.backup.take import back_up
from jobnotes.desk import Desk, open_desk
from jobnotes.intake.audio import decode
from jobnotes.live import session
from jobnotes.live.source import Block
from jobnotes.record import Job
from jobnotes.review import entering, events
from jobnotes.settings import Settings
from jobnotes.speech import transcribe, whisper
from jobnotes.speech.canned import CannedRecogniser
from jobnotes.watch.round import Round, take_round
from jobnotes.web import pieces
from jobnotes.web.incoming import resume
from jobnotes.web.reports import frozen
from jobnotes.web.site import Site
from jobnotes.web.worker import _BROKEN, Worker

NOW = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)
JOB = "2026-0001"
TAKE = "0" * 32
RATE = 16_000
SAID = """complaint is it will not idle
battery voltage, key off, twelve point four volts
part number k l dash four four two, ordered
labour forty minutes
"""


class Place(NamedTuple):
    """A shop's folder, and beside it what is given to the operation."""

    folder: Path

    @property
    def given(self) -> Path:
        return self.folder / "given"

    @property
    def settings(self) -> Settings:
        return Settings(data_folder=self.folder / "shop")

    def desk(self) -> Desk:
        return open_desk(self.settings)


class Operation(NamedTuple):
    """`prepare` makes the shop, `act` is the operation; `whole` means all of it or nothing.

    `repeats` is false where doing it twice is asking for two; `check` says what else is wrong;
    `erases` says that originals go with it.
    """

    prepare: Callable[[Place], None]
    act: Callable[[Place], object]
    whole: bool = False
    repeats: bool = True
    erases: bool = False
    check: Callable[[Place], list[str]] = lambda place: []


def sound(path: Path, seconds: float = 1.0, seed: int = 7) -> Path:
    """Write noise in which no two places are alike."""
    noise = np.random.default_rng(seed).integers(-9000, 9000, int(RATE * seconds), np.int16)
    with wave.open(str(path), "wb") as file:
        file.setparams((1, 2, RATE, 0, "NONE", ""))
        file.writeframes(noise.tobytes())
    return path


def photos(folder: Path) -> None:
    picture = Image.effect_noise((96, 64), 80).convert("RGB")
    for ending in ("jpg", "png", "heic"):
        picture.save(folder / f"IMG_20260314_1001{len(ending):02}.{ending}")


def empty_job(place: Place, when: datetime = NOW) -> Desk:
    """Make a shop with one job and an older one that has an original, which must never suffer."""
    place.given.mkdir()
    desk = place.desk()
    desk.new("tiller", "TV-4471", "Ms Okafor", created_at=when)
    older = desk.new("pump", created_at=datetime(2025, 1, 2, tzinfo=UTC))
    desk.add(older.id, [sound(place.folder / "older.wav", seed=1)])
    return desk


def job_with_sound(place: Place) -> None:
    empty_job(place).add(JOB, [sound(place.given / "long.wav", 7.0)])


def job_with_text(place: Place) -> Desk:
    desk = empty_job(place)
    (place.given / "said.txt").write_text(SAID)
    desk.add(JOB, [place.given / "said.txt"])
    return desk


def job_understood(place: Place) -> Desk:
    desk = job_with_text(place)
    desk.run(JOB)
    return desk


def job_settled(place: Place) -> None:
    desk = job_understood(place)
    desk.review(JOB, partial(events.confirm_unflagged, who="Ada", at=NOW))


def given_sound(place: Place) -> None:
    empty_job(place)
    for n in range(3):
        sound(place.given / f"20260314_10{n:02}00.wav", seed=n)


def given_photos(place: Place) -> None:
    empty_job(place)
    photos(place.given)


def given_text(place: Place) -> None:
    empty_job(place)
    (place.given / "said.txt").write_text(SAID)


def given_apart(place: Place) -> None:
    """Recordings and a photo: into the open job, and into a new one of another day."""
    given_sound(place)
    photos(place.given)
    sound(place.given / "20260401_100000.wav", seed=9)


def given_bundle(place: Place) -> None:
    other = Place(place.folder / "other")
    other.folder.mkdir()
    desk = empty_job(other, NOW - timedelta(days=1))
    (other.given / "said.txt").write_text(SAID)
    photos(other.given)
    sound(other.given / "a.wav", seed=3)
    desk.add(JOB, [other.given])
    empty_job(place)
    desk.export(JOB, place.given / "job.zip")
    desk.store.close()


def given_dictation(place: Place) -> None:
    """A dictation that a kill has left in the spool folder, and one that ended properly."""
    desk = empty_job(place)
    with session.held(desk.settings.spool_folder):
        for ends in (True, False):
            tape = session.Tape(desk.settings.spool_folder, JOB)
            for block in spoken():
                tape.add(block)
            (tape.end if ends else tape.leave)()


def given_take(place: Place) -> None:
    """A phone's take that has arrived whole and waits."""
    desk = empty_job(place)
    content = sound(place.given / "take.wav").read_bytes()
    folder = pieces.take_folder(desk.settings.data_folder, JOB, TAKE)
    for piece, told in _pieces(content):
        pieces.keep(folder, piece, told)
    pieces.close(folder, _end(content))


def given_pieces(place: Place) -> None:
    empty_job(place)
    sound(place.given / "take.wav")


def spoken() -> list[Block]:
    """Return two seconds of sound in blocks."""
    noise = np.random.default_rng(5).integers(-9000, 9000, (20, RATE // 10), np.int16)
    return [Block(samples) for samples in noise]


GIVEN = mmap.mmap(-1, 1)  # how many blocks were given to be written, seen by every fork


class _Spoken:
    def blocks(self) -> Iterator[Block]:
        for number, block in enumerate(spoken()):
            GIVEN[0] = number  # those before it were written
            yield block
        GIVEN[0] = number + 1


def not_kept(place: Place) -> list[str]:
    """Say whether the sound that was given before a kill is in the job, and nothing else."""
    desk = place.desk()
    kept = [decode(desk.audio_path(one)) for one in desk.load(JOB).recordings]
    heard = np.round(np.concatenate([np.zeros(0), *kept]) * (1 << 15)).astype(np.int16)
    said = np.concatenate([block.samples for block in spoken()])
    if heard.size < GIVEN[0] * RATE // 10 or not np.array_equal(heard, said[: heard.size]):
        return [f"{heard.size} samples are kept of {GIVEN[0]} blocks"]
    return []


def add(place: Place) -> None:
    place.desk().add(JOB, [place.given])


def hear(place: Place) -> None:
    """Hear a recording in blocks of two seconds, by a recogniser that answers at once."""
    transcribe._BLOCK_S, transcribe._SEARCH_S = 2.0, 1.0
    hear_at_once()
    place.desk().run(JOB)


def hear_at_once() -> None:
    canned = CannedRecogniser.saying("battery voltage is twelve point four volts", word_s=0.1)
    whisper.WhisperRecogniser.load = lambda *_, **__: canned  # type: ignore[method-assign]


def run(place: Place) -> None:
    place.desk().run(JOB)


def review(step: Callable[..., Job], place: Place, **more: object) -> None:
    place.desk().review(JOB, partial(step, who="Ada", at=NOW, **more))


def correct(place: Place) -> None:
    desk = place.desk()
    fact = next(fact for fact in desk.load(JOB).facts if fact.kind == "reading")
    review(events.correct, place, fact_id=fact.id, changes={"value": "12.6"})


def enter(place: Place) -> None:
    desk = place.desk()
    span = entering.span_of(desk.load(JOB), "forty minutes")
    fields = {"what": "idle speed", "value": "1400", "unit": "rpm"}
    review(entering.enter, place, kind="reading", fields=fields, span=span)


def issue(place: Place) -> None:
    desk = place.desk()
    job, revision = desk.store.load(JOB)
    frozen(desk, job, revision, "Ada")


def watch(place: Place) -> None:
    hear_at_once()
    files = sorted(place.given.iterdir())
    take_round(Round(place.desk(), lambda _: None, lambda _: None), files)


def receive(place: Place) -> None:
    place.desk().receive(place.given / "job.zip")


def dictate(place: Place) -> None:
    os.environ["JOBNOTES_MODELS"] = str(place.folder / "none")
    GIVEN[0] = 0
    desk = place.desk()
    quiet = lambda _: None  # noqa: E731
    session.listen(session.Dictation(desk, _Spoken(), quiet, quiet, session.Event()), JOB)


def arrive(place: Place) -> None:
    """Take the pieces of a phone, as its requests bring them."""
    content = (place.given / "take.wav").read_bytes()
    folder = pieces.take_folder(place.settings.data_folder, JOB, TAKE)
    for piece, told in _pieces(content):
        pieces.keep(folder, piece, told)
    pieces.close(folder, _end(content))


def take_up(place: Place) -> None:
    """Do at its start what the server does with what had arrived."""
    hear_at_once()
    site = Site(place.desk(), Worker())
    resume(site)
    site.worker.drain()
    assert _BROKEN not in site.worker.said.values()


def _pieces(content: bytes) -> list[tuple[pieces.Piece, bytes]]:
    size = 10_000
    parts = [(at, content[at : at + size]) for at in range(0, len(content), size)]
    return [
        (pieces.Piece(0, n, at, hashlib.sha256(told).hexdigest()), told)
        for n, (at, told) in enumerate(parts)
    ]


def _end(content: bytes) -> pieces.TakeEnd:
    part = {"pieces": len(_pieces(content)), "bytes": len(content), "started_ms": 1_773_480_000_000}
    return pieces.TakeEnd.model_validate({"parts": [part]})


def back_up_shop(place: Place) -> None:
    back_up(place.desk(), place.folder / "backups")


def broken_backups(place: Place) -> list[str]:
    """Say what is wrong with anything that looks like a backup."""
    folder = place.folder / "backups"
    held = form.backups_in(folder) if folder.is_dir() else []
    return [problem for one in held for problem in form.problems(form.opened(one))]


def given_backup(place: Place) -> None:
    """An empty shop, and the backup of another."""
    other = Place(place.folder / "other")
    other.folder.mkdir()
    job_settled(other)
    (other.settings.data_folder / "settings.toml").write_text('technician = "Ada"\n')
    back_up(other.desk(), place.folder / "backups")
    other.desk().store.close()
    place.given.mkdir()
    place.desk()


def restore_shop(place: Place) -> None:
    (held,) = form.backups_in(place.folder / "backups")
    restore(place.desk(), held)


def erase_customer(place: Place) -> None:
    retention.erase_customer(place.desk(), "Ms Okafor", "Ada")


OPERATIONS = {
    "intake of sound": Operation(given_sound, add, whole=True),
    "intake of photos": Operation(given_photos, add, whole=True),
    "intake of text": Operation(given_text, add, whole=True),
    "dictation": Operation(empty_job, dictate, repeats=False, check=not_kept),
    "taking in a dictation": Operation(given_dictation, lambda place: place.desk()),
    "watched folder": Operation(given_apart, watch),
    "pieces of a phone": Operation(given_pieces, arrive),
    "taking in a phone's take": Operation(given_take, take_up),
    "receiving a bundle": Operation(given_bundle, receive, whole=True),
    "hearing in blocks": Operation(job_with_sound, hear),
    "stages": Operation(job_with_text, run),
    "confirming": Operation(job_understood, partial(review, events.confirm_unflagged), whole=True),
    "correcting": Operation(job_understood, correct, whole=True, repeats=False),
    "entering": Operation(job_understood, enter, whole=True, repeats=False),
    "undoing": Operation(job_settled, partial(review, events.undo), whole=True, repeats=False),
    "issuing a report": Operation(job_settled, issue, whole=True),
    "a new job": Operation(
        empty_job, lambda place: place.desk().new("saw"), whole=True, repeats=False
    ),
    "backup": Operation(job_settled, back_up_shop, check=broken_backups),
    "restoring": Operation(given_backup, restore_shop),
    "erasing a customer": Operation(job_settled, erase_customer, whole=True, erases=True),
    "migration": Operation(make_old_store, lambda place: place.desk(), whole=True),
}

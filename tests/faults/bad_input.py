"""Broken sound and pictures without end, from a seed, and what intake makes of each."""

import hashlib
import random
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import av
import numpy as np
from PIL import Image

from jobnotes.errors import JobnotesError
from jobnotes.intake.audio import blocks
from jobnotes.intake.take_in import take_in
from jobnotes.photos.picture import for_print
from jobnotes.record import Job
from jobnotes.store.media import Media

SLOW_S = 150.0  # what one answer may take, and the start of the process that gives it
_RATE = 16_000
_SOUNDS = {  # ending -> codec, container of PyAV, sample rate
    "wav": ("pcm_s16le", "wav", 16_000),
    "mp3": ("libmp3lame", "mp3", 44_100),
    "m4a": ("aac", "ipod", 48_000),
    "ogg": ("libopus", "ogg", 48_000),
    "flac": ("flac", "flac", 16_000),
    "webm": ("libopus", "webm", 48_000),
}
_PICTURES = ("jpg", "png", "heic")
_ENDINGS = (*_SOUNDS, *_PICTURES, "txt", "zip", "svg", "")


def good_files(folder: Path) -> list[bytes]:
    """Make a small whole file of each kind that is taken in."""
    for ending in _PICTURES:
        picture = Image.effect_noise((160, 120), 80).convert("RGB")
        exif = picture.getexif()
        exif[0x0112], exif[0x0132] = 6, "2026:03:14 09:30:00"
        picture.save(folder / f"a.{ending}", exif=exif)
    for ending in _SOUNDS:
        _sound(folder / f"a.{ending}", *_SOUNDS[ending])
    return [path.read_bytes() for path in sorted(folder.iterdir())]


def _sound(path: Path, codec: str, container: str, rate: int) -> None:
    wave = (np.sin(np.arange(_RATE) / 6) * 12_000).astype(np.int16)
    with av.open(str(path), "w", format=container) as out:
        out.metadata["creation_time"] = "2026-03-14T09:15:02Z"
        stream = out.add_stream(codec, rate=rate, layout="mono")
        frame = av.AudioFrame.from_ndarray(wave[None], format="s16", layout="mono")
        frame.sample_rate = _RATE
        shape = {"format": stream.format.name, "layout": "mono", "rate": rate}
        resampler = av.AudioResampler(**shape, frame_size=stream.frame_size or None)
        for piece in [*resampler.resample(frame), *resampler.resample(None)]:
            out.mux(stream.encode(piece))
        out.mux(stream.encode(None))


def broken(good: list[bytes], seed: int) -> Iterator[tuple[str, str, bytes]]:
    """Yield the way of breaking, a name and the content, for ever; the same for the same seed."""
    chance = random.Random(seed)
    ways = {
        "bits flipped": _flipped,
        "cut short": _cut,
        "head edited": _edited,
        "two joined": _spliced,
        "random bytes": _random,
        "as it is": lambda chance, good: chance.choice(good),
    }
    number = 0
    while True:
        way = chance.choice(list(ways))
        number += 1
        yield way, f"{number}.{chance.choice(_ENDINGS)}", ways[way](chance, good)


def _flipped(chance: random.Random, good: list[bytes]) -> bytes:
    held = bytearray(chance.choice(good))
    for _ in range(chance.choice((1, 3, 20, 200))):
        held[chance.randrange(len(held))] ^= 1 << chance.randrange(8)
    return bytes(held)


def _cut(chance: random.Random, good: list[bytes]) -> bytes:
    held = chance.choice(good)
    begin, end = sorted(chance.sample(range(len(held) + 1), 2))
    return held[:end] if chance.random() < 0.8 else held[:begin] + held[end:]


def _edited(chance: random.Random, good: list[bytes]) -> bytes:
    """Put the greatest, smallest or odd numbers where lengths and sizes stand."""
    held = bytearray(chance.choice(good))
    for _ in range(chance.randrange(1, 5)):
        at, size = chance.randrange(4, min(len(held), 400)), chance.choice((1, 2, 4, 8))
        number = chance.choice((0, 1, 2, 0x7F, 0xFF, 1 << 15, 1 << 31, (1 << 64) - 1))
        order = chance.choice(("little", "big"))
        held[at : at + size] = (number % (1 << 8 * size)).to_bytes(size, order)
    return bytes(held)


def _spliced(chance: random.Random, good: list[bytes]) -> bytes:
    one, other = chance.choice(good), chance.choice(good)
    return one[: chance.randrange(len(one))] + other[chance.randrange(len(other)) :]


def _random(chance: random.Random, good: list[bytes]) -> bytes:
    """Bytes without sense, half of them behind the first bytes of a known kind."""
    head = chance.choice(good)[: chance.choice((0, 0, 16, 64))]
    return head + chance.randbytes(chance.choice((0, 1, 15, 300, 5000)))


@dataclass
class Tally:
    """What became of all that was handed in; `wrong` must stay empty."""

    outcomes: Counter[tuple[str, str]] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)
    slowest_s: float = 0.0

    def hand_in(self, folder: Path, way: str, name: str, content: bytes) -> None:
        """Hand a file to intake as a shop does, use what was taken in, and note what came of it."""
        path = folder / name
        path.write_bytes(content)
        began = time.monotonic()
        try:
            outcome = _used(path, Media(folder / "originals"))
        except JobnotesError as error:
            outcome = type(error).__name__
        except Exception as error:  # noqa: BLE001 - just this must never come
            outcome = f"{type(error).__name__}: {error}"
            self.wrong.append(f"{name} ({way}): {outcome}")
        self._check(path, name, content, time.monotonic() - began)
        self.outcomes[way, outcome] += 1

    def _check(self, path: Path, name: str, content: bytes, took_s: float) -> None:
        self.slowest_s = max(self.slowest_s, took_s)
        if took_s > SLOW_S:
            self.wrong.append(f"{name} took {took_s:.0f} s")
        if path.read_bytes() != content:
            self.wrong.append(f"{name} was changed")
        path.unlink()


def _used(path: Path, media: Media) -> str:
    """Take a file in and decode it as hearing and printing do; return what came of it in a word."""
    taken = take_in(Job(id="", created_at=datetime(2026, 3, 14, tzinfo=UTC)), [path], media)
    for error in taken.refused:
        if not error.advice:
            raise AssertionError(f"no remedy: {error.what}")
        if type(error).__name__ == "DamagedFileError" and not media.holds(_sha256(path)):
            raise AssertionError("a damaged original was not kept")
        crash = "breaks what reads it" in error.what
        return f"{type(error).__name__}{', decoder crashed' if crash else ''}"
    for photo in taken.job.photos:
        for_print(media.path(photo.sha256), 400)
        return "photo"
    for recording in taken.job.recordings:
        if recording.format == "text":
            return "text"
        seconds = sum(block.size for block in blocks(media.path(recording.sha256), 60.0)) / _RATE
        return "sound" if seconds else "no sound"
    return "nothing"


def _sha256(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()

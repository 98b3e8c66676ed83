"""Sound files: what one is, how long, when it began, and its samples at one rate."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Protocol

import av
import numpy as np
from av.audio.frame import AudioFrame
from av.audio.resampler import AudioResampler
from av.audio.stream import AudioStream
from av.container import InputContainer
from numpy.typing import NDArray
from pydantic import TypeAdapter

from jobnotes.contained.parent import answer, answers
from jobnotes.errors import (
    DamagedFileError,
    EmptyFileError,
    FormatError,
    InputError,
    MissingFileError,
    TooLargeError,
)

RATE = 16_000  # samples a second: what speech recognisers of the Whisper family take
LONGEST_S = 12 * 3600.0  # longer than a working day: a damaged or a wrong file
_TOO_LONG = "Cut the recording into parts of a few hours."
_HEAD = 16

# Each kind and the one demuxer that may open it.
_DEMUXERS = {
    "wav": "wav",
    "mp3": "mp3",
    "m4a": "mov",
    "ogg": "ogg",
    "flac": "flac",
    "webm": "matroska",
}


@dataclass(frozen=True)
class AudioInfo:
    """What a sound file says of itself: seconds, channels, samples a second, and its start if told.

    `started_at` has a zone exactly when `zone_known`.
    """

    format: str
    duration_s: float
    channels: int
    rate: int
    started_at: datetime | None
    zone_known: bool


_INFO = TypeAdapter(AudioInfo)


def kind_of(head: bytes) -> str:
    """Tell a sound file's kind by its first 16 bytes: wav, mp3, m4a, ogg, flac, webm or ""."""
    if head[:4] in (b"RIFF", b"RF64") and head[8:12] == b"WAVE":
        return "wav"
    if head[4:8] == b"ftyp":
        return "m4a"
    starts = {b"OggS": "ogg", b"fLaC": "flac", b"\x1a\x45\xdf\xa3": "webm", b"ID3": "mp3"}
    for start, kind in starts.items():
        if head.startswith(start):
            return kind
    return "mp3" if _is_mpeg_frame(head) else ""


def probe(path: Path) -> AudioInfo:
    """Read what a sound file is, without decoding it.

    Raises MissingFileError, EmptyFileError, FormatError (no sound of a kind that is taken in),
    DamagedFileError, and TooLargeError for more than 12 hours.
    """
    kind = _kind(path)
    return _INFO.validate_json(answer("probe", path.name, str(path), kind))


def probed(name: str, kind: str) -> Iterator[bytes]:
    """Answer `probe`, in the process that decodes."""
    path = Path(name)
    with _opened(path, kind) as container:
        stream = _sound(container, path)
        duration = _duration(container, stream)
        if duration > LONGEST_S:
            raise TooLargeError(f"{path.name} lasts {duration / 3600:.0f} hours.", _TOO_LONG)
        started = _started_at({**stream.metadata, **container.metadata})
        zoned = bool(started and started.tzinfo)
        info = AudioInfo(kind, duration, stream.channels, stream.rate or 0, started, zoned)
        yield _INFO.dump_json(info)


def decode(path: Path) -> NDArray[np.float32]:
    """Return the whole sound, mono, 16,000 samples a second, -1 to 1; errors as `blocks`."""
    return np.concatenate(list(blocks(path, seconds=60.0)))


def blocks(path: Path, seconds: float) -> Iterator[NDArray[np.float32]]:
    """Yield the sound in blocks of `seconds`, mono, 16,000 samples a second, -1 to 1.

    Damaged pieces are passed over, and a file that ends early gives what it holds. Raises as
    `probe` does, and DamagedFileError when nothing in it decodes.
    """
    kind = _kind(path)
    for block in answers("blocks", path.name, str(path), kind, seconds):
        yield np.frombuffer(block, np.float32)


def decoded(name: str, kind: str, seconds: float) -> Iterator[bytes]:
    """Answer `blocks`, in the process that decodes."""
    path = Path(name)
    want, held, total = int(seconds * RATE), np.zeros(0, np.float32), 0
    with _opened(path, kind) as container:
        for piece in _resampled(_frames(container, _sound(container, path))):
            total += piece.size
            if total > LONGEST_S * RATE:
                raise TooLargeError(f"{path.name} lasts more than 12 hours.", _TOO_LONG)
            held = np.concatenate([held, piece])
            while held.size >= want:
                yield held[:want].tobytes()
                held = held[want:]
    if not total:
        raise DamagedFileError(f"{path.name} holds no sound that decodes.")
    if held.size:
        yield held.tobytes()


class Bytes(Protocol):
    """Where the bytes of a file come from that is not whole yet."""

    def read(self, size: int) -> bytes:
        """Return at most `size` bytes, once some are there; none at the end."""
        ...


def growing(source: Bytes, kind: str) -> Iterator[NDArray[np.float32]]:
    """Yield the sound of a file while it comes, mono, 16,000 samples a second, -1 to 1.

    Raises DamagedFileError where what comes is no sound of that kind (as `kind_of` tells it).
    """
    if kind not in _DEMUXERS:
        raise DamagedFileError("What comes is no sound of a kind that is taken in.")
    try:
        container = av.open(source, "r", format=_DEMUXERS[kind], metadata_errors="replace")
    except (av.FFmpegError, EOFError) as error:
        raise DamagedFileError("The sound that comes is damaged.") from error
    with container:
        for stream in container.streams.audio[:1]:
            yield from _resampled(_frames(container, stream))


def cut_short(path: Path, decoded_s: float) -> bool:
    """Tell whether a file holds less sound than its own header says."""
    if _kind(path) == "wav":
        return _wav_cut_short(path)
    lost = probe(path).duration_s - decoded_s
    return lost > 1.0  # containers round by up to some frames; a second is beyond that


def _is_mpeg_frame(head: bytes) -> bool:
    """Eleven sync bits, a layer and a rate that are not reserved (ISO/IEC 11172-3, 2.4.2.3)."""
    if len(head) < 4 or head[0] != 0xFF or head[1] & 0xE0 != 0xE0:
        return False
    layer, rate = head[1] >> 1 & 3, head[2] >> 2 & 3
    return layer != 0 and rate != 3


def _kind(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            head = stream.read(_HEAD)
    except FileNotFoundError as error:
        raise MissingFileError(f"There is no file {path}.") from error
    except OSError as error:
        raise InputError(f"{path.name} cannot be read: {error.strerror}.") from error
    if not head:
        raise EmptyFileError(f"{path.name} holds no bytes.")
    if not (kind := kind_of(head)):
        raise FormatError(f"{path.name} is no sound file of a kind that is taken in.")
    return kind


@contextmanager
def _opened(path: Path, kind: str) -> Iterator[InputContainer]:
    """Open with the one demuxer of the kind, so that no other file or address is ever followed."""
    try:
        container = av.open(str(path), format=_DEMUXERS[kind], metadata_errors="replace")
    except (av.FFmpegError, EOFError) as error:
        raise DamagedFileError(f"{path.name} is cut short or damaged.") from error
    with container:
        yield container


def _sound(container: InputContainer, path: Path) -> AudioStream:
    if not container.streams.audio:
        raise FormatError(
            f"{path.name} holds no sound.", "Send the file that has the speech in it."
        )
    stream = container.streams.audio[0]
    if stream.codec_context is None:
        raise DamagedFileError(f"{path.name} holds sound of a kind that is not known.")
    return stream


def _duration(container: InputContainer, stream: AudioStream) -> float:
    """Seconds by the header; where it gives none (live recordings), by the last packet."""
    if container.duration:
        return max(0.0, container.duration / av.time_base)
    last = 0.0
    for packet in container.demux(stream):
        if packet.pts is not None and packet.time_base is not None:
            last = max(last, float((packet.pts + (packet.duration or 0)) * packet.time_base))
    return last


def _started_at(tags: dict[str, str]) -> datetime | None:
    """Read the start; the tag with the local zone first, as it says more than UTC."""
    low = {key.lower(): value.strip() for key, value in tags.items()}
    day_and_time = f"{low.get('date', '')}T{low.get('creation_time', '')}"
    for text in (low.get("com.apple.quicktime.creationdate"), low.get("creation_time")):
        if moment := _moment(text or ""):
            return moment
    return _moment(day_and_time) or _moment(low.get("date", ""))


def _moment(text: str) -> datetime | None:
    """Read an ISO 8601 day and time; a day alone, or a clock that was never set, tells nothing."""
    if len(text) < len("2026-01-01T00:00"):
        return None
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment if moment.year > 2000 else None


def _frames(container: InputContainer, stream: AudioStream) -> Iterator[AudioFrame]:
    """Decode packet by packet, so that a damaged one costs only itself."""
    packets = container.demux(stream)
    while True:
        try:
            packet = next(packets)
        except StopIteration:
            return
        except av.FFmpegError:
            return
        try:
            yield from stream.decode(packet)
        except av.FFmpegError:
            continue


def _resampled(frames: Iterable[AudioFrame]) -> Iterator[NDArray[np.float32]]:
    """Bring frames to mono at RATE; a recording may change its layout or rate on the way."""
    resampler, shape = None, None
    for frame in frames:
        now = (frame.format.name, frame.layout.name, frame.sample_rate)
        if now != shape:
            yield from _samples(resampler, None)
            resampler, shape = AudioResampler(format="flt", layout="mono", rate=RATE), now
        frame.pts = None
        yield from _samples(resampler, frame)
    yield from _samples(resampler, None)


def _samples(
    resampler: AudioResampler | None, frame: AudioFrame | None
) -> Iterator[NDArray[np.float32]]:
    if resampler:
        for piece in resampler.resample(frame):
            yield np.clip(np.nan_to_num(piece.to_ndarray()[0]), -1.0, 1.0)


def _wav_cut_short(path: Path) -> bool:
    """Compare the RIFF size with the file's; 0 and all ones mean that the writer did not know."""
    with path.open("rb") as stream:
        head = stream.read(8)
    told = int.from_bytes(head[4:8], "little")
    return head[:4] == b"RIFF" and 0 < told < 0xFFFFFFFF and told + 8 > path.stat().st_size

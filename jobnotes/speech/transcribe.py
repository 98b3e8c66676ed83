"""The stage that turns recordings into words and breaths."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise
from pathlib import Path

import numpy as np

from jobnotes.intake.audio import RATE, blocks, cut_short
from jobnotes.record import Flag, Job, Recording, Utterance, Word
from jobnotes.speech.engine import BREATH_S, Heard, Recogniser, Samples, Stretch
from jobnotes.speech.unfinished import Unfinished
from jobnotes.speech.voice import voice_in

_BLOCK_S = 600.0  # heard at once: bounds the memory for recordings of hours
_SEARCH_S = 60.0  # a block ends in the longest silence of its last minute


def unheard(job: Job, again: bool = False) -> tuple[Recording, ...]:
    """Return the recordings that are still to be heard; typed lines and erased ones are none."""
    heard = set() if again else {word.recording for word in job.words}
    return tuple(
        recording
        for recording in job.recordings
        if recording.format != "text"
        and recording.erased_at is None
        and recording.id not in heard
        and (again or not _was_silent(recording))
    )


def transcribe(
    job: Job,
    recogniser: Recogniser,
    audio_path: Callable[[Recording], Path],
    progress: Callable[[float], None] | None = None,
    again: bool = False,
    unfinished: Path | None = None,
) -> Job:
    """Fill in words, breaths and flags of every recording not yet heard; with `again`, of all.

    `audio_path` tells where the original of a recording lies; `progress` is told the part done, 0
    to 1. A hearing that was stopped goes on where it stopped if `unfinished` is the same folder,
    which belongs to one model. Raises InputError for a file that cannot be decoded, and then
    changes nothing.
    """
    todo = unheard(job, again)
    whole = sum(recording.duration_s for recording in todo)
    done = 0.0
    for recording in todo:
        path, heard, length_s = audio_path(recording), Heard(()), 0.0
        kept = Unfinished(unfinished, recording.sha256)
        for number, block in enumerate(_in_silence(blocks(path, _BLOCK_S))):
            heard = _joined(heard, _hear(recogniser, block, kept, number), length_s)
            length_s += block.size / RATE
            if progress and whole:
                progress(min(1.0, (done + length_s) / whole))
        done += length_s
        job = _with(job, recording, heard, length_s, cut_short(path, length_s))
        kept.forget()
    return job


def alone(job: Job, recording: Recording) -> Job:
    """Return a job with one recording and nothing of what was heard, so that only it is heard."""
    return job.having(recordings=(recording,), words=(), utterances=())


def carried(heard: Job, job: Job) -> Job:
    """Return a job with the words of the one recording that was heard alone.

    Doing it twice changes nothing; a recording that the job no longer has is left out.
    """
    (known,) = heard.recordings
    now = {recording.id: recording for recording in job.recordings}
    if known.id not in now:
        return job
    others = tuple(flag for flag in now[known.id].flags if flag.by != "speech")
    said = tuple(flag for flag in known.flags if flag.by == "speech")
    same = now[known.id].having(duration_s=known.duration_s, flags=(*others, *said))
    return _put(job, same, heard.words, heard.utterances)


def _hear(recogniser: Recogniser, block: Samples, kept: Unfinished, number: int) -> Heard:
    heard = kept.block(number)
    if heard is None:
        heard = recogniser.hear(block)
        kept.keep(number, heard)
    return heard


def breaths(words: tuple[Word, ...], pause_s: float = BREATH_S) -> tuple[Utterance, ...]:
    """Divide the words of one recording at the pauses."""
    starts = [
        n for n, word in enumerate(words) if not n or word.start_s - words[n - 1].end_s >= pause_s
    ]
    return tuple(
        Utterance(recording=words[first].recording, index=n, first=first, last=stop - 1)
        for n, (first, stop) in enumerate(pairwise([*starts, len(words)]))
    )


def _was_silent(recording: Recording) -> bool:
    return any(flag.code == "no-speech" for flag in recording.flags)


def _in_silence(sound: Iterable[Samples]) -> Iterator[Samples]:
    """Cut blocks anew, where nobody speaks, so that no word is cut in two."""
    held = np.zeros(0, np.float32)
    for block in sound:
        held = np.concatenate([held, block])
        if held.size >= _BLOCK_S * RATE:
            cut = _silent_place(held)
            yield held[:cut]
            held = held[cut:]
    if held.size:
        yield held


def _silent_place(held: Samples) -> int:
    """Return the sample in the middle of the longest silence of the last minute."""
    begin = held.size - int(_SEARCH_S * RATE)
    stretches = voice_in(held[begin:])
    starts = [0.0, *(stretch.end_s for stretch in stretches)]
    ends = [*(stretch.start_s for stretch in stretches), _SEARCH_S]
    start_s, end_s = max(zip(starts, ends, strict=True), key=lambda gap: gap[1] - gap[0])
    return begin + int((start_s + end_s) / 2 * RATE)


def _joined(before: Heard, heard: Heard, at_s: float) -> Heard:
    words = [
        word.having(start_s=round(word.start_s + at_s, 2), end_s=round(word.end_s + at_s, 2))
        for word in heard.words
    ]
    lost = [Stretch(stretch.start_s + at_s, stretch.end_s + at_s) for stretch in heard.lost]
    return Heard((*before.words, *words), (*before.lost, *lost))


def _with(job: Job, recording: Recording, heard: Heard, length_s: float, short: bool) -> Job:
    words = tuple(
        word.having(recording=recording.id, index=n) for n, word in enumerate(heard.words)
    )
    others = tuple(flag for flag in recording.flags if flag.by != "speech")
    known = recording.having(
        duration_s=round(length_s, 3), flags=(*others, *_flags(heard, length_s, short))
    )
    return _put(job, known, words, breaths(words))


def _put(job: Job, known: Recording, words: Sequence[Word], breathed: Sequence[Utterance]) -> Job:
    """Return the job with one recording, its words and breaths in place of those before."""
    order = {one.id: n for n, one in enumerate(job.recordings)}
    rest = [word for word in job.words if word.recording != known.id]
    others = [breath for breath in job.utterances if breath.recording != known.id]
    return job.having(
        recordings=tuple(known if one.id == known.id else one for one in job.recordings),
        words=tuple(sorted([*rest, *words], key=lambda word: order[word.recording])),
        utterances=tuple(sorted([*others, *breathed], key=lambda breath: order[breath.recording])),
    )


def _flags(heard: Heard, length_s: float, short: bool) -> list[Flag]:
    flags = [_flag("speech-not-understood", _not_understood(heard.lost))] if heard.lost else []
    if not heard.words:
        flags.append(_flag("no-speech", f"No speech was heard in {length_s:.0f} s of sound."))
    if short:
        why = f"The recording ends early: only {length_s:.0f} s of it are there."
        flags.append(_flag("recording-cut-short", why))
    return flags


def _flag(code: str, why: str) -> Flag:
    return Flag(by="speech", code=code, why=why)


def _not_understood(lost: Sequence[Stretch]) -> str:
    places = ", ".join(f"{one.start_s:.0f}-{one.end_s:.0f} s" for one in lost)
    return f"Somebody speaks here, but it was not understood: {places}."

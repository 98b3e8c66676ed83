"""A dictation in a program of its own, so that it can be killed, interrupted and starved."""

import os
import subprocess
import sys
import wave
from pathlib import Path

import numpy as np


def noise(path: Path, seconds: float) -> np.ndarray:
    """Write noise in which no two places are alike, and return its samples."""
    samples = np.random.default_rng(7).integers(-9000, 9000, int(16000 * seconds), np.int16)
    with wave.open(str(path), "wb") as sound:
        sound.setparams((1, 2, 16000, samples.size, "NONE", ""))
        sound.writeframes(samples.tobytes())
    return samples


def listening(
    shop: Path, *arguments: object, told: tuple[str, ...] = (), **more: object
) -> subprocess.Popen[str]:
    """Start `jobnotes listen`, without speech weights; return when it records and has told that."""
    environment = {**os.environ, "JOBNOTES_HOME": str(shop), "JOBNOTES_MODELS": str(shop / "none")}
    command = [sys.executable, "-m", "jobnotes.cli", "listen", *map(str, arguments)]
    child = subprocess.Popen(
        command, env=environment, stderr=subprocess.PIPE, stdout=subprocess.PIPE, text=True, **more
    )
    said = ""  # in any order, and sound libraries chatter between
    while not all(wanted in said for wanted in ("Recording", *told)):
        assert (line := child.stderr.readline()), said
        said += line
    return child

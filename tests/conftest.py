"""Parts that many tests share: the real weights and a recogniser loaded once."""

from pathlib import Path

import pytest

from jobnotes.speech.weights import locate
from jobnotes.speech.whisper import WhisperRecogniser

AUDIO = Path(__file__).parent / "audio"


@pytest.fixture(scope="session")
def weights() -> Path:
    """The prepared weights of base; an error that says what to run where they are missing."""
    return locate("base")


@pytest.fixture(scope="session")
def recogniser(weights: Path) -> WhisperRecogniser:
    return WhisperRecogniser.load("base")


@pytest.fixture(scope="session")
def audio() -> Path:
    """The folder of sound files; tests/audio/README.md has what is said in them."""
    return AUDIO

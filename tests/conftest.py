"""Parts that many tests share: weights, a recogniser loaded once, a store on each database."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from postgres_server import Server, started

from jobnotes.speech.weights import locate
from jobnotes.speech.whisper import WhisperRecogniser
from jobnotes.store.store import Store

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


@pytest.fixture(scope="session")
def postgres() -> Iterator[Server]:
    """A PostgreSQL server for this run of the tests; a plain reason to skip where there is none."""
    with started() as server:
        if server is None:
            pytest.skip("no PostgreSQL on this machine: apt-get install postgresql")
        yield server


@pytest.fixture(params=["sqlite", "postgresql"])
def store_url(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> str:
    """The URL of an empty database, once of each kind."""
    if request.param == "postgresql":
        return str(request.getfixturevalue("postgres").new_database())
    return f"sqlite:///{tmp_path_factory.mktemp('shop') / 'shop data' / 'jobs.db'}"


@pytest.fixture
def store(store_url: str) -> Iterator[Store]:
    store = Store(store_url)
    yield store
    store.close()

"""A shop with one job of real sound, one clerk, one technician, and browsers that are signed in."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient
from web_shop import PASSWORD, signed_in, spoken

from jobnotes.desk import Desk, open_desk
from jobnotes.record import Job
from jobnotes.settings import Settings
from jobnotes.speech.canned import CannedRecogniser
from jobnotes.web.accounts import make_account
from jobnotes.web.app import build
from jobnotes.web.listening import Listening
from jobnotes.web.site import Site
from jobnotes.web.worker import Worker

AUDIO = Path(__file__).parent.parent / "audio"


@pytest.fixture(scope="session")
def kept_shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop that each test gets a copy of: hashing passwords and finding facts take seconds."""
    folder = tmp_path_factory.mktemp("kept")
    desk = open_desk(Settings(data_folder=folder / "shop"))
    for name, role in (("Ada", "office"), ("Bo", "office"), ("Rune", "bench")):
        make_account(desk.store, name, role, PASSWORD)
    number = desk.new(machine="tiller", customer="Ms Okafor").id
    picture = folder / "IMG_1.jpg"
    Image.effect_noise((640, 480), 80).convert("RGB").save(picture)
    assert desk.add(number, [AUDIO / "readings.ogg", picture]) == ()
    desk.change(number, spoken)
    desk.store.close()
    return folder / "shop"


@pytest.fixture
def desk(kept_shop: Path, tmp_path: Path) -> Desk:
    shutil.copytree(kept_shop, tmp_path / "shop")
    return open_desk(Settings(data_folder=tmp_path / "shop"))


@pytest.fixture
def job(desk: Desk) -> Job:
    return desk.load(desk.jobs()[0].id)


@pytest.fixture
def site(desk: Desk) -> Iterator[Site]:
    deaf = Listening(lambda: CannedRecogniser(()))
    site = Site(desk, Worker(), ("testserver", "127.0.0.1", "localhost"), listening=deaf)
    yield site
    site.worker.stop()


@pytest.fixture
def anybody(site: Site) -> TestClient:
    return TestClient(build(site), follow_redirects=False)


@pytest.fixture
def clerk(site: Site) -> TestClient:
    return signed_in(site, "Ada")


@pytest.fixture
def other_clerk(site: Site) -> TestClient:
    return signed_in(site, "Bo")


@pytest.fixture
def technician(site: Site) -> TestClient:
    return signed_in(site, "Rune")


@pytest.fixture(scope="session")
def chromium() -> str:
    """The browser of the system; a plain reason to skip where there is none."""
    pytest.importorskip("playwright", reason="playwright is not installed")
    found = os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("google-chrome")
    if not found:
        pytest.skip("no Chromium on this machine: apt-get install chromium")
    return found

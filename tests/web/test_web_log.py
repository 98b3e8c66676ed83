"""The log of a whole run of the server: no word that was said, no name, no code, no token."""

import hashlib
import os
import re
import subprocess
import sys

import httpx2 as httpx
import pytest
from bench_phone import answers, free_port, until
from web_shop import PASSWORD

from jobnotes.web.serve import WithoutWords

SAID = "the camshaft lobe is worn to nine thousandths"


@pytest.fixture
def log(desk, tmp_path):
    """Let a clerk and a phone work, and some of it fail; give the log and what it must not hold."""
    port, file = free_port(), tmp_path / "log"
    environment = {**os.environ, "JOBNOTES_HOME": str(desk.settings.data_folder)}
    command = [sys.executable, "-m", "jobnotes.cli", "serve", "--port", str(port)]
    with file.open("w") as out:
        server = subprocess.Popen(command, env=environment, stdout=out, stderr=out)
    until(lambda: answers(port))
    secrets = worked(f"http://127.0.0.1:{port}", desk)
    server.terminate()
    server.wait()
    return file.read_text(), secrets


def worked(base, desk):
    with httpx.Client(base_url=base, timeout=60) as clerk, httpx.Client(base_url=base) as phone:
        form = {
            "csrf": token(clerk.get("/sign-in")),
            "name": "Ada",
            "password": "wrong wrong wrong",
        }
        refused = clerk.post("/sign-in", data=form)
        assert refused.status_code == 401
        form = {"csrf": token(refused), "name": "Ada", "password": PASSWORD}
        clerk.post("/sign-in", data=form)
        csrf = token(clerk.get("/jobs"))
        machine = {"csrf": csrf, "machine": "Torvane tiller", "customer": "Ms Quillanova"}
        clerk.post("/jobs", data=machine)
        shown = clerk.post("/phones", data={"csrf": csrf, "name": "blue", "person": "Rune"}).text
        code = re.search(r"/pair\?code=([\w-]+)", shown)[1]
        phone.post("/pair", data={"csrf": token(phone.get(f"/pair?code={code}")), "code": code})
        number = desk.jobs()[0].id
        page = phone.get(f"/bench/{number}")
        mine = token(page)
        said = {"files": ("quillanova.txt", SAID.encode())}
        phone.post(f"/bench/{number}/files", data={"csrf": mine}, files=said)
        until(lambda: desk.load(number).facts)
        sha256 = hashlib.sha256(SAID.encode()).hexdigest()
        path = f"/api/jobs/{number}/photos/{sha256}"
        for content in (SAID.encode(), b"other"):
            assert phone.put(path, content=content, headers={"x-csrf": mine}).status_code == 422
        clerk.post(f"/jobs/{number}/issue", data={"csrf": csrf, "revision": "1"})
        clerk.get(f"/jobs/{SAID}")
        cookies = [*clerk.cookies.values(), *phone.cookies.values()]
    return [
        *SAID.split()[1:2],
        "quillanova",
        "torvane",
        "ada",
        PASSWORD,
        code,
        csrf,
        mine,
        *cookies,
    ]


def token(answer):
    return re.search(r'(?:name="csrf" value|data-csrf)="([^"]+)"', answer.text)[1]


def test_the_log_of_a_whole_run_holds_nothing_that_was_said_or_secret(log):
    text, secrets = log
    assert "http://127.0.0.1" in text
    assert [secret for secret in secrets if secret.lower() in text.lower()] == []


def test_a_fault_is_logged_with_its_place_and_without_its_words():
    try:
        raise ValueError(SAID)
    except ValueError:
        told = WithoutWords().formatException(sys.exc_info())
    assert "test_web_log.py" in told
    assert told.endswith("ValueError")
    assert SAID not in told.partition("raise ValueError(SAID)")[2]

"""Nothing leaves the shop: the main job, the pages and the report connect to no other machine."""

import os
import shutil
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

HOOK = """
import os, sys
def watch(event, arguments):
    if event == "socket.connect" and isinstance(arguments[1], tuple):
        host = arguments[1][0]
    elif event == "socket.getaddrinfo":
        host = arguments[0]
    else:
        return
    host = host.decode() if isinstance(host, bytes) else host
    if host not in (None, "", "localhost", "127.0.0.1", "::1"):
        with open(os.environ["CONNECTIONS"], "a") as log:
            log.write(f"{host}\\n")
        raise OSError(f"a connection to {host}")
sys.addaudithook(watch)
"""


class Watched:
    """Runs Python programs in which every connection to another machine is noted and fails."""

    def __init__(self, folder: Path) -> None:
        (folder / "hook").mkdir()
        (folder / "hook" / "sitecustomize.py").write_text(HOOK)
        self.log = folder / "connections"
        path = os.pathsep.join([str(folder / "hook"), os.environ.get("PYTHONPATH", "")])
        self.environment = {
            **os.environ,
            "PYTHONPATH": path,
            "CONNECTIONS": str(self.log),
            "JOBNOTES_HOME": str(folder / "shop"),
        }

    def run(self, *command: object, alone: bool = False) -> subprocess.CompletedProcess[str]:
        before = ["unshare", "--net"] if alone and can_be_alone() else []
        words = [*before, sys.executable, *map(str, command)]
        return subprocess.run(words, env=self.environment, capture_output=True, text=True)

    def jobnotes(self, *command: object) -> str:
        said = self.run("-m", "jobnotes.cli", *command, alone=True)
        assert said.returncode == 0, said.stderr
        return said.stdout.strip()

    def connections(self) -> str:
        return self.log.read_text() if self.log.exists() else ""


def can_be_alone() -> bool:
    """Tell whether a program can be run without any network (Linux, as root)."""
    tool = shutil.which("unshare")
    return (
        bool(tool) and not subprocess.run([tool, "--net", "true"], capture_output=True).returncode
    )


@pytest.fixture
def watched(tmp_path: Path) -> Watched:
    return Watched(tmp_path)


def test_a_connection_would_be_noted(watched: Watched) -> None:
    said = watched.run("-c", "import socket; socket.create_connection(('192.0.2.1', 9), 1)")
    assert said.returncode
    assert watched.connections() == "192.0.2.1\n"


def test_the_main_job_connects_to_nothing(
    watched: Watched, weights: Path, audio: Path, tmp_path: Path
) -> None:
    job = watched.jobnotes("new", "--machine", "tiller")
    watched.jobnotes("add", job, audio / "doubtful.ogg")
    watched.jobnotes("run", job)
    watched.jobnotes("report", job, "--draft", "--out", tmp_path / "story.pdf")
    watched.jobnotes("report", job, "--draft", "--out", tmp_path / "story.html")
    watched.jobnotes("verify")
    assert watched.connections() == ""


def test_the_pages_connect_to_nothing(watched: Watched) -> None:
    watched.jobnotes("account", "Ada", "--password", "spare words for signing in")
    command = [sys.executable, "-m", "jobnotes.cli", "serve", "--port", "8793"]
    server = subprocess.Popen(
        command, env=watched.environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    try:
        assert "Ada" not in asked("http://127.0.0.1:8793/")
    finally:
        server.terminate()
        server.communicate()
    assert watched.connections() == ""


def asked(address: str) -> str:
    for _ in range(150):
        try:
            with urllib.request.urlopen(address) as answer:
                return str(answer.read().decode())
        except OSError:
            time.sleep(0.2)
    raise AssertionError("the server does not answer")

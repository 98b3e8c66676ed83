"""A phone at the bench: Chromium whose microphone plays a file once, and what it has recorded."""

import os
import shutil
import socket
import subprocess
import sys
import threading
import time
import wave
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import uvicorn
from web_shop import PASSWORD

from jobnotes.web.app import build

NOISE_S = 60.0
REMEMBER = """
window.recorded = [];
const Recorder = window.MediaRecorder;
window.MediaRecorder = class extends Recorder {
  constructor(...all) {
    super(...all);
    const pieces = [];
    window.recorded.push(pieces);
    this.addEventListener("dataavailable", ({ data }) => data.size && pieces.push(data));
  }
};
"""
HASHES = """async () => Promise.all(window.recorded.map(async (pieces) => {
  const bytes = await new Blob(pieces).arrayBuffer();
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((n) => n.toString(16).padStart(2, "0")).join("");
}))"""
"""SHA-256 of each file that the browser's recorder made, from what it gave to the page."""


def microphone(file: Path, samples: np.ndarray, rate: int = 16_000) -> Path:
    """Write what the microphone hears: mono samples of -1 to 1."""
    with wave.open(str(file), "wb") as out:
        out.setparams((1, 2, rate, 0, "NONE", ""))
        out.writeframes((samples * 32767).astype("<i2").tobytes())
    return file


def humming() -> np.ndarray:
    """Return sound without a break, in which every gap would be heard."""
    return 0.4 * np.sin(2 * np.pi * 330.0 * np.arange(int(NOISE_S * 16_000)) / 16_000)


def longest_gap_s(samples: np.ndarray) -> float:
    """Return the longest silence between the first sound and the last."""
    frames = np.abs(samples[: samples.size // 160 * 160].reshape(-1, 160)).max(axis=1)
    loud = np.flatnonzero(frames > 0.05)
    return float(np.diff(loud).max()) / 100 if loud.size > 1 else float("inf")


@contextmanager
def phone(playwright, chromium: str, sound: Path) -> Iterator[object]:
    """Open a browser whose microphone plays a file, and whose camera shows a test picture."""
    arguments = [
        "--no-sandbox",
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-audio-capture={sound}%noloop",
        "--autoplay-policy=no-user-gesture-required",
    ]
    opened = playwright.chromium.launch(executable_path=chromium, args=arguments)
    yield opened
    opened.close()


@contextmanager
def served(site) -> Iterator[str]:
    """Serve a site on a port of this machine, and give its address."""
    config = uvicorn.Config(build(site), port=0, log_level="error", timeout_graceful_shutdown=1)
    running = uvicorn.Server(config)
    thread = threading.Thread(target=running.run)
    thread.start()
    while not running.started:
        time.sleep(0.05)
    yield f"http://127.0.0.1:{running.servers[0].sockets[0].getsockname()[1]}"
    running.should_exit = True
    thread.join()


def browser_path() -> str:
    """Return where Chromium is; empty where there is none."""
    named = os.environ.get("CHROMIUM")
    return named or shutil.which("chromium") or shutil.which("google-chrome") or ""


def started_server(shop: Path, port: int, **more: str) -> subprocess.Popen[bytes]:
    """Start `jobnotes serve` on a shop's folder, and return when it answers."""
    environment = {**os.environ, "JOBNOTES_HOME": str(shop), **more}
    command = [sys.executable, "-m", "jobnotes.cli", "serve", "--port", str(port)]
    server = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
    until(lambda: answers(port))
    return server


@contextmanager
def serving(shop: Path) -> Iterator[str]:
    """Serve a shop's folder as `jobnotes serve` does, in a process of its own."""
    port = free_port()
    server = started_server(shop, port)
    yield f"http://127.0.0.1:{port}"
    server.terminate()
    server.wait()


def signed_in_page(browser, address: str, name: str, **options):
    """Return a page of somebody who has signed in by keyboard."""
    allowed = ["microphone", "camera"]
    context = browser.new_context(base_url=address, permissions=allowed, **options)
    context.add_init_script(REMEMBER)
    page = context.new_page()
    page.set_default_timeout(60_000)
    page.goto("/sign-in")
    page.fill("#name", name)
    page.fill("#password", PASSWORD)
    page.press("#password", "Enter")
    page.wait_for_url(f"{address}/{'bench' if name == 'Rune' else 'jobs'}")
    return page


def until(true, within_s: float = 60.0) -> None:
    """Wait until something is true."""
    ends = time.monotonic() + within_s
    while not true():
        assert time.monotonic() < ends, "it never came true"
        time.sleep(0.1)


def all_sent(page) -> None:
    """Wait until the phone says that everything is on the shop's computer."""
    page.wait_for_selector("#sent:has-text('Everything is on')")


def free_port() -> int:
    """Return a port of this machine that nobody uses."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def answers(port: int) -> bool:
    """Tell whether somebody listens on a port."""
    try:
        socket.create_connection(("127.0.0.1", port)).close()
    except ConnectionRefusedError:
        return False
    return True

"""The pages in a real browser: without barriers, by keyboard alone, and with a microphone."""

import threading
import time
import wave
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import uvicorn
from web_shop import PASSWORD

from jobnotes.intake.audio import decode
from jobnotes.store.issued import issued_of
from jobnotes.web.app import build

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")

TONE_S = 4.0
TONE_HZ = 440.0


@pytest.fixture(scope="module")
def tone(tmp_path_factory) -> Path:
    """A second of silence, a tone of some seconds, silence: what the microphone hears."""
    file = tmp_path_factory.mktemp("mic") / "tone.wav"
    beep = 0.4 * np.sin(2 * np.pi * TONE_HZ * np.arange(int(TONE_S * 48000)) / 48000)
    quiet = np.zeros(48000)
    samples = np.concatenate([quiet, beep, np.zeros(48000 * 30)])
    with wave.open(str(file), "wb") as out:
        out.setparams((1, 2, 48000, 0, "NONE", ""))
        out.writeframes((samples * 32767).astype("<i2").tobytes())
    return file


@pytest.fixture(scope="module")
def browser(chromium, tone) -> Iterator[object]:
    """One browser with a microphone that plays the tone once."""
    arguments = [
        "--no-sandbox",
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-audio-capture={tone}%noloop",
        "--autoplay-policy=no-user-gesture-required",
    ]
    with playwright.sync_playwright() as started:
        opened = started.chromium.launch(executable_path=chromium, args=arguments)
        yield opened
        opened.close()


@pytest.fixture
def server(site) -> Iterator[str]:
    """The site on a port of this machine."""
    running = uvicorn.Server(uvicorn.Config(build(site), port=0, log_level="error"))
    thread = threading.Thread(target=running.run)
    thread.start()
    while not running.started:
        time.sleep(0.05)
    port = running.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}"
    running.should_exit = True
    thread.join()


def opened(browser, server, name, **options):
    context = browser.new_context(base_url=server, permissions=["microphone"], **options)
    page = context.new_page()
    page.set_default_timeout(60_000)
    page.goto("/sign-in")
    page.fill("#name", name)
    page.fill("#password", PASSWORD)
    page.press("#password", "Enter")
    page.wait_for_url(f"{server}/{'bench' if name == 'Rune' else 'jobs'}")
    return page


@pytest.mark.parametrize(
    ("scheme", "width"), [("light", 1280), ("dark", 1280), ("light", 320), ("dark", 360)]
)
def test_no_page_has_a_barrier_or_is_wider_than_the_screen(browser, server, job, scheme, width):
    size = {"width": width, "height": 800}
    page = opened(browser, server, "Ada", color_scheme=scheme, viewport=size)
    here = f"/jobs/{job.id}"
    for path in (
        "/jobs",
        here,
        f"{here}/draft.html",
        "/phones",
        "/bench",
        f"/bench/{job.id}",
        "/pair",
    ):
        page.goto(path)
        found = axe.Axe().run(page)
        assert found.violations_count == 0, f"{path}: {found.generate_report()}"
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path
    page.context.close()


def test_everything_at_the_bench_is_large_enough_for_gloves(browser, server, job):
    page = opened(browser, server, "Rune", viewport={"width": 360, "height": 740})
    for path in ("/bench", f"/bench/{job.id}"):
        page.goto(path)
        sizes = page.evaluate(
            """() => [...document.querySelectorAll('main button, main a, main label.button')]
            .map((one) => [one.textContent, one.getBoundingClientRect()])
            .filter(([, box]) => box.width && (box.height < 48 || box.width < 48))
            .map(([text]) => text)"""
        )
        assert sizes == []
    page.context.close()


def test_a_job_is_reviewed_to_an_issued_report_by_keyboard_alone(browser, server, job, desk):
    page = opened(browser, server, "Ada")
    page.goto(f"/jobs/{job.id}")
    keys = page.keyboard
    keys.press("j")
    for _ in range(len(job.facts) + 5):
        if not any(one.open_flags or one.state == "proposed" for one in desk.load(job.id).facts):
            break
        before = len(desk.load(job.id).events)
        keys.press("c")
        if page.evaluate("document.activeElement.matches('[data-ask=c]')"):
            keys.press("Enter")
        page.wait_for_selector(f"[name=events]:not([value='{before}'])", state="attached")
    keys.press("i")
    keys.press("Enter")
    page.wait_for_selector("text=Report 1")
    assert [one.who for one in issued_of(desk.store, job.id)] == ["Ada"]
    page.context.close()


def test_a_doubt_is_not_settled_by_one_key(browser, server, job, desk):
    page = opened(browser, server, "Ada")
    page.goto(f"/jobs/{job.id}")
    page.keyboard.press("j")
    page.keyboard.press("c")
    page.wait_for_timeout(500)
    assert desk.load(job.id).events == ()
    page.context.close()


def test_the_seconds_of_a_fact_are_played(browser, server, job):
    page = opened(browser, server, "Ada")
    page.goto(f"/jobs/{job.id}")
    page.keyboard.press("j")
    with page.expect_response(lambda answer: "/sound/r1" in answer.url) as played:
        page.keyboard.press("p")
    assert played.value.status == 206
    assert page.locator(".marked").count() > 0
    page.context.close()


def test_what_is_recorded_arrives_complete_though_the_network_fails(
    browser, server, site, desk, job, monkeypatch
):
    number = desk.new(machine="edger").id
    heard = []
    monkeypatch.setattr(type(desk), "run", lambda _desk, job_id: heard.append(job_id))
    page = opened(browser, server, "Rune")
    page.goto(f"/bench/{number}")
    page.click("#record")
    page.wait_for_selector("#record[aria-pressed=true]")
    page.wait_for_timeout(2000)
    page.context.set_offline(True)
    page.wait_for_timeout(4000)
    assert "Only on this phone" in page.inner_text("#sent")
    page.click("#record")
    page.wait_for_selector("#record[aria-pressed=false]")
    page.context.set_offline(False)
    page.wait_for_selector("#sent:has-text('Everything is on')")
    site.worker.drain()
    deadline = time.monotonic() + 30
    while not desk.load(number).recordings and time.monotonic() < deadline:
        time.sleep(0.2)
    assert heard == [number]
    (recording,) = desk.load(number).recordings
    samples = decode(desk.audio_path(recording))
    loud = np.abs(samples.reshape(-1)[: samples.size // 160 * 160].reshape(-1, 160)).max(axis=1)
    assert TONE_S - 0.3 < (loud > 0.1).sum() / 100 < TONE_S + 0.3
    page.context.close()


def test_a_recording_that_a_reload_broke_off_is_sent_as_far_as_it_came(
    browser, server, site, desk, job, monkeypatch
):
    number = desk.new(machine="edger").id
    monkeypatch.setattr(type(desk), "run", lambda _desk, job_id: None)
    page = opened(browser, server, "Rune")
    page.goto(f"/bench/{number}")
    page.click("#record")
    page.wait_for_timeout(3500)
    page.on("dialog", lambda dialog: dialog.accept())
    page.reload()
    page.wait_for_selector("#sent:has-text('Everything is on')")
    deadline = time.monotonic() + 30
    while not desk.load(number).recordings and time.monotonic() < deadline:
        time.sleep(0.2)
    (recording,) = desk.load(number).recordings
    assert decode(desk.audio_path(recording)).size / 16000 > 1.5
    page.context.close()

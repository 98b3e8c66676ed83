"""The bench page in a real browser whose microphone speaks: to the report, and through failures."""

import signal

import numpy as np
import pytest
from bench_phone import (
    HASHES,
    all_sent,
    free_port,
    humming,
    longest_gap_s,
    microphone,
    phone,
    served,
    signed_in_page,
    started_server,
    until,
)

from jobnotes.desk import open_desk
from jobnotes.intake.audio import decode
from jobnotes.settings import Settings
from jobnotes.speech.quick import quick_recogniser
from jobnotes.store.issued import issued_of
from jobnotes.web import bench
from jobnotes.web.listening import Listening
from jobnotes.web.site import Site
from jobnotes.web.worker import Worker

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe is not installed")

TWO_SENTENCES_S = 6.3  # of readings.ogg: tests/audio/README.md
KEPT = """async () => Boolean(
  (await caches.match(location.pathname)) &&
  (await navigator.serviceWorker.getRegistration())?.active
)"""
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True}


@pytest.fixture(scope="module")
def started():
    with playwright.sync_playwright() as running:
        yield running


@pytest.fixture(scope="module")
def speaking(started, chromium, tmp_path_factory, audio):
    """A phone that hears two sentences and then silence."""
    said = decode(audio / "readings.ogg")[: int(TWO_SENTENCES_S * 16_000)]
    file = microphone(
        tmp_path_factory.mktemp("mic") / "said.wav", np.concatenate([said, np.zeros(480_000)])
    )
    with phone(started, chromium, file) as browser:
        yield browser


@pytest.fixture(scope="module")
def hearing_hum(started, chromium, tmp_path_factory):
    """A phone that hears a hum without a break."""
    file = microphone(tmp_path_factory.mktemp("mic") / "hum.wav", humming())
    with phone(started, chromium, file) as browser:
        yield browser


@pytest.fixture
def unheard(desk, monkeypatch):
    """A shop whose recordings are taken in and not heard, since they only hum."""
    monkeypatch.setattr(type(desk), "run", lambda _desk, job_id: None)
    return desk


def recordings(desk, number):
    return desk.load(number).recordings


def by_click(page, selector):
    page.click(selector)


def by_key(page, selector):
    """Walk to a control with Tab, as far as needed, and press it."""
    for _ in range(60):
        if page.evaluate("(wanted) => document.activeElement.matches(wanted)", selector):
            return page.keyboard.press("Enter")
        page.keyboard.press("Tab")
    raise AssertionError(f"Tab does not lead to {selector}")


def settle_by_click(page):
    page.click(".fact[aria-current] :is(button[value=listened], button[value=confirm])")


def settle_by_key(page):
    page.keyboard.press("c")
    if page.evaluate("document.activeElement.matches('[data-ask=c]')"):
        page.keyboard.press("Enter")


def issue_by_click(page):
    page.click("form[action$='/issue'] button")


def issue_by_key(page):
    page.keyboard.press("i")
    page.keyboard.press("Enter")


@pytest.mark.parametrize(
    ("press", "settle", "issue"),
    [(by_click, settle_by_click, issue_by_click), (by_key, settle_by_key, issue_by_key)],
    ids=["clicks", "keys"],
)
def test_what_is_spoken_at_the_bench_becomes_an_issued_report(
    speaking, desk, weights, press, settle, issue
):
    site = Site(desk, Worker(), listening=Listening(quick_recogniser))
    with served(site) as address:
        page = signed_in_page(speaking, address, "Rune", **PHONE)
        press(page, "#start-new")
        page.wait_for_selector("#record:not([hidden])")
        number = page.url.rpartition("/")[2]
        press(page, "#record")
        page.wait_for_selector(".figures li:has-text('12.4')")
        press(page, "#open-camera")
        page.wait_for_selector("#shoot:not([disabled])")
        press(page, "#shoot")
        page.wait_for_selector("#camera-words:has-text('1 taken')")
        press(page, "#close-camera")
        page.wait_for_selector(".figures li:has-text('110')")
        press(page, "#record")
        all_sent(page)
        until(lambda: not site.worker.busy(number) and len(desk.load(number).facts) > 1)
        page.context.close()
        assert [photo.format for photo in desk.load(number).photos] == ["jpeg"]
        clerk = signed_in_page(speaking, address, "Ada")
        clerk.goto(f"/jobs/{number}")
        clerk.keyboard.press("j")
        while any(fact.open_flags or fact.state == "proposed" for fact in desk.load(number).facts):
            before = len(desk.load(number).events)
            settle(clerk)
            clerk.wait_for_selector(f"[name=events]:not([value='{before}'])", state="attached")
        issue(clerk)
        until(lambda: issued_of(desk.store, number))
        clerk.context.close()
    site.worker.stop()
    told = {
        (fact.what, str(fact.value)) for fact in desk.load(number).facts if fact.kind == "reading"
    }
    assert told == {("battery voltage", "12.4"), ("compression", "110")}


def test_a_new_recorder_and_lost_wi_fi_leave_no_gap(hearing_hum, unheard, site, monkeypatch):
    monkeypatch.setattr(bench, "PART_S", 2)
    number = unheard.new(machine="edger").id
    with served(site) as address:
        page = signed_in_page(hearing_hum, address, "Rune", **PHONE)
        page.goto(f"/bench/{number}")
        page.click("#record")
        page.wait_for_timeout(1500)
        page.context.set_offline(True)
        page.wait_for_timeout(2500)
        assert "There is no Wi-Fi" in page.inner_text("#sent")
        page.context.set_offline(False)
        page.wait_for_timeout(3000)
        page.click("#record")
        all_sent(page)
        hashes = page.evaluate(HASHES)
        until(lambda: recordings(unheard, number))
        page.context.close()
    kept = recordings(unheard, number)
    assert len(kept) > 1
    assert [one.sha256 for one in kept] == hashes
    sound = np.concatenate([decode(unheard.audio_path(one)) for one in kept])
    assert longest_gap_s(sound) < 1.0


def test_what_a_killed_tab_had_kept_is_sent_by_the_next_one(hearing_hum, unheard, site):
    number = unheard.new(machine="edger").id
    with served(site) as address:
        page = signed_in_page(hearing_hum, address, "Rune", **PHONE)
        page.goto(f"/bench/{number}")
        page.context.set_offline(True)
        page.click("#record")
        page.wait_for_selector("#sent:has-text('4 seconds of sound')")
        other = page.context.new_page()
        page.close(run_before_unload=False)  # without a word, as when the phone needs its memory
        other.context.set_offline(False)
        other.goto("/bench")
        until(lambda: recordings(unheard, number))
        other.context.close()
    (recording,) = recordings(unheard, number)
    assert decode(unheard.audio_path(recording)).size / 16_000 > 2.5


def test_the_page_opens_and_records_without_wi_fi(hearing_hum, unheard, site):
    number = unheard.new(machine="edger").id
    with served(site) as address:
        page = signed_in_page(hearing_hum, address, "Rune", **PHONE)
        page.goto(f"/bench/{number}")
        until(lambda: page.evaluate(KEPT))
        page.context.set_offline(True)
        page.reload()
        assert "edger" in page.inner_text("h1")
        page.click("#record")
        page.wait_for_selector("#sent:has-text('2 seconds of sound')")
        page.click("#record")
        page.wait_for_selector("#record[aria-pressed=false]:not([disabled])")
        page.context.set_offline(False)
        all_sent(page)
        until(lambda: recordings(unheard, number))
        page.context.close()


def test_a_server_that_is_killed_and_started_again_gets_every_piece(hearing_hum, desk):
    number = desk.new(machine="edger").id
    shop = desk.settings.data_folder
    port = free_port()
    server = started_server(shop, port, JOBNOTES_MODELS=str(shop / "none"))
    page = signed_in_page(hearing_hum, f"http://127.0.0.1:{port}", "Rune", **PHONE)
    page.goto(f"/bench/{number}")
    page.click("#record")
    page.wait_for_timeout(2500)
    server.send_signal(signal.SIGKILL)
    server.wait()
    page.wait_for_timeout(1500)
    server = started_server(shop, port, JOBNOTES_MODELS=str(shop / "none"))
    page.wait_for_timeout(1500)
    page.click("#record")
    all_sent(page)
    hashes = page.evaluate(HASHES)
    until(lambda: recordings(desk, number))
    page.context.close()
    server.terminate()
    server.wait()
    kept = recordings(open_desk(Settings(data_folder=shop)), number)
    assert [one.sha256 for one in kept] == hashes
    assert longest_gap_s(decode(desk.audio_path(kept[0]))) < 1.0


@pytest.mark.parametrize(("scheme", "width"), [("light", 390), ("dark", 320)])
def test_no_state_of_the_bench_has_a_barrier(hearing_hum, unheard, site, job, scheme, width):
    size = {"viewport": {"width": width, "height": 844}, "color_scheme": scheme}
    with served(site) as address:
        page = signed_in_page(hearing_hum, address, "Rune", **size)
        for path in ("/bench", f"/bench/{unheard.new().id}", f"/bench/{job.id}"):
            page.goto(path)
            without_barrier(page, path)
        page.click("#record")
        page.wait_for_selector(".recording")
        without_barrier(page, "recording")
        page.click("#open-camera")
        page.wait_for_selector("#shoot:not([disabled])")
        without_barrier(page, "camera")
        page.click("#close-camera")
        page.context.set_offline(True)
        page.wait_for_selector("#sent:has-text('There is no Wi-Fi')")
        without_barrier(page, "without Wi-Fi")
        page.click("#record")
        page.wait_for_selector("#sent:has-text('Only on this phone')")
        without_barrier(page, "not sent")
        page.context.close()


def without_barrier(page, state):
    """No rule of axe is broken, nothing is wider than the screen, no target is under 48 px."""
    found = axe.Axe().run(page)
    assert found.violations_count == 0, f"{state}: {found.generate_report()}"
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), state
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            ':is(main, header) :is(button, a, label.button)'
        )]
        .map((one) => [one.textContent, one.getBoundingClientRect()])
        .filter(([, box]) => box.width > 1 && (box.height < 48 || box.width < 48))
        .map(([text]) => text)"""
    )
    assert small == [], state

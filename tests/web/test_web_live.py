"""What is heard while somebody at the bench still speaks."""

import hashlib
import time

import pytest
from web_shop import signed_in

from jobnotes.speech.canned import CannedRecogniser
from jobnotes.speech.quick import quick_recogniser
from jobnotes.web.listening import Listening
from jobnotes.web.site import Site
from jobnotes.web.worker import Worker

TAKE = "cd" * 16
SIZE = 4000


@pytest.fixture
def empty(desk):
    return desk.new(machine="edger")


@pytest.fixture
def sound(audio):
    return (audio / "readings.ogg").read_bytes()


def shop_that_hears(desk, recogniser):
    hearing = Listening(lambda: recogniser)
    return Site(desk, Worker(), ("testserver",), listening=hearing)


def send(client, job, sound, first=0, last=None):
    cut = [sound[at : at + SIZE] for at in range(0, len(sound), SIZE)]
    for number, piece in list(enumerate(cut))[first:last]:
        head = {"x-sha256": hashlib.sha256(piece).hexdigest(), "x-offset": str(number * SIZE)}
        path = f"/api/jobs/{job.id}/takes/{TAKE}/0/{number}"
        assert client.put(path, content=piece, headers=head).status_code == 200
    return len(cut)


def end(client, job, count, size):
    part = {"pieces": count, "bytes": size, "started_ms": 1_790_000_000_000}
    return client.post(f"/api/jobs/{job.id}/takes/{TAKE}/end", json={"parts": [part]})


def page_with(client, job, text, within_s=60):
    """Return what the phone's page shows, once it holds the text."""
    until = time.monotonic() + within_s
    while text not in (page := client.get(f"/bench/{job.id}/heard").text):
        assert time.monotonic() < until, page
        time.sleep(0.1)
    return page


def test_figures_stand_there_before_the_recording_ends(desk, empty, sound, weights):
    phone = signed_in(shop_that_hears(desk, quick_recogniser()), "Rune")
    send(phone, empty, sound, last=len(sound) // SIZE // 2)
    page = page_with(phone, empty, "12.4")
    assert "battery voltage: 12.4 volts" in page
    assert "not checked yet" in page
    assert "How long did the work take?" in page_with(phone, empty, "Still missing")
    assert desk.load(empty.id).words == ()


def test_words_go_on_when_the_program_was_started_anew_meanwhile(desk, empty, sound):
    says = CannedRecogniser.saying("gap is twelve thou")
    send(signed_in(shop_that_hears(desk, says), "Rune"), empty, sound, last=2)
    phone = signed_in(shop_that_hears(desk, says), "Rune")
    send(phone, empty, sound, first=2)
    assert "12" in page_with(phone, empty, "thou")


def test_two_phones_are_heard_beside_each_other(desk, empty, sound):
    other = desk.new(machine="tiller")
    phone = signed_in(shop_that_hears(desk, CannedRecogniser.saying("gap is nine thou")), "Rune")
    send(phone, empty, sound)
    send(phone, other, sound)
    for job in (empty, other):
        page_with(phone, job, "9 thou")


def test_sound_that_cannot_be_heard_at_once_is_kept_and_said(desk, empty):
    phone = signed_in(shop_that_hears(desk, CannedRecogniser(())), "Rune")
    send(phone, empty, b"no sound at all" * 100)
    page_with(phone, empty, "No words can be shown, but the sound is kept")
    assert list((desk.settings.data_folder / "incoming").rglob("*.piece"))


def test_what_is_heard_in_the_end_takes_the_place_of_live_words(desk, empty, sound, monkeypatch):
    site = shop_that_hears(desk, CannedRecogniser.saying("gap is twelve thou"))
    phone = signed_in(site, "Rune")
    monkeypatch.setattr(type(desk), "run", lambda _desk, job_id: None)
    count = send(phone, empty, sound)
    page_with(phone, empty, "12 thou")
    end(phone, empty, count, len(sound))
    site.worker.drain()
    assert "12 thou" not in phone.get(f"/bench/{empty.id}/heard").text
    site.worker.stop()

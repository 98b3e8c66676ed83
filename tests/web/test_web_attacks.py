"""Attacks from within the shop's network: each is refused, and nothing that was kept is lost."""

import io
import json
import socket
import threading
import zipfile
import zlib

import pytest
from bench_phone import served
from starlette.testclient import TestClient
from web_shop import signed_in

from jobnotes.review.events import caption
from jobnotes.web import doors
from jobnotes.web.app import build
from jobnotes.web.doors import PHOTO_BYTES
from jobnotes.web.throttle import Rate

SCRIPT = "<script>alert(1)</script>"


def sent(client, job, name, content, kind="application/octet-stream"):
    return client.post(f"/bench/{job.id}/files", files={"files": (name, content, kind)})


@pytest.fixture
def untouched(desk, job):
    """Look before and after that an attack has neither changed the job nor damaged the store."""
    before = desk.store.load(job.id)
    yield
    assert desk.store.load(job.id) == before
    assert desk.problems() == ()


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2f..%2fapp.py",
        "/static//etc/passwd",
        "/jobs/..%2f..%2fjobs.db",
        "/jobs/{job}/photos/..%2f..%2f..%2fjobs.db",
        "/jobs/{job}/sound/%2fetc%2fpasswd",
        "/jobs/{job}/reports/..%2f1",
    ],
)
def test_no_path_leads_out_of_what_is_served(clerk, job, untouched, path):
    answer = clerk.get(path.replace("{job}", job.id))
    assert answer.status_code == 404
    assert b"root:" not in answer.content
    assert b"SQLite" not in answer.content


@pytest.mark.parametrize("what", ["photos/p1", "sound/r1"])
def test_what_belongs_to_one_job_is_not_served_under_another(clerk, desk, job, untouched, what):
    other = desk.new(machine="edger")
    assert clerk.get(f"/jobs/{job.id}/{what}").status_code == 200
    assert clerk.get(f"/jobs/{other.id}/{what}").status_code == 404


def test_words_names_and_captions_are_never_markup(clerk, technician, desk, site):
    number = desk.new(machine=SCRIPT, customer='"><img src=x onerror=alert(1)>')
    said = f"The gap is nine thou. {SCRIPT}\nFound {SCRIPT} in the filter.".encode()
    assert sent(technician, number, f'"{SCRIPT}.txt', said).status_code == 303
    site.worker.drain()
    job = desk.load(number.id)
    assert job.words
    for path in (f"/jobs/{job.id}", f"/jobs/{job.id}/preview", "/jobs"):
        assert SCRIPT not in clerk.get(path).text
    for path in ("/bench", f"/bench/{job.id}", f"/bench/{job.id}/heard"):
        assert SCRIPT not in technician.get(path).text


def test_a_caption_is_never_markup(clerk, desk, job):
    from datetime import UTC, datetime

    desk.change(job.id, lambda old: caption(old, "p1", "Ada", datetime.now(UTC), SCRIPT))
    assert SCRIPT not in clerk.get(f"/jobs/{job.id}").text


def test_a_page_in_the_clothes_of_a_recording_is_never_served_as_a_page(clerk, desk, site, job):
    wav = b"RIFF\x24\x10\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00\x80\x3e\x00\x00"
    wav += (
        b"\x00\x7d\x00\x00\x02\x00\x10\x00data\x00\x10\x00\x00" + f"<html>{SCRIPT}".encode() * 157
    )
    assert sent(clerk, job, "page.html", wav, "text/html").status_code == 303
    site.worker.drain()
    kept = desk.load(job.id).recordings[-1]
    answer = clerk.get(f"/jobs/{job.id}/sound/{kept.id}")
    assert answer.headers["content-type"] == "audio/wav"
    assert answer.headers["content-disposition"].startswith("attachment")
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_an_archive_is_refused_unopened(technician, job, untouched):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("bomb.txt", b"0" * 10_000_000)
    assert sent(technician, job, "photos.zip", packed.getvalue()).status_code == 422


def pixel_bomb(side=50_000):
    """Return a PNG of some kilobytes that says it is 50,000 pixels wide and high (PNG, 3rd ed.)."""

    def chunk(name, body):
        return (
            len(body).to_bytes(4, "big") + name + body + zlib.crc32(name + body).to_bytes(4, "big")
        )

    size = side.to_bytes(4, "big") * 2
    rows = zlib.compress(b"\0" * 1_000_000)
    head = chunk(b"IHDR", size + b"\x01\x00\x00\x00\x00")
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def test_a_picture_of_billions_of_pixels_is_refused_and_said(technician, desk, site, job):
    before = desk.load(job.id).photos
    assert sent(technician, job, "bomb.png", pixel_bomb()).status_code == 303
    site.worker.drain()
    assert desk.load(job.id).photos == before
    assert "megapixels" in technician.get(f"/bench/{job.id}/heard").text


def test_a_photo_that_is_too_large_is_refused_unread(technician, job, untouched):
    path = f"/api/jobs/{job.id}/photos/{'0' * 64}"
    told = {"content-length": str(PHOTO_BYTES + 1)}
    assert technician.put(path, content=b"x", headers=told).status_code == 413


def test_too_many_requests_are_refused_at_the_door(site, job):
    from dataclasses import replace

    held = replace(site, rate=Rate(most=3, within_s=60))
    phone = signed_in(held, "Rune")
    answers = [phone.get(f"/bench/{job.id}/heard") for _ in range(4)]
    assert [one.status_code for one in answers] == [200, 200, 200, 429]
    assert int(answers[-1].headers["retry-after"]) > 0


def test_a_body_that_does_not_come_is_not_waited_for(site, monkeypatch, job):
    monkeypatch.setattr(doors, "PATIENCE_S", 0.3)
    with served(site) as address:
        port = int(address.rpartition(":")[2])
        slow = socket.create_connection(("127.0.0.1", port))
        slow.sendall(b"POST /sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 10\r\n\r\nab")
        other = []
        thread = threading.Thread(target=lambda: other.append(_front_page(port)))
        thread.start()
        thread.join()
        assert other[0].startswith(b"HTTP/1.1 200")
        assert slow.recv(100).startswith(b"HTTP/1.1 408")
        slow.close()


def _front_page(port):
    with socket.create_connection(("127.0.0.1", port)) as asking:
        asking.sendall(b"GET /sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n")
        return asking.recv(100)


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "evil.example:8742", ""]
)
def test_a_forged_host_is_refused(clerk, untouched, host):
    assert clerk.get("/jobs", headers={"host": host}).status_code == 400


def test_a_fault_of_ours_tells_nothing_of_itself(site, desk, job, monkeypatch):
    secret = "what the customer said"

    def fails(*_):
        raise ValueError(secret)

    phone = signed_in(site, "Rune")
    quiet = TestClient(
        build(site),
        cookies=dict(phone.cookies),
        headers=phone.headers,
        raise_server_exceptions=False,
    )
    monkeypatch.setattr(type(desk), "load", fails)
    answer = quiet.put(f"/api/jobs/{job.id}/photos/{'0' * 64}", content=b"x")
    assert answer.status_code == 500
    assert answer.headers["content-type"] == "application/problem+json"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert secret not in answer.text


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"[]",
        b"null",
        b'{"parts": []}',
        b'{"parts": [{"pieces": -1}]}',
        b"\xff\xfe",
        b"[" * 9999,
    ],
)
def test_an_end_of_a_take_that_is_nonsense_is_a_problem_of_rfc_9457(
    technician, job, untouched, body
):
    answer = technician.post(f"/api/jobs/{job.id}/takes/{'0' * 32}/end", content=body)
    assert answer.status_code == 422
    assert answer.headers["content-type"] == "application/problem+json"
    assert json.loads(answer.content)["detail"]

"""What a phone at the bench sends: pieces that arrive once and whole, photos, files."""

import hashlib
import json

import pytest

from jobnotes.web import incoming
from jobnotes.web.bench import safe_name
from jobnotes.web.doors import PIECE_BYTES

TAKE = "ab" * 16
STARTED_MS = 1_790_000_000_000


def url(job, *rest):
    return "/".join((f"/api/jobs/{job.id}/takes/{TAKE}", *map(str, rest)))


def put(client, job, content, number=0, offset=0, part=0, sha256=""):
    told = sha256 or hashlib.sha256(content).hexdigest()
    head = {"x-sha256": told, "x-offset": str(offset)}
    return client.put(url(job, part, number), content=content, headers=head)


def end(client, job, *parts):
    told = [{"pieces": n, "bytes": size, "started_ms": STARTED_MS} for n, size in parts]
    return client.post(url(job, "end"), content=json.dumps({"parts": told}))


@pytest.fixture
def empty(desk):
    return desk.new(machine="edger")


@pytest.fixture
def sound(audio):
    return (audio / "doubtful.ogg").read_bytes()


def send(client, job, sound, size=4000):
    cut = [sound[at : at + size] for at in range(0, len(sound), size)]
    for number, piece in enumerate(cut):
        assert put(client, job, piece, number, number * size).status_code == 200
    return len(cut)


def test_a_piece_is_acknowledged_with_its_hash_and_may_come_again(technician, empty):
    answers = [put(technician, empty, b"some sound") for _ in range(2)]
    told = {"part": 0, "number": 0, "sha256": hashlib.sha256(b"some sound").hexdigest()}
    assert [one.json() for one in answers] == [told, told]


def test_a_piece_that_arrives_damaged_is_not_acknowledged(technician, empty):
    answer = put(technician, empty, b"some sound", sha256="0" * 64)
    assert answer.status_code == 422
    assert "sent again" in answer.json()["detail"]


def test_another_piece_never_takes_the_place_of_one_that_is_kept(technician, empty, desk):
    put(technician, empty, b"first")
    assert put(technician, empty, b"other").status_code == 422
    (kept,) = (desk.settings.data_folder / "incoming").rglob("*.piece")
    assert kept.read_bytes() == b"first"


@pytest.mark.parametrize("take", ["..", "AB" * 16, "ab", "%2e%2e%2f" * 4])
def test_a_hostile_name_of_a_take_is_refused(technician, empty, take):
    path = f"/api/jobs/{empty.id}/takes/{take}/0/0"
    head = {"x-sha256": hashlib.sha256(b"x").hexdigest(), "x-offset": "0"}
    assert technician.put(path, content=b"x", headers=head).status_code in (404, 422)


def test_a_piece_that_is_too_large_is_refused(technician, empty):
    assert put(technician, empty, b"x" * (PIECE_BYTES + 1)).status_code == 413


def test_an_end_names_the_pieces_that_are_missing(technician, empty):
    put(technician, empty, b"first")
    answer = end(technician, empty, (3, 15))
    assert (answer.status_code, answer.json()["missing"]) == (409, [[0, 1], [0, 2]])


def test_an_end_that_tells_nonsense_is_refused(technician, empty):
    assert technician.post(url(empty, "end"), content=b"{").status_code == 422


def test_the_pieces_become_one_recording_that_is_heard(
    technician, empty, site, desk, sound, weights
):
    count = send(technician, empty, sound)
    assert end(technician, empty, (count, len(sound))).status_code == 202
    site.worker.drain()
    job = desk.load(empty.id)
    (recording,) = job.recordings
    assert desk.audio_path(recording).read_bytes() == sound
    assert "amps" in [word.text.strip(".,") for word in job.words]
    assert "As understood" in technician.get(f"/bench/{job.id}/heard").text
    # The phone missed the answer and asks again: nothing is recorded twice.
    assert end(technician, empty, (count, len(sound))).status_code == 202
    site.worker.drain()
    assert len(desk.load(empty.id).recordings) == 1


def test_a_take_that_was_whole_when_the_program_stopped_is_taken_in_at_the_next_start(
    technician, empty, site, desk, sound, weights
):
    from jobnotes.web import pieces

    send(technician, empty, sound)
    folder = pieces.take_folder(desk.settings.data_folder, empty.id, TAKE)
    whole = {"pieces": -(-len(sound) // 4000), "bytes": len(sound), "started_ms": STARTED_MS}
    pieces.close(folder, pieces.TakeEnd.model_validate({"parts": [whole]}))
    incoming.resume(site)
    site.worker.drain()
    assert len(desk.load(empty.id).recordings) == 1


def test_pieces_that_do_not_follow_each_other_are_kept_and_said(technician, empty, site, desk):
    put(technician, empty, b"first", 0, 0)
    put(technician, empty, b"third", 1, 99)
    end(technician, empty, (2, 10))
    site.worker.drain()
    assert "not in its place" in site.worker.said[empty.id]
    assert len(list((desk.settings.data_folder / "incoming").rglob("*.piece"))) == 2


def test_a_photo_is_taken_in(technician, empty, site, desk, tmp_path):
    from PIL import Image

    file = tmp_path / "a.jpg"
    Image.effect_noise((64, 48), 80).convert("RGB").save(file)
    sha256 = hashlib.sha256(file.read_bytes()).hexdigest()
    path = f"/api/jobs/{empty.id}/photos/{sha256}"
    assert technician.put(path, content=file.read_bytes()).status_code == 201
    site.worker.drain()
    assert [photo.sha256 for photo in desk.load(empty.id).photos] == [sha256]


def test_a_page_that_calls_itself_a_photo_is_refused(technician, empty, desk):
    page = b"<script>alert(1)</script>"
    files = {"files": ("../../evil.jpg", page, "image/jpeg")}
    answer = technician.post(f"/bench/{empty.id}/files", files=files)
    assert answer.status_code == 422
    assert "evil.jpg" in answer.text
    assert not list(desk.settings.data_folder.rglob("*evil*"))


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("../../etc/passwd", "passwd"),
        ("C:\\photos\\a.jpg", "a.jpg"),
        (".hidden", "hidden"),
        ("a\x00b\n.jpg", "a_b_.jpg"),
        ("..", "file"),
        ("", "file"),
    ],
)
def test_a_hostile_file_name_is_made_harmless(name, safe):
    assert safe_name(name, "file") == safe


def test_a_job_is_started_at_the_bench_in_one_step(technician, desk):
    place = technician.post("/bench", data={}).headers["location"]
    assert technician.get(place).status_code == 200
    assert desk.load(place.removeprefix("/bench/")).technician == desk.settings.technician

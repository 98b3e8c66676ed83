"""Originals in object storage: in memory by fsspec, and S3 of a local server where there is one."""

import os
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import fsspec
import pytest

from jobnotes.backup.restore import restore
from jobnotes.backup.take import back_up
from jobnotes.desk import open_desk
from jobnotes.errors import SettingsError, StoreError
from jobnotes.settings import Settings
from jobnotes.store.media import Media
from jobnotes.store.objects import media_at


@pytest.fixture(scope="module")
def s3() -> Iterator[str]:
    """The URL of a bucket on a local server that speaks S3."""
    pytest.importorskip("s3fs", reason="s3fs is not installed: pip install jobnotes[s3]")
    server = pytest.importorskip(
        "moto.server", reason="no local S3 server: pip install moto[server]"
    )
    running = server.ThreadedMotoServer("127.0.0.1", 0, verbose=False)
    running.start()
    host, port = running.get_host_and_port()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("AWS_ENDPOINT_URL", f"http://{host}:{port}")
        patch.setenv("AWS_ACCESS_KEY_ID", "any")
        patch.setenv("AWS_SECRET_ACCESS_KEY", "any")
        patch.setenv("AWS_DEFAULT_REGION", "us-east-1")
        fsspec.filesystem("s3", skip_instance_cache=True).mkdir("shop")
        yield "s3://shop"
    running.stop()


@pytest.fixture(params=["memory", "s3"])
def place(request: pytest.FixtureRequest) -> str:
    start = "memory://" if request.param == "memory" else request.getfixturevalue("s3")
    return f"{start}/{uuid4().hex}"


@pytest.fixture
def media(place: str, tmp_path: Path) -> Media:
    return media_at(place, tmp_path / "copies")


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    file = tmp_path / "photo.jpg"
    file.write_bytes(os.urandom(3_000_000))
    return file


def alter(place: str, sha256: str, content: bytes) -> None:
    files, root = fsspec.core.url_to_fs(place)
    files.pipe_file(f"{root}/{sha256[:2]}/{sha256}", content)


def test_an_original_is_read_on_another_computer(
    media: Media, place: str, photo: Path, tmp_path: Path
) -> None:
    sha256 = media.keep(photo)
    other = media_at(place, tmp_path / "other")
    assert other.path(sha256).read_bytes() == photo.read_bytes()
    assert other.verify() == []


def test_an_altered_original_is_found_and_not_read(
    media: Media, place: str, photo: Path, tmp_path: Path
) -> None:
    sha256 = media.keep(photo)
    alter(place, sha256, b"rotten")
    other = media_at(place, tmp_path / "other")
    with pytest.raises(StoreError, match="altered"):
        other.path(sha256)
    assert [sha256 in problem for problem in other.verify()] == [True]
    media.keep(photo)
    assert other.verify() == []


def test_a_deleted_original_is_gone_everywhere(
    media: Media, place: str, photo: Path, tmp_path: Path
) -> None:
    sha256 = media.keep(photo)
    other = media_at(place, tmp_path / "other")
    copy = other.path(sha256)
    media.drop(sha256)
    assert not media.holds(sha256)
    with pytest.raises(StoreError, match="missing"):
        other.path(sha256)
    assert not copy.exists()


def test_what_does_not_belong_is_found(media: Media, place: str, photo: Path) -> None:
    media.keep(photo)
    alter(place, "holiday.jpg", b"sun")
    assert "does not belong" in media.verify()[0]


def test_a_copy_that_nobody_read_for_a_day_goes(
    media: Media, place: str, photo: Path, tmp_path: Path
) -> None:
    copies = tmp_path / "copies"
    copy = media.path(media.keep(photo))
    media_at(place, copies)
    assert copy.exists()
    os.utime(copy, (0, 0))
    media_at(place, copies)
    assert not copy.exists()
    assert media.path(copy.name).read_bytes() == photo.read_bytes()


def test_a_shop_with_its_originals_there_is_backed_up_and_restored(
    place: str, tmp_path: Path
) -> None:
    desk = open_desk(Settings(data_folder=tmp_path / "shop", media=place))
    (tmp_path / "note.txt").write_text("battery is twelve point six volts\n")
    job = desk.new()
    assert desk.add(job.id, [tmp_path / "note.txt"]) == ()
    assert desk.problems() == ()
    backup = back_up(desk, tmp_path / "copies")
    clean = open_desk(Settings(data_folder=tmp_path / "clean"))
    restore(clean, backup.path)
    assert clean.problems() == ()
    assert clean.load(job.id) == desk.load(job.id)


def test_a_storage_that_is_not_there_is_a_store_error(s3: str, photo: Path, tmp_path: Path) -> None:
    media = media_at("s3://nowhere/originals", tmp_path / "copies")
    with pytest.raises(StoreError, match="could not be kept"):
        media.keep(photo)


def test_a_kind_that_is_not_known_is_a_settings_error(tmp_path: Path) -> None:
    with pytest.raises(SettingsError, match="punchcards"):
        media_at("punchcards://shop", tmp_path)


def test_a_folder_is_used_as_it_is(tmp_path: Path) -> None:
    settings = Settings(data_folder=tmp_path / "shop", media=str(tmp_path / "shared"))
    assert open_desk(settings).media.folder == tmp_path / "shared"
    assert open_desk(Settings(data_folder=tmp_path / "shop")).media.folder == (
        tmp_path / "shop" / "originals"
    )

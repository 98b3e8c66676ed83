import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from zipfile import ZipFile

import pytest
from issuing import issued
from PIL import Image

from jobnotes.backup.form import opened, problems
from jobnotes.backup.restore import restore
from jobnotes.backup.take import back_up
from jobnotes.desk import Desk, open_desk
from jobnotes.errors import BackupError, BusyError, FormVersionError, StoreError
from jobnotes.record import Job
from jobnotes.settings import Settings
from jobnotes.store.people import Person, keep_person, people
from jobnotes.store.tasks import claim, state_of


@pytest.fixture
def desk(store_url: str, tmp_path: Path) -> Iterator[Desk]:
    """A shop with two jobs, a photo each, and an issued report."""
    desk = open_desk(Settings(data_folder=tmp_path / "shop", database=store_url))
    for n in (1, 2):
        job = desk.new(machine="tiller", customer=f"Customer {n}")
        assert desk.add(job.id, [a_photo(tmp_path, f"IMG_{n}.jpg"), a_note(tmp_path)]) == ()
    issued(desk, job.id, b"%PDF report")
    keep_person(desk.store, Person("Ada", "office", "hash"))
    yield desk
    desk.store.close()


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Desk]:
    desk = open_desk(Settings(data_folder=tmp_path / "clean"))
    yield desk
    desk.store.close()


@pytest.fixture(params=["sqlite", "postgresql"])
def other(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Desk]:
    url = ""
    if request.param == "postgresql":
        url = request.getfixturevalue("postgres").new_database()
    other = open_desk(Settings(data_folder=tmp_path / "other", database=url))
    yield other
    other.store.close()


def a_photo(folder: Path, name: str) -> Path:
    Image.effect_noise((64, 48), 80).convert("RGB").save(folder / name)
    return folder / name


def a_note(folder: Path) -> Path:
    (folder / "note.txt").write_text("battery is twelve point six volts\n")
    return folder / "note.txt"


def all_jobs(desk: Desk) -> list[Job]:
    return [desk.load(summary.id) for summary in desk.jobs()]


def files_in(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("name", ["copies", "copy.zip"])
def test_a_backup_is_restored_with_every_job_and_original(
    desk: Desk, empty: Desk, tmp_path: Path, name: str
) -> None:
    backup = back_up(desk, tmp_path / name)
    assert problems(backup) == ()
    held = restore(empty, tmp_path / name)
    assert held.counts["jobs"] == 2
    assert all_jobs(empty) == all_jobs(desk)
    assert empty.problems() == ()
    assert people(empty.store) == people(desk.store)
    assert files_in(empty.media.folder) == files_in(desk.media.folder)


def test_a_backup_of_either_database_is_restored_on_either(
    desk: Desk, tmp_path: Path, other: Desk
) -> None:
    back_up(desk, tmp_path / "copies")
    restore(other, tmp_path / "copies")
    assert all_jobs(other) == all_jobs(desk)
    assert other.new().id == desk.new().id


def test_a_shop_that_has_jobs_is_not_overwritten(desk: Desk, tmp_path: Path) -> None:
    back_up(desk, tmp_path / "copies")
    before = all_jobs(desk)
    with pytest.raises(BackupError, match="jobs in this shop already"):
        restore(desk, tmp_path / "copies")
    assert all_jobs(desk) == before


def test_the_next_backup_copies_only_what_is_new(desk: Desk, tmp_path: Path) -> None:
    first = back_up(desk, tmp_path / "copies")
    kept = {path: path.stat().st_ino for path in (tmp_path / "copies/originals").rglob("*")}
    desk.add(desk.jobs()[0].id, [a_photo(tmp_path, "IMG_3.jpg")])
    second = back_up(desk, tmp_path / "copies")
    assert {path: path.stat().st_ino for path in kept} == kept
    assert len(second.manifest().files) == len(first.manifest().files) + 1
    assert opened(tmp_path / "copies") == second
    assert (problems(first), problems(second)) == ((), ())


def test_an_original_that_rotted_in_the_backup_is_copied_anew(desk: Desk, tmp_path: Path) -> None:
    backup = back_up(desk, tmp_path / "copies")
    rotten = next(p for p in (tmp_path / "copies/originals").rglob("*") if p.is_file())
    rotten.chmod(0o600)
    rotten.write_bytes(b"rotten")
    assert [rotten.name in problem for problem in problems(backup)] == [True]
    back_up(desk, tmp_path / "copies")
    assert problems(backup) == ()


@pytest.mark.parametrize("hurt", ["jobs.db", "shop/settings.toml", "manifest.json", "originals"])
def test_a_damaged_backup_is_not_restored(
    desk: Desk, empty: Desk, tmp_path: Path, hurt: str
) -> None:
    (desk.settings.data_folder / "settings.toml").write_text('technician = "Bo"\n')
    backup = back_up(desk, tmp_path / "copies")
    file = backup.path / hurt
    if hurt == "originals":
        file = next(p for p in (tmp_path / "copies/originals").rglob("*") if p.is_file())
    content = bytearray(file.read_bytes())
    content[len(content) // 2] ^= 0xFF
    file.chmod(0o600)
    file.write_bytes(content)
    with pytest.raises(BackupError):
        restore(empty, tmp_path / "copies")
    assert (empty.jobs(), files_in(empty.media.folder)) == ((), set())


def test_a_zip_that_was_cut_short_is_not_restored(desk: Desk, empty: Desk, tmp_path: Path) -> None:
    out = back_up(desk, tmp_path / "copy.zip").path
    out.write_bytes(out.read_bytes()[:-2000])
    with pytest.raises(BackupError):
        restore(empty, out)
    assert empty.jobs() == ()


def test_a_backup_of_a_newer_program_is_refused(desk: Desk, empty: Desk, tmp_path: Path) -> None:
    manifest = back_up(desk, tmp_path / "copies").path / "manifest.json"
    manifest.write_text(json.dumps(json.loads(manifest.read_text()) | {"version": 99}))
    with pytest.raises(FormVersionError):
        restore(empty, tmp_path / "copies")


def test_a_backup_that_was_killed_is_never_taken_for_one(desk: Desk, tmp_path: Path) -> None:
    whole = back_up(desk, tmp_path / "copies")
    half = shutil.copytree(whole.path, whole.path.with_name("29990101T000000Z.part"))
    assert opened(tmp_path / "copies") == whole
    back_up(desk, tmp_path / "copies")
    assert not half.exists()


def test_a_folder_without_a_whole_backup_says_so(tmp_path: Path) -> None:
    (tmp_path / "29990101T000000Z").mkdir()
    with pytest.raises(BackupError, match="no whole backup"):
        opened(tmp_path)


def test_a_shop_with_a_missing_original_is_not_backed_up_as_if_whole(
    desk: Desk, tmp_path: Path
) -> None:
    desk.media.drop(next(iter(desk.store.originals())))
    for name in ("copies", "copy.zip"):
        with pytest.raises(StoreError, match="missing"):
            back_up(desk, tmp_path / name)
    assert not (tmp_path / "copy.zip").exists()
    with pytest.raises(BackupError):
        opened(tmp_path / "copies")


def test_what_only_this_computer_uses_is_not_in_the_backup(
    desk: Desk, empty: Desk, tmp_path: Path
) -> None:
    settings = desk.settings.data_folder / "settings.toml"
    settings.write_text(
        'technician = "Bo"\ndatabase = "postgresql://a:sesame@b/c"\n[shop]\nname = "Fix"\n'
    )
    copy = back_up(desk, tmp_path / "copy.zip")
    assert b"sesame" not in b"".join(copy.pieces("shop/settings.toml"))
    restore(empty, copy.path)
    written = (empty.settings.data_folder / "settings.toml").read_text()
    assert 'technician = "Bo"' in written
    assert 'name = "Fix"' in written


def test_settings_that_are_there_are_left(desk: Desk, empty: Desk, tmp_path: Path) -> None:
    for shop, who in ((desk, "Bo"), (empty, "Rune")):
        file = shop.settings.data_folder / "settings.toml"
        file.write_text(f'technician = "{who}"\n')
    restore(empty, back_up(desk, tmp_path / "copy.zip").path)
    assert "Rune" in (empty.settings.data_folder / "settings.toml").read_text()


def test_work_that_somebody_was_at_waits_again(desk: Desk, empty: Desk, tmp_path: Path) -> None:
    job = desk.jobs()[0].id
    desk.ask(job)
    assert claim(desk.store, "somebody")
    restore(empty, back_up(desk, tmp_path / "copy.zip").path)
    assert state_of(empty.store, job) == "waiting"


def test_a_backup_taken_while_jobs_and_photos_come_in_is_whole(
    desk: Desk, empty: Desk, tmp_path: Path
) -> None:
    def come_in(n: int) -> None:
        folder = tmp_path / f"phone{n}"
        folder.mkdir()
        for k in range(6):
            job = desk.new(customer=f"{n}.{k}")
            desk.add(job.id, [a_photo(folder, f"IMG_{k}.jpg")])

    with ThreadPoolExecutor(4) as pool:
        coming = [pool.submit(come_in, n) for n in range(3)]
        backups = [back_up(desk, tmp_path / "copies") for _ in range(3)]
        for one in coming:
            one.result()
    assert [problems(one) for one in backups] == [()] * 3
    restore(empty, backups[1].path)
    assert empty.problems() == ()


def test_two_backups_into_one_folder_do_not_mix(desk: Desk, tmp_path: Path) -> None:
    from filelock import FileLock

    (tmp_path / "copies").mkdir()
    with FileLock(tmp_path / "copies" / ".lock"), pytest.raises(BusyError):
        back_up(desk, tmp_path / "copies")


def test_a_zip_holds_what_its_manifest_names_and_no_more(desk: Desk, tmp_path: Path) -> None:
    backup = back_up(desk, tmp_path / "copy.zip")
    with ZipFile(backup.path) as packed:
        names = packed.namelist()
    assert names[-1] == "manifest.json"
    assert names[:-1] == [held.name for held in backup.manifest().files]


def test_the_commands_take_check_and_restore_a_backup(tmp_path: Path) -> None:
    def jobnotes(home: str, *words: str) -> str:
        environment = {**os.environ, "JOBNOTES_HOME": str(tmp_path / home)}
        command = [sys.executable, "-m", "jobnotes.cli", *words]
        done = subprocess.run(command, env=environment, check=True, capture_output=True, text=True)
        return done.stdout.strip()

    number = jobnotes("shop", "new", "--machine", "tiller")
    copies = str(tmp_path / "copies")
    assert jobnotes("shop", "backup", copies).startswith(copies)
    assert "whole" in jobnotes("shop", "verify", "--backup", copies)
    assert jobnotes("clean", "restore", copies).startswith("1 jobs as of")
    assert number in jobnotes("clean", "list")

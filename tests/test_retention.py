"""Erasing, on both databases, seen in the jobs, the folder, the bytes of the file and verify."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from issuing import issued
from PIL import Image

from jobnotes.backup.restore import restore
from jobnotes.backup.take import back_up
from jobnotes.desk import Desk, open_desk
from jobnotes.record import Job, Private, Reading
from jobnotes.retention import (
    Daily,
    erase_customer,
    erase_private,
    of_customer,
    private_due,
    still_held_by,
)
from jobnotes.settings import Settings
from jobnotes.store.erasures import finish
from jobnotes.store.issued import issued_of

OPEN = "Battery is twelve point six volts."
SECRET = "Private note: he never pays his bills zanzibar"


@pytest.fixture
def desk(store_url: str, tmp_path: Path) -> Iterator[Desk]:
    settings = Settings(data_folder=tmp_path / "shop", database=store_url, keep_private_days=30)
    desk = open_desk(settings)
    yield desk
    desk.store.close()


def a_job(desk: Desk, tmp_path: Path, customer: str, days_ago: int = 0) -> Job:
    """A job with a typed note, a private remark in it, a photo and an issued report."""
    made = desk.new(
        machine="tiller", customer=customer, created_at=datetime.now(UTC) - timedelta(days=days_ago)
    )
    folder = tmp_path / made.id
    folder.mkdir()
    (folder / "note.txt").write_text(f"{OPEN}\n{SECRET} {made.id}.\n")
    Image.effect_noise((64, 48), 80).convert("RGB").save(folder / "IMG.jpg")
    assert desk.add(made.id, [folder]) == ()
    at = made.created_at

    def in_its_time(job: Job) -> Job:
        return job.having(recordings=(job.recordings[0].having(started_at=at),))

    desk.change(made.id, in_its_time)
    desk.run(made.id)
    issued(desk, made.id, f"report of {customer}".encode())
    return desk.load(made.id)


def bytes_of(desk: Desk) -> bytes:
    """Return all that lies in the data folder."""
    files = [path for path in desk.settings.data_folder.rglob("*") if path.is_file()]
    return b"".join(path.read_bytes() for path in files)


def test_a_list_of_what_goes_comes_first_and_changes_nothing(desk: Desk, tmp_path: Path) -> None:
    job = a_job(desk, tmp_path, "Ms Okafor")
    (due,) = of_customer(desk, "ms okafor ")
    assert (due.job, due.recordings, due.photos, due.reports) == (job.id, 1, 1, 1)
    assert desk.load(job.id) == job


def test_a_customer_is_erased_and_others_are_not(desk: Desk, tmp_path: Path) -> None:
    gone, kept = (a_job(desk, tmp_path, name) for name in ("Ms Okafor", "Okafor & Sons"))
    erase_customer(desk, "Ms Okafor", "Ada")
    assert desk.load(kept.id) == kept
    left = desk.load(gone.id)
    assert (left.customer, left.words, left.facts, left.photos, left.reports) == (
        "",
        (),
        (),
        (),
        (),
    )
    assert issued_of(desk.store, gone.id) == ()
    assert not any(desk.media.holds(one.sha256) for one in (*gone.photos, *gone.reports))
    assert all(desk.media.holds(one.sha256) for one in (*kept.photos, *kept.reports))


def test_the_note_says_when_by_whom_and_what_but_not_of_whom(desk: Desk, tmp_path: Path) -> None:
    job = a_job(desk, tmp_path, "Ms Okafor")
    erase_customer(desk, "Ms Okafor", "Ada")
    (note,) = desk.load(job.id).events
    assert (note.who, note.what, note.after["photos"]) == ("Ada", "erased", 1)
    assert note.at > job.created_at
    assert "Okafor" not in desk.load(job.id).model_dump_json()


def test_verify_does_not_miss_what_was_erased_and_misses_what_is_lost(
    desk: Desk, tmp_path: Path
) -> None:
    a_job(desk, tmp_path, "Ms Okafor")
    lost = a_job(desk, tmp_path, "Ibekwe")
    erase_customer(desk, "Ms Okafor", "Ada")
    assert desk.problems() == ()
    desk.media.drop(lost.photos[0].sha256)
    assert [lost.id in problem for problem in desk.problems()] == [True]


def test_nothing_of_an_erased_customer_is_left_in_the_bytes_of_the_folder(tmp_path: Path) -> None:
    desk = open_desk(Settings(data_folder=tmp_path / "shop"))
    a_job(desk, tmp_path, "Quagmire")
    other = a_job(desk, tmp_path, "Ibekwe")
    waiting = desk.settings.data_folder / "incoming" / "2026-0001" / "files"
    waiting.mkdir(parents=True)
    (waiting / "more.txt").write_text("Quagmire called")
    number = of_customer(desk, "Quagmire")[0].job
    waiting.parent.rename(waiting.parent.with_name(number))
    erase_customer(desk, "Quagmire", "Ada")
    left = bytes_of(desk).lower()
    assert b"quagmire" not in left
    assert b"quagm" not in left
    assert f"zanzibar {number}".encode() not in left
    assert f"zanzibar {other.id}".encode() in left


def test_a_file_that_another_job_holds_too_stays(desk: Desk, tmp_path: Path) -> None:
    shared = a_job(desk, tmp_path, "Ms Okafor").photos[0]
    other = desk.new(customer="Ibekwe")
    desk.add(other.id, [desk.media.path(shared.sha256)])
    erase_customer(desk, "Ms Okafor", "Ada")
    assert desk.media.holds(shared.sha256)
    assert desk.problems() == ()


def test_an_erasure_that_was_killed_before_the_files_went_is_ended_later(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    photo = a_job(desk, tmp_path, "Ms Okafor").photos[0]
    with monkeypatch.context() as patch:
        patch.setattr("jobnotes.retention.erasures.finish", lambda *given: None)
        erase_customer(desk, "Ms Okafor", "Ada")
    assert desk.media.holds(photo.sha256)
    finish(desk.store, desk.media)
    assert not desk.media.holds(photo.sha256)


def test_private_remarks_go_after_their_days_with_all_that_rests_on_them(
    desk: Desk, tmp_path: Path
) -> None:
    old, new = a_job(desk, tmp_path, "A", days_ago=31), a_job(desk, tmp_path, "B", days_ago=29)
    assert any(isinstance(fact, Private) for fact in old.facts)
    now = datetime.now(UTC)
    assert [due.job for due in private_due(desk, now)] == [old.id]
    erase_private(desk, now)
    assert desk.load(new.id) == new
    left = desk.load(old.id)
    assert "zanzibar" not in left.model_dump_json()
    assert not any(isinstance(fact, Private) for fact in left.facts)
    assert not desk.media.holds(old.recordings[0].sha256)
    assert left.recordings[0].erased_at == now
    assert private_due(desk, now) == ()


def test_what_was_not_private_stays_with_its_words(desk: Desk, tmp_path: Path) -> None:
    old = a_job(desk, tmp_path, "A", days_ago=31)
    erase_private(desk, datetime.now(UTC))
    left = desk.load(old.id)
    readings = [fact for fact in left.facts if isinstance(fact, Reading)]
    assert readings == [fact for fact in old.facts if isinstance(fact, Reading)]
    assert readings[0].evidence[0].text in " ".join(word.text for word in left.words)
    assert len(left.words) == len(old.words)
    assert desk.problems() == ()


def test_a_job_without_its_erased_sound_still_runs_and_goes_to_another_shop(
    desk: Desk, tmp_path: Path
) -> None:
    old = a_job(desk, tmp_path, "A", days_ago=31)
    erase_private(desk, datetime.now(UTC))
    assert all(stage.done for stage in desk.run(old.id).stages)
    desk.export_all(tmp_path / "all")
    other = open_desk(Settings(data_folder=tmp_path / "other"))
    assert other.receive(tmp_path / "all" / f"{old.id}.zip").recordings == old_recordings(desk, old)


def old_recordings(desk: Desk, job: Job) -> object:
    return desk.load(job.id).recordings


def test_without_the_setting_private_remarks_are_kept(tmp_path: Path) -> None:
    desk = open_desk(Settings(data_folder=tmp_path / "shop"))
    old = a_job(desk, tmp_path, "A", days_ago=4000)
    assert erase_private(desk, datetime.now(UTC)) == ()
    assert desk.load(old.id) == old


def test_a_program_that_goes_on_erases_once_a_day(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = 1000.0
    monkeypatch.setattr("jobnotes.retention.time.monotonic", lambda: now)
    daily = Daily(desk)
    daily.erase()
    old = a_job(desk, tmp_path, "A", days_ago=31)
    daily.erase()
    assert desk.load(old.id) == old
    now += 86_400
    daily.erase()
    assert "zanzibar" not in desk.load(old.id).model_dump_json()


def test_backups_from_before_are_named_and_the_next_one_holds_nothing_of_it(
    desk: Desk, tmp_path: Path
) -> None:
    job = a_job(desk, tmp_path, "Ms Okafor")
    before = back_up(desk, tmp_path / "before.zip")
    erase_customer(desk, "Ms Okafor", "Ada")
    assert [taken.place for taken in still_held_by(desk)] == [str(before.path)]
    after = back_up(desk, tmp_path / "after.zip")
    assert b"Okafor" not in after.path.read_bytes()
    clean = open_desk(Settings(data_folder=tmp_path / "clean"))
    restore(clean, after.path)
    assert clean.problems() == ()
    assert clean.load(job.id).customer == ""


def test_everything_is_exported_in_each_form(desk: Desk, tmp_path: Path) -> None:
    ids = [a_job(desk, tmp_path, name).id for name in "AB"]
    desk.export_all(tmp_path / "all")
    wanted = {f"{one}.{ending}" for one in ids for ending in ("json", "csv", "zip")}
    assert {path.name for path in (tmp_path / "all").iterdir()} == wanted

"""Taking a backup while the shop is in use; nothing half done ever looks like a backup."""

import hashlib
import os
import re
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from zipfile import ZIP_STORED, ZipFile

from filelock import FileLock, Timeout

from jobnotes.backup.form import DATABASE, PART, SHOP, STAMP, Backup, BackupManifest
from jobnotes.bundle.form import MANIFEST, ORIGINALS, PIECE, Held
from jobnotes.bundle.pack import put
from jobnotes.desk import Desk
from jobnotes.errors import BusyError, OutputError, StoreError
from jobnotes.report.output import writing
from jobnotes.settings import FILE_NAME
from jobnotes.store.copying import Snapshot, snapshot
from jobnotes.store.erasures import Taken, note_backup
from jobnotes.store.media import Media, sync_folder

_TRIES = 3
_HERE_ONLY = re.compile(r"^[ \t]*(database|media)[ \t]*=.*$", re.MULTILINE)


class _ErasedMeanwhile(StoreError):
    """An original was erased from the shop after the database was copied."""


def back_up(desk: Desk, out: Path) -> Backup:
    """Take a backup into a folder, or into a file whose name ends in .zip, and return it.

    The database is copied as it is at one moment, then each original that it names; originals are
    kept before the database names them and never changed, so the two agree whatever goes on
    meanwhile. In a folder, originals of earlier backups are read again, and copied only where they
    are missing or altered. Raises StoreError where an original of the shop is missing or altered,
    OutputError where the backup cannot be written; then no backup of that name is there.
    """
    try:
        backup = _agreeing(desk, out)
    except OSError as error:
        raise OutputError(f"{out} cannot be written: {error.strerror}.") from error
    note_backup(desk.store, Taken(f"{datetime.now(UTC):%Y-%m-%d %H:%M} UTC", str(backup.path)))
    return backup


def _agreeing(desk: Desk, out: Path) -> Backup:
    take = _into_zip if out.suffix.lower() == ".zip" else _into_folder
    for _ in range(_TRIES - 1):
        try:
            return take(desk, out)
        except _ErasedMeanwhile:
            continue
    return take(desk, out)


def _into_folder(desk: Desk, out: Path) -> Backup:
    out.mkdir(parents=True, exist_ok=True)
    try:
        with FileLock(out / ".lock", timeout=0):
            for left in out.glob(f"*{PART}"):
                shutil.rmtree(left)
            return _in_folder(desk, out)
    except Timeout as error:
        raise BusyError(f"Another backup is being taken into {out}.") from error


def _in_folder(desk: Desk, out: Path) -> Backup:
    now = datetime.now(UTC)
    place = _free(out / now.strftime(STAMP))
    begun = place.with_name(place.name + PART)
    begun.mkdir()
    held, files = _files(desk, begun)
    shelf = Media(out / ORIGINALS)
    files += [_shelved(desk, shelf, sha256) for sha256 in sorted(held.originals)]
    _write(begun / MANIFEST, _manifest(now, held, files))
    sync_folder(begun)
    begun.rename(place)
    sync_folder(out)
    return Backup(place, out / ORIGINALS)


def _into_zip(desk: Desk, out: Path) -> Backup:
    now = datetime.now(UTC)
    with TemporaryDirectory(dir=out.absolute().parent, prefix=".backup") as scratch:
        held, files = _files(desk, Path(scratch))
        with writing(out) as file, ZipFile(file, "w", ZIP_STORED) as packed:
            for one in files:
                put(packed, one.name, _read(Path(scratch) / one.name))
            for sha256 in sorted(held.originals):
                files.append(put(packed, ORIGINALS + sha256, _pieces(desk, sha256)))
                _check(files[-1], sha256)
            put(packed, MANIFEST, iter([_manifest(now, held, files)]))
    return Backup(out, None)


def _files(desk: Desk, folder: Path) -> tuple[Snapshot, list[Held]]:
    """Put the database and the shop's own files into a folder."""
    held = snapshot(desk.store, folder / DATABASE)
    (folder / SHOP).mkdir()
    for name, content in _shop_files(desk):
        _write(folder / SHOP / name, content)
    sync_folder(folder / SHOP)
    files = [folder / DATABASE, *sorted((folder / SHOP).iterdir())]
    return held, [_held(file.relative_to(folder).as_posix(), file) for file in files]


def _shop_files(desk: Desk) -> Iterator[tuple[str, bytes]]:
    """Yield the settings, without the servers that only this computer uses, spec book and logo."""
    data, logo = desk.settings.data_folder, desk.settings.logo
    if (file := data / FILE_NAME).is_file():
        yield FILE_NAME, _HERE_ONLY.sub("", file.read_text("utf-8-sig")).encode()
    if (file := data / "spec_book.toml").is_file():
        yield file.name, file.read_bytes()
    if logo and logo.is_file():
        yield logo.name, logo.read_bytes()


def _shelved(desk: Desk, shelf: Media, sha256: str) -> Held:
    """Have an original among those of the backups, copied only if it is not there intact."""
    if not shelf.is_intact(sha256):
        kept = shelf.keep_pieces(_pieces(desk, sha256), sha256)
        if kept != sha256:
            shelf.drop(kept)
            raise _altered(sha256)
    size = shelf.path(sha256).stat().st_size
    return Held(name=ORIGINALS + sha256, size=size, sha256=sha256)


def _pieces(desk: Desk, sha256: str) -> Iterator[bytes]:
    if not desk.media.holds(sha256) and sha256 not in desk.store.originals():
        raise _ErasedMeanwhile(f"The original {sha256} was erased.")
    return desk.media.pieces(sha256)


def _check(held: Held, sha256: str) -> None:
    if held.sha256 != sha256:
        raise _altered(sha256)


def _altered(sha256: str) -> StoreError:
    return StoreError(f"The original {sha256} was altered since it was kept; no backup was made.")


def _manifest(now: datetime, held: Snapshot, files: list[Held]) -> bytes:
    manifest = BackupManifest(taken_at=now, counts=held.counts, files=tuple(files))
    return manifest.model_dump_json(indent=1).encode()


def _held(name: str, file: Path) -> Held:
    with file.open("rb") as content:
        sha256 = hashlib.file_digest(content, "sha256").hexdigest()
    return Held(name=name, size=file.stat().st_size, sha256=sha256)


def _read(file: Path) -> Iterator[bytes]:
    with file.open("rb") as content:
        yield from iter(lambda: content.read(PIECE), b"")


def _write(file: Path, content: bytes) -> None:
    with file.open("xb") as written:
        written.write(content)
        written.flush()
        os.fsync(written.fileno())


def _free(place: Path) -> Path:
    """Return a name that no backup has: two of one second are told apart by a number."""
    taken, number = place, 1
    while taken.exists():
        number += 1
        taken = place.with_name(f"{place.name}-{number:03}")
    return taken

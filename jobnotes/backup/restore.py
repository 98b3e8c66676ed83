"""Making a shop of a backup; all of it is checked before anything is kept."""

from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

from jobnotes.backup.form import DATABASE, SHOP, Backup, BackupManifest, opened, problems
from jobnotes.bundle.form import ORIGINALS
from jobnotes.desk import Desk
from jobnotes.errors import BackupError
from jobnotes.report.output import writing
from jobnotes.store.copying import fill, has_jobs
from jobnotes.store.store import Store


def restore(desk: Desk, path: Path) -> BackupManifest:
    """Restore a backup into an empty shop, on either kind of database; return what it held.

    Originals come first and the database last, in one transaction, so a restore that breaks off can
    be repeated. Settings, spec book and logo are written only where there are none. Raises
    BackupError if the backup is not whole or the shop has jobs; then nothing is changed. Raises
    StoreError or OutputError where something cannot be written.
    """
    backup = opened(path)
    if found := problems(backup):
        raise BackupError(" ".join(found), "Restore another backup; nothing was changed.")
    _check_empty(desk)
    manifest = backup.manifest()
    for held in manifest.named(ORIGINALS):
        desk.media.keep_pieces(backup.pieces(held.name), held.name)
    for held in manifest.named(SHOP):
        place = desk.settings.data_folder / held.name.removeprefix(SHOP)
        if not place.exists():
            _copy(backup, held.name, place)
    with TemporaryDirectory() as scratch:
        file = Path(scratch) / DATABASE
        _copy(backup, DATABASE, file)
        with closing(Store(f"sqlite:///{file}")) as copy:
            fill(desk.store, copy)
    return manifest


def _check_empty(desk: Desk) -> None:
    with desk.store.transaction() as connection:
        if has_jobs(connection):
            raise BackupError(
                "There are jobs in this shop already, so nothing was changed.",
                "Name an empty data folder with JOBNOTES_HOME (and an empty database).",
            )


def _copy(backup: Backup, name: str, place: Path) -> None:
    with writing(place) as file:
        for piece in backup.pieces(name):
            file.write(piece)

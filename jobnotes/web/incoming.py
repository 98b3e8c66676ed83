"""What has arrived and waits for the worker: takes and files, on disk until they are taken in."""

import hashlib
from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path

from jobnotes.desk import Desk
from jobnotes.errors import EmptyFileError, FormatError, InputError
from jobnotes.intake.audio import kind_of
from jobnotes.intake.sniff import kind_of_photo
from jobnotes.intake.typed import TEXT_NAME
from jobnotes.web import pieces
from jobnotes.web.pieces import FOLDER
from jobnotes.web.site import Site

_FILES = "files"
_HEAD = 16  # bytes that tell a sound file's kind


def keep_files(site: Site, job_id: str, files: Mapping[str, bytes]) -> None:
    """Keep files of a job on disk and have them taken in; raises InputError for a wrong kind.

    Nothing is kept when one of them is refused.
    """
    for name, content in files.items():
        _check_kind(name, content)
    folder = site.desk.settings.data_folder / FOLDER / job_id / _FILES
    for name, content in files.items():
        pieces.write_whole(folder / hashlib.sha256(content).hexdigest() / name, content)
    queue_run(site, job_id)


def _check_kind(name: str, content: bytes) -> None:
    if not content:
        raise EmptyFileError(f"{name} holds no bytes.")
    if kind_of(content[:_HEAD]) or Path(name).suffix.lower() == TEXT_NAME:
        return
    if not kind_of_photo(content[:_HEAD]):
        raise FormatError(f"{name} is neither sound nor a photo of a kind that is taken in.")


def queue_run(site: Site, job_id: str) -> None:
    """Have the files that wait for a job taken in, and its stages run."""
    site.worker.ask(job_id, partial(_take_in_files, site.desk, job_id))


def queue_take(site: Site, job_id: str, folder: Path) -> None:
    """Have a closed take taken in and heard."""
    site.worker.ask(job_id, partial(_take_in_take, site.desk, job_id, folder))


def resume(site: Site) -> None:
    """Take up what had arrived when the program last stopped."""
    incoming = site.desk.settings.data_folder / FOLDER
    for folder in pieces.closed(site.desk.settings.data_folder):
        queue_take(site, folder.parent.name, folder)
    for folder in sorted(incoming.glob(f"*/{_FILES}")):
        if any(folder.iterdir()):
            queue_run(site, folder.parent.name)


def _take_in_take(desk: Desk, job_id: str, folder: Path) -> None:
    """Take the joined parts of a take into its job and run the stages; the pieces go after that.

    Killed half way, it is repeated at the next start; what was taken in is known by its hash.
    """
    if pieces.is_taken_in(folder):
        pieces.clear(folder)
        return
    refused = desk.add(job_id, pieces.joined(folder))
    desk.run(job_id)
    (pieces.set_aside if refused else pieces.clear)(folder)
    _say(refused)


def _take_in_files(desk: Desk, job_id: str) -> None:
    """Take in each file that waits for a job, run its stages, and let go of the copies."""
    folder = desk.settings.data_folder / FOLDER / job_id / _FILES
    waiting = sorted(path for path in folder.glob("*/*") if path.suffix != ".writing")
    refused = desk.add(job_id, waiting) if waiting else ()
    desk.run(job_id)
    _forget(waiting)
    _say(refused)


def _say(refused: Sequence[InputError]) -> None:
    """Raise the first refusal; intake has kept what is damaged among the originals."""
    for error in refused:
        raise error


def _forget(files: list[Path]) -> None:
    for file in files:
        file.unlink()
        file.parent.rmdir()

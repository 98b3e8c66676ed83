"""Changing a TOML file that people also edit by hand: comments stay, and no edit is overwritten."""

import hashlib
import os
from collections.abc import Callable
from pathlib import Path
from tempfile import NamedTemporaryFile
from threading import Lock
from typing import TYPE_CHECKING

from jobnotes.errors import SettingsError, StaleFileError

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

_LOCK = Lock()


def seen(path: Path) -> str:
    """Return what tells this state of a file from others; empty where there is no file."""
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.exists() else ""


def edited(
    path: Path,
    state: str,
    change: Callable[["TOMLDocument"], None],
    check: Callable[[str], object],
) -> None:
    """Change a file that was `seen` in a state, and put it in place of the old one as a whole.

    `check` raises for a text that cannot be used, which is then not kept. Raises StaleFileError
    where the file is no longer what was seen, SettingsError where it cannot be read or written.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    with _LOCK:
        if seen(path) != state:
            raise StaleFileError(f"Somebody else changed {path.name} since it was opened.")
        try:
            held = path.read_text("utf-8-sig") if path.exists() else ""
            document = tomlkit.parse(held)
        except (OSError, UnicodeDecodeError, TOMLKitError) as error:
            raise SettingsError(f"{path.name} cannot be read: {error}.") from error
        change(document)
        text = tomlkit.dumps(document)
        check(text)
        _put(path, text)


def _put(path: Path, text: str) -> None:
    try:
        with NamedTemporaryFile("w", dir=path.parent, delete=False, encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(file.name, path)
    except OSError as error:
        raise SettingsError(f"{path} cannot be written: {error.strerror}.") from error

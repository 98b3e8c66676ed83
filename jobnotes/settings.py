"""What the shop sets once: a small TOML file in the data folder, with defaults for everything."""

import os
import tomllib
from collections.abc import Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import platformdirs
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from jobnotes import toml_file
from jobnotes.errors import SettingsError
from jobnotes.record import Language

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

FILE_NAME = "settings.toml"


class Shop(BaseModel):
    """The letterhead: `logo` is a picture file, relative to the data folder or absolute."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: str = ""
    address: str = ""
    phone: str = ""
    logo: str = ""


class Settings(BaseModel):
    """Every setting, with its default; an empty `database` means SQLite in the data folder.

    `media` is where originals are kept: a folder (by default one in the data folder), or a URL of
    object storage such as s3://shop/originals.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    data_folder: Path
    database: str = ""
    media: str = ""
    speech_model: str = "base"
    allow_hub: bool = False
    technician: str = ""
    page_size: Literal["A4", "Letter"] = "A4"
    print_prices: bool = False
    language: Language = "en"
    keep_private_days: int | None = Field(default=None, ge=0)
    customer_links: bool = False
    link_days: int = Field(default=30, ge=1, le=366)
    shop: Shop = Shop()

    @property
    def store_url(self) -> str:
        """Return the database URL that the store opens."""
        return self.database or f"sqlite:///{self.data_folder / 'jobs.db'}"

    @property
    def media_place(self) -> str:
        """Return the folder or URL of the untouched originals."""
        if "://" in self.media:
            return self.media
        return str(self.data_folder / (self.media or "originals"))

    @property
    def copies_folder(self) -> Path:
        """Return the folder for copies of originals that are kept elsewhere."""
        return self.data_folder / "copies"

    @property
    def spool_folder(self) -> Path:
        """Return the folder where a dictation lies until it is taken in."""
        return self.data_folder / "dictation"

    @property
    def logo(self) -> Path | None:
        """Return the logo's file, or none where none is set."""
        return self.data_folder / self.shop.logo if self.shop.logo else None


def data_folder() -> Path:
    """Return the data folder: JOBNOTES_HOME where set, else the usual place of this system."""
    home = os.environ.get("JOBNOTES_HOME")
    return Path(home) if home else platformdirs.user_data_path("jobnotes", appauthor=False)


def load(folder: Path | None = None) -> Settings:
    """Return the settings of a data folder (default `data_folder()`); no file means defaults.

    Raises SettingsError, which names the line or the key, for a file that cannot be used.
    """
    folder = folder or data_folder()
    file = folder / FILE_NAME
    return _checked(folder, _read(file))


def keep(folder: Path, changes: Mapping[str, str | int | bool], state: str) -> Settings:
    """Write some settings ("shop.name" is one of the shop's own) and return all of them.

    `state` is what `toml_file.seen` said of the file that was looked at. Raises SettingsError for
    a value that cannot be used, StaleFileError where somebody else was first.
    """
    change = partial(_put, changes=changes)
    toml_file.edited(
        folder / FILE_NAME, state, change, lambda text: _checked(folder, tomllib.loads(text))
    )
    return load(folder)


def _put(document: "TOMLDocument", changes: Mapping[str, str | int | bool]) -> None:
    import tomlkit

    for name, value in changes.items():
        head, _, key = name.rpartition(".")
        if head and head not in document:
            document[head] = tomlkit.table()
        place = document[head] if head else document
        place[key] = value


def _checked(folder: Path, given: Mapping[str, object]) -> Settings:
    try:
        return Settings.model_validate({"data_folder": folder, **given})
    except ValidationError as error:
        raise SettingsError(f"{folder / FILE_NAME}: {_complaint(error)}") from error


def _complaint(error: ValidationError) -> str:
    first = error.errors()[0]
    key = ".".join(str(part) for part in first["loc"])
    if first["type"] == "extra_forbidden":
        return f"there is no setting '{key}'."
    return f"'{key}': {first['msg']}."


def _read(file: Path) -> dict[str, object]:
    try:
        return tomllib.loads(file.read_bytes().decode("utf-8-sig"))
    except FileNotFoundError:
        return {}
    except OSError as error:
        raise SettingsError(
            f"{file} cannot be read: {error.strerror}.",
            "Make it readable, or name another data folder with JOBNOTES_HOME.",
        ) from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise SettingsError(f"{file}: {error}.") from error

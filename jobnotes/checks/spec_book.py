"""The shop's own spec book: limits by machine family, each with its source, in a TOML file."""

import re
import tomllib
from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic import BaseModel, ConfigDict, ValidationError, model_validator

from jobnotes import toml_file
from jobnotes.checks.names import key_words
from jobnotes.errors import SettingsError
from jobnotes.numbers.units import codes
from jobnotes.record import Spec

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

LIMITS = ("low", "high")


class BookedSpec(BaseModel):
    """One `[[spec]]` entry; `machine` are words of a description, none for every machine."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    machine: str = ""
    what: str
    where: str = ""
    low: Decimal | None = None
    high: Decimal | None = None
    unit: str
    source: str

    @model_validator(mode="after")
    def _usable(self) -> "BookedSpec":
        if self.unit not in codes():
            raise ValueError(f"the unit '{self.unit}' is not known")
        if self.low is None and self.high is None:
            raise ValueError("it has neither low nor high")
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError("low is above high")
        return self


def read_book(path: Path) -> tuple[BookedSpec, ...]:
    """Return the entries of a spec book; no file is an empty book, a bad entry a SettingsError."""
    if not path.exists():
        return ()
    try:
        return _entries(path, path.read_text("utf-8"))
    except UnicodeDecodeError as error:
        raise SettingsError(f"The spec book {path.name} cannot be read: {error}.") from error


def put_entry(path: Path, fields: Mapping[str, str], number: int | None, state: str) -> None:
    """Write an entry of the spec book in place of one by its number (from 0), or at the end.

    A field without text is left out. `state` is what `toml_file.seen` said of the book. Raises
    SettingsError for an entry that cannot be used, StaleFileError where somebody else was first.
    """
    import tomlkit

    entry = tomlkit.table()
    for name, text in fields.items():
        if text:
            entry[name] = _figure(name, text) if name in LIMITS else text

    def change(document: "TOMLDocument") -> None:
        book = document.setdefault("spec", tomlkit.aot())
        if number is None:
            book.append(entry)
        else:
            book[number] = entry

    toml_file.edited(path, state, change, partial(_entries, path))


def drop_entry(path: Path, number: int, state: str) -> None:
    """Take an entry out of the spec book by its number (from 0); raises as `put_entry`."""

    def change(document: "TOMLDocument") -> None:
        del document["spec"][number]

    toml_file.edited(path, state, change, partial(_entries, path))


def _figure(name: str, text: str) -> object:
    """Return a limit as it is written, with the digits that were typed."""
    import tomlkit

    if not re.fullmatch(r"-?\d{1,9}(\.\d{1,9})?", text, re.ASCII):
        raise SettingsError(f"'{name}': '{text}' is no figure.", "Type it with a point, as 12.60.")
    return tomlkit.value(_plain(text))


def _plain(text: str) -> str:
    """Return a figure as TOML writes it: without noughts in front."""
    whole, point, rest = text.partition(".")
    return f"{int(whole)}{point}{rest}" if not whole.startswith("-0") else f"-0{point}{rest}"


def _entries(path: Path, text: str) -> tuple[BookedSpec, ...]:
    try:
        entries = tomllib.loads(text, parse_float=Decimal).get("spec", [])
    except tomllib.TOMLDecodeError as error:
        raise SettingsError(f"The spec book {path.name} cannot be read: {error}.") from error
    return tuple(_entry(path, number, entry) for number, entry in enumerate(entries, 1))


def _entry(path: Path, number: int, entry: object) -> BookedSpec:
    try:
        return BookedSpec.model_validate(entry)
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"]) or "the entry"
        what = f"Entry {number} of the spec book {path.name}: {where}: {first['msg']}."
        raise SettingsError(what) from error


def specs_for(machine: str, book: Iterable[BookedSpec]) -> tuple[Spec, ...]:
    """Return the specs of the book that apply to a machine, by its description."""
    words = key_words(machine)
    return tuple(_spec(entry) for entry in book if key_words(entry.machine) <= words)


def _spec(entry: BookedSpec) -> Spec:
    low, high = entry.low, entry.high
    return Spec(
        what=entry.what,
        where=entry.where,
        low=low,
        high=high,
        unit=entry.unit,
        as_said=_printed(low, high),
        source=entry.source,
        rule="spec-book",
    )


def _printed(low: Decimal | None, high: Decimal | None) -> str:
    if low is None:
        return f"at most {high}"
    if high is None:
        return f"at least {low}"
    return str(low) if low == high else f"{low} to {high}"

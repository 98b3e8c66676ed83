"""The shop's own spec book: limits by machine family, each with its source, in a TOML file."""

import tomllib
from collections.abc import Iterable
from decimal import Decimal
from pathlib import Path

from pydantic import BaseModel, ConfigDict, ValidationError, model_validator

from jobnotes.checks.names import key_words
from jobnotes.errors import SettingsError
from jobnotes.numbers.units import codes
from jobnotes.record import Spec


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
        entries = tomllib.loads(path.read_text("utf-8"), parse_float=Decimal).get("spec", [])
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
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

"""A shop's own words of the trade for other languages, in a TOML file beside its spec book."""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path

from pydantic import BaseModel, ConfigDict, TypeAdapter, ValidationError

from jobnotes.errors import SettingsError
from jobnotes.record import Language
from jobnotes.report.languages.trade import TABLES, Words

# "cage f": a name, then its gender, with p for one that has no singular.
NAMED = re.compile(r"\S.* [mf]p?")


class _Tables(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)

    things: dict[str, str] = {}
    aspects: dict[str, str] = {}
    modifiers: dict[str, str] = {}
    states: dict[str, str] = {}
    verbs: dict[str, str] = {}
    places: dict[str, str] = {}
    phrases: dict[str, str] = {}


def read_terms(path: Path) -> Mapping[Language, Mapping[str, Words]]:
    """Return the tables of each language; no file has none.

    Raises SettingsError, which names the entry, for a file that cannot be used.
    """
    if not path.exists():
        return {}
    try:
        read = tomllib.loads(path.read_text("utf-8-sig"))
        found = TypeAdapter(dict[Language, _Tables]).validate_python(read)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise SettingsError(f"{path.name} cannot be read: {error}.") from error
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise SettingsError(f"{path.name}: '{where}': {first['msg']}.") from error
    return {language: _checked(path, tables) for language, tables in found.items()}


def _checked(path: Path, tables: _Tables) -> Mapping[str, Words]:
    given: dict[str, dict[str, str]] = tables.model_dump()
    for table in ("things", "aspects"):
        for english, named in given[table].items():
            if not NAMED.fullmatch(named):
                raise SettingsError(
                    f"{path.name}: '{english}' has no gender.",
                    f'Put m or f behind the name: "{english}" = "{named} f".',
                )
    return {table: _lower(given.get(table, {})) for table in TABLES}


def _lower(words: Mapping[str, str]) -> dict[str, str]:
    return {english.lower(): other for english, other in words.items()}

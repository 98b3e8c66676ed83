"""The word lists of the number grammar, read once from the TOML files beside this module."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def table(name: str) -> dict[str, Any]:
    """Return the parsed TOML file `name` of this package, such as "words.toml"."""
    return tomllib.loads(files("jobnotes.numbers").joinpath(name).read_text(encoding="utf-8"))


@cache
def words(name: str) -> dict[str, int]:
    """Return one map of words to whole numbers from words.toml, such as "digits"."""
    return dict(table("words.toml")[name])


@cache
def word_set(file: str, section: str, key: str) -> frozenset[str]:
    """Return a list of words as a set."""
    return frozenset(table(file)[section][key])

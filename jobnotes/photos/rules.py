"""The rules of placing photos, read once from rules.toml."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def section(name: str) -> dict[str, Any]:
    """Return one section of the rules."""
    text = files("jobnotes.photos").joinpath("rules.toml").read_text(encoding="utf-8")
    return dict(tomllib.loads(text)[name])


@cache
def word_set(name: str, key: str) -> frozenset[str]:
    """Return a list of words of one section as a set."""
    return frozenset(section(name)[key])

"""Rule files of the package, and what a talk needs worked out only once."""

import re
import tomllib
from collections.abc import Callable, Iterator
from functools import cache, wraps
from importlib.resources import files
from itertools import product
from typing import Any, TypeVar

from jobnotes.extract.talk import Talk

Built = TypeVar("Built")
SET = re.compile(r"\{(\w+)\}")


@cache
def rules(name: str) -> dict[str, Any]:
    """Return the rule file `name`.toml of the package, read once."""
    text = (files("jobnotes.extract") / "rules" / f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def group(finder: str, name: str) -> frozenset[str]:
    """Return a small set of words that one finder needs, from grammar.toml."""
    return frozenset(rules("grammar")["groups"][finder][name].split())


def spelt_out(phrases: list[str], sets: dict[str, list[str]]) -> Iterator[str]:
    """Put every member of a set in place of its name in braces ("{person} says")."""
    for phrase in phrases:
        pieces = [
            sets[piece] if place % 2 else [piece] for place, piece in enumerate(SET.split(phrase))
        ]
        for choice in product(*pieces):
            yield "".join(choice)


def once_a_talk(build: Callable[[Talk], Built]) -> Callable[[Talk], Built]:
    """Keep what `build` makes of a talk with the talk, so that it goes when the talk goes."""
    key = f"{build.__module__}.{build.__qualname__}"

    @wraps(build)
    def kept(talk: Talk) -> Built:
        built: dict[str, Built] = talk.built
        try:
            return built[key]
        except KeyError:
            built[key] = build(talk)
            return built[key]

    return kept


@once_a_talk
def words(talk: Talk) -> tuple[str, ...]:
    """Return the text of every token; "showin'" counts as "showing"."""
    said = list(talk.texts)
    for place in range(1, len(said)):
        if said[place] == "'" and said[place - 1].endswith("in") and len(said[place - 1]) > 4:
            said[place - 1] += "g"
    return tuple(said)


def plural(noun: str) -> str:
    """Return the usual plural of a noun; rule files name the irregular ones themselves."""
    if noun.endswith("y") and noun[-2:-1] not in "aeiou":
        return noun[:-1] + "ies"
    if noun.endswith(("s", "x", "z", "ch", "sh")):
        return noun + "es"
    return noun + "s"


@cache
def head_words() -> frozenset[str]:
    """Return every head, singular and plural."""
    return frozenset(_singulars())


def singular_of(noun: str) -> str:
    """Return the singular of a head, or the word itself."""
    return _singulars().get(noun, noun)


@cache
def _singulars() -> dict[str, str]:
    vocabulary = rules("things")
    named = " ".join([*vocabulary["heads"].values(), vocabulary["bare_heads"]["words"]]).split()
    both = {plural(head): head for head in named} | {head: head for head in named}
    irregular: dict[str, str] = vocabulary["irregular"]
    return both | irregular

"""Rule files of the package, and what a talk needs worked out only once."""

import re
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache, wraps
from importlib.resources import files
from itertools import product
from typing import Any, TypeVar

from jobnotes.extract.talk import Talk

Built = TypeVar("Built")
_SET = re.compile(r"\{(\w+)\}")


@cache
def rules(name: str) -> dict[str, Any]:
    """Return the rule file `name`.toml of the package, read once."""
    text = (files("jobnotes.extract") / "rules" / f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def group(finder: str, name: str) -> frozenset[str]:
    """Return a small set of words that one finder needs, from grammar.toml."""
    return frozenset(rules("grammar")["groups"][finder][name].split())


def spelled_out(phrases: Iterable[str], sets: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """Give phrases with the sets in braces filled in: "{person} says" for every person."""
    for phrase in phrases:
        pieces = [
            sets[piece] if place % 2 else [piece] for place, piece in enumerate(_SET.split(phrase))
        ]
        yield from ("".join(choice) for choice in product(*pieces))


def once_a_talk(build: Callable[[Talk], Built]) -> Callable[[Talk], Built]:
    """Keep what `build` makes of a talk with the talk, so that it goes when the talk goes."""
    key = f"{build.__module__}.{build.__qualname__}"

    @wraps(build)
    def kept(talk: Talk) -> Built:
        store: dict[str, Built] = talk.built
        try:
            return store[key]
        except KeyError:
            store[key] = build(talk)
            return store[key]

    return kept


@once_a_talk
def words(talk: Talk) -> tuple[str, ...]:
    """Return the text of every token; "showin'" counts as "showing", "dinnae" as "don't"."""
    said = [token.text for token in talk.doc]
    for place in range(1, len(said)):
        if said[place] == "'" and said[place - 1].endswith("in") and len(said[place - 1]) > 4:
            said[place - 1] += "g"
    spelt = rules("grammar")["dialect"]
    return tuple(spelt.get(text, text) for text in said)


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

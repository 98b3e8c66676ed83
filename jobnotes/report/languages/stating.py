"""States put into another language: what a thing was, had or did, agreeing with it."""

from dataclasses import dataclass
from typing import Literal

from jobnotes.report.languages.grammar import Noun
from jobnotes.report.languages.naming import INDEFINITE, noun, place
from jobnotes.report.languages.trade import Trade

Kind = Literal["is", "has", "lacks", "does"]


@dataclass(frozen=True)
class Told:
    """A state in words: how it is said of a thing, and what is said."""

    kind: Kind
    text: str


def state(trade: Trade, text: str, thing: Noun) -> Told | None:
    """Return a state as it is told of a thing; none where a word has no translation."""
    words = text.lower().strip(" ,.")
    clause = _clause(trade, words, thing)
    if clause:
        return Told("does", clause)
    return _quality(trade, words, thing) or _possession(trade, words)


def _clause(trade: Trade, words: str, thing: Noun) -> str:
    """Return what a thing did, nothing where the words tell of no deed."""
    clause = trade["states"].get(words, "")
    if not clause.startswith("+"):
        return ""
    return trade.grammar.many(clause[1:]) if thing.plural else clause[1:]


def _quality(trade: Trade, words: str, thing: Noun) -> Told | None:
    """Translate "glazed, cracked and slipping": each of them must be known."""
    known = _one(trade, words, thing)
    if known:
        return Told("is", known)
    parts = [part for chunk in words.split(", ") for part in _at_and(trade, chunk, thing)]
    *first, last = [_one(trade, part, thing) for part in parts]
    last = last or (_clause(trade, parts[-1], thing) if first else "")
    if not (all(first) and last):
        return None
    both = f"{', '.join(first)} {trade['words']['and']} {last}" if first else last
    return Told("is", both)


def _at_and(trade: Trade, chunk: str, thing: Noun) -> list[str]:
    """Part a list at its "and", unless the words are known together."""
    chunk = chunk.removeprefix("and ")
    whole = _one(trade, chunk, thing) or _clause(trade, chunk, thing)
    return [chunk] if whole else chunk.split(" and ")


def _one(trade: Trade, words: str, thing: Noun) -> str:
    """Return one quality with its degree and its place, nothing for what is unknown."""
    known = trade["states"].get(words, "")
    if known and not known.startswith("+"):
        return trade.grammar.agreed(known, thing)
    first, _, rest = words.partition(" ")
    degree = trade["words"].get(f"{first}_", "")
    if degree and rest:
        found = _one(trade, rest, thing)
        return f"{degree} {found}" if found else ""
    return _with_place(trade, words.split(), thing)


def _with_place(trade: Trade, words: list[str], thing: Noun) -> str:
    for n in range(len(words) - 1, 0, -1):
        if words[n] in trade["prepositions"] or " ".join(words[n:]) in trade["places"]:
            quality, tail = (
                _one(trade, " ".join(words[:n]), thing),
                place(trade, " ".join(words[n:])),
            )
            if quality and tail:
                return f"{quality} {tail}"
    return ""


def _possession(trade: Trade, words: str) -> Told | None:
    """Translate a state that is a thing: "no play", "a crack", "green corrosion at the lug"."""
    first, _, rest = words.partition(" ")
    lacks = first == "no" and bool(rest)
    thing = noun(trade, rest if lacks else words)
    if thing is None:
        return None
    if lacks:
        return Told("lacks", trade.grammar.none(thing))
    counted = first in INDEFINITE or not (thing.plural or trade.is_amount(words))
    return Told("has", trade.grammar.one(thing) if counted else trade.grammar.some(thing))

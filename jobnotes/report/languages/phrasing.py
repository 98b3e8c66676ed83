"""Free words put into another language: whole phrases, patterns with slots, lists of them."""

import re
from collections.abc import Iterator

from jobnotes.report.languages.counting import counted
from jobnotes.report.languages.naming import noun, place
from jobnotes.report.languages.trade import Trade

LINKS = re.compile(r"(, and |, but |, so |; |, | and | but )")
LONGEST = 20  # words that a pattern is tried on
SLOT = re.compile(r"\{(\w+)(?:\.(\w+))?\}")


def phrase(trade: Trade, text: str) -> str:
    """Return words in another language; nothing where a part of them has no translation."""
    words = re.sub(r"\s+", " ", text).strip(" ,.;:")
    return _one(trade, words) or _several(trade, words)


def _one(trade: Trade, words: str) -> str:
    key = words.lower().replace("’", "'")
    known = trade["phrases"].get(key) or trade["places"].get(key)
    return known or _patterned(trade, words) or ""


def _several(trade: Trade, words: str) -> str:
    """Translate a list of phrases, each of which must be known."""
    parts = LINKS.split(words)
    if len(parts) < 3:
        return ""
    told = [_one(trade, part) for part in parts[::2]]
    links = [trade["words"][_link(link)] for link in parts[1::2]]
    if not all(told):
        return ""
    return told[0] + "".join(link + part for link, part in zip(links, told[1:], strict=True))


def _link(link: str) -> str:
    """Return the name under which the words of a link stand: ", and " as ",and"."""
    return link.replace(" ", "") if link.startswith((",", ";")) else link.strip() + "_between"


def _patterned(trade: Trade, words: str) -> str:
    said = tuple(words.split())
    if len(said) > LONGEST:
        return ""
    for pattern, told in trade["patterns"].items():
        for filling in _fillings(tuple(pattern.split()), said):
            filled = _filled(trade, told, filling)
            if filled:
                return filled
    return ""


def _fillings(pattern: tuple[str, ...], words: tuple[str, ...]) -> Iterator[dict[str, str]]:
    """Yield every way in which words fill the slots of a pattern."""
    if not pattern or not words:
        if not pattern and not words:
            yield {}
        return
    slot = SLOT.fullmatch(pattern[0])
    if slot is None:
        if pattern[0] == words[0].lower():
            yield from _fillings(pattern[1:], words[1:])
        return
    for end in range(1, len(words) - len(pattern) + 2):
        for rest in _fillings(pattern[1:], words[end:]):
            yield {slot[1]: " ".join(words[:end]), **rest}


def _filled(trade: Trade, told: str, said: dict[str, str]) -> str:
    """Fill the slots of a pattern; nothing where one of them has no translation."""
    parts: list[str] = []
    at = 0
    for slot in SLOT.finditer(told):
        value = _slot(trade, slot[1], slot[2] or "", said[slot[1]])
        if not value:
            return ""
        before = told[at : slot.start()]
        head, _, preposition = before.rstrip().rpartition(" ")
        if preposition in ("de", "a", "à", "que"):
            parts += [f"{head} " if head else "", trade.grammar.joined(preposition, value)]
        else:
            parts += [before, value]
        at = slot.end()
    return "".join([*parts, told[at:]])


def _slot(trade: Trade, name: str, form: str, words: str) -> str:
    """Translate what fills a slot: a number (n), a place or moment (p), or a thing (t, u)."""
    if name == "n":
        number = counted(words)
        return "" if number is None else f"{number}"
    if name == "p":
        return place(trade, words) or _one(trade, words)
    thing = noun(trade, words)
    if thing is None:
        return ""
    forms = {"": trade.grammar.the, "one": trade.grammar.one, "some": trade.grammar.some}
    return forms[form](thing) if form in forms else thing.text

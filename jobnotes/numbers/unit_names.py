"""Every unit of the tables, with its prefixes worked out: names, codes, what each measures."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from jobnotes.numbers.lexicon import table
from jobnotes.numbers.tokens import split

GENERAL = "general_units.toml"
_VOWELS = frozenset("aeiouy")


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: its code, what it measures, its name in pint, and the names people say.

    `singular`, `plural` and `short` are phrases; `below` are those said only behind "per".
    """

    code: str
    measures: str
    pint: str
    singular: tuple[str, ...]
    plural: tuple[str, ...]
    short: tuple[str, ...]
    below: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Name:
    """A name in tokens, the codes it can stand for, and whether it counts only after figures."""

    tokens: tuple[str, ...]
    codes: tuple[str, ...]
    singular: bool
    after_figures: bool


@cache
def units() -> dict[str, Unit]:
    """Return every unit by its code; those of the workshop's own table come first."""
    general = [*_plain(GENERAL), *_with_prefixes()]
    found = {unit.code: unit for unit in _plain("units.toml")}
    for unit in general:
        if unit.code not in own_codes():
            found[unit.code] = _merged(found.get(unit.code), unit)
    return found


def _merged(before: Unit | None, unit: Unit) -> Unit:
    """Add the abbreviations of a second row of prefixes to the unit."""
    return unit if before is None else replace(unit, short=(*before.short, *unit.short))


@cache
def names() -> dict[str, tuple[Name, ...]]:
    """Return the names by their first token, the longest first; the workshop's names win."""
    own: dict[tuple[str, ...], Name] = {}
    for unit in _plain("units.toml"):
        own.update((name.tokens, name) for name in _names_of(unit))
    for text, codes in table("units.toml")["ambiguous"].items():
        singular = text in ("pound", "ounce", "degree")
        own[_tokens(text)] = Name(_tokens(text), tuple(codes), singular, False)
    return _by_first_token(_general_names() | own)


@cache
def own_codes() -> frozenset[str]:
    """Return the codes of the workshop's own table."""
    return frozenset(unit["code"] for unit in table("units.toml")["unit"])


@cache
def below_names() -> dict[str, str]:
    """Return the names of the times that are only said behind "per", with their codes."""
    return {name: unit.code for unit in units().values() for name in unit.below}


def _general_names() -> dict[tuple[str, ...], Name]:
    found: dict[tuple[str, ...], Name] = {}
    for unit in units().values():
        if unit.code in own_codes():
            continue
        for name in _names_of(unit):
            before = found.get(name.tokens)
            codes = tuple(dict.fromkeys([*(before.codes if before else ()), *name.codes]))
            found[name.tokens] = Name(name.tokens, codes, name.singular, name.after_figures)
    return found


def _plain(file: str) -> Iterator[Unit]:
    for row in table(file)["unit"]:
        yield Unit(
            row["code"],
            row["measures"],
            row["pint"],
            tuple(row["one"]),
            tuple(row["many"]),
            tuple(row["short"]),
            tuple(row.get("below", ())),
        )


def _with_prefixes() -> Iterator[Unit]:
    rows = [row for row in table(GENERAL)["unit"] if "prefixes" in row]
    bases = {unit.code: unit for file in ("units.toml", GENERAL) for unit in _plain(file)}
    for row in [*rows, *table(GENERAL)["prefixed"]]:
        for symbol in row["prefixes"]:
            yield _prefixed(bases[row["code"]], symbol, row["stem"])


def _prefixed(base: Unit, symbol: str, stem: str) -> Unit:
    """Put a prefix before a unit: "kilojoule", "kilo joule", "kj"."""
    word = table(GENERAL)["prefixes"][symbol]
    pint = f"{word}{base.pint}".replace(" per ", "")
    return Unit(
        symbol + base.code,
        base.measures,
        pint,
        tuple(_spoken(word, base.singular)),
        tuple(_spoken(word, base.plural)),
        tuple(_written(symbol, stem)) if stem else (),
    )


def _spoken(word: str, phrases: tuple[str, ...]) -> Iterator[str]:
    for phrase in phrases:
        if not phrase.startswith(("of ", "p p")):
            yield from (word + phrase, f"{word} {phrase}")


def _written(symbol: str, stem: str) -> Iterator[str]:
    """Give the symbol in lowercase, as tokens are; a mega beside a milli is told by its case."""
    if stem in ("w", "wh", "ω") and symbol == "M":
        yield "mega" + stem
    elif symbol == "µ":
        yield from ("µ" + stem, "μ" + stem)
    else:
        yield symbol.lower() + stem


def _names_of(unit: Unit) -> Iterator[Name]:
    for form, phrases in (("one", unit.singular), ("many", unit.plural), ("short", unit.short)):
        for phrase in phrases:
            tokens = _tokens(phrase)
            figures = form == "short" and not _is_no_word(tokens)
            yield Name(tokens, (unit.code,), form == "one", figures)


def _is_no_word(tokens: tuple[str, ...]) -> bool:
    """Tell an abbreviation without a vowel, such as "mm" or "kg", which is no word of a text."""
    return len(tokens) == 1 and len(tokens[0]) > 1 and not _VOWELS & set(tokens[0])


def _tokens(name: str) -> tuple[str, ...]:
    return tuple(token for word in name.split() for token in split(word))


def _by_first_token(found: dict[tuple[str, ...], Name]) -> dict[str, tuple[Name, ...]]:
    index: dict[str, list[Name]] = {}
    for name in sorted(found.values(), key=lambda name: -len(name.tokens)):
        index.setdefault(name.tokens[0], []).append(name)
    return {first: tuple(group) for first, group in index.items()}

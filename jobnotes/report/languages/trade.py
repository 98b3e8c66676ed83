"""Words of the trade by language: what each English word is, as data; a shop adds its own."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from jobnotes.record import Language
from jobnotes.report.languages.grammar import French, Grammar, Noun, Spanish

Words = Mapping[str, str]
GRAMMARS: dict[str, Grammar] = {"fr": French(), "es": Spanish()}
TABLES = (
    "things", "aspects", "modifiers", "states", "verbs", "prepositions", "places", "phrases",
    "patterns", "words",
)  # fmt: skip
"""The tables of a language's trade.toml: what is in each is told there."""
IRREGULAR = {
    "knives": "knife", "leaves": "leaf", "teeth": "tooth", "feet": "foot", "halves": "half",
    "shelves": "shelf", "dies": "die",
}  # fmt: skip


@dataclass(frozen=True)
class Trade:
    """The tables of a language, each from English words in small letters."""

    language: Language
    tables: Mapping[str, Words]

    @property
    def grammar(self) -> Grammar:
        """Return the grammar of the language."""
        return GRAMMARS[self.language]

    def __getitem__(self, table: str) -> Words:
        """Return a table by its name."""
        return self.tables[table]

    def named(self, words: str) -> Noun | None:
        """Return the thing or quality that English words name, in their number."""
        for table in ("things", "aspects"):
            for single, many in _numbers(words):
                if single in self.tables[table]:
                    return self._noun(self.tables[table][single], many=many)
        return None

    def is_aspect(self, words: str) -> bool:
        """Say whether words name a quality of a thing ("air gap"), not a thing."""
        return any(single in self.tables["aspects"] for single, _ in _numbers(words))

    def is_amount(self, words: str) -> bool:
        """Say whether a name is not counted ("rust", "emery cloth")."""
        names = words.lower().split()
        head = next((n for n, name in enumerate(names) if name in self.tables["prepositions"]), 0)
        return names[head - 1] in self.tables["words"]["mass"].split()

    def _noun(self, entry: str, *, many: bool) -> Noun:
        """Read "bougie d'allumage f": words, gender, p for what has no singular."""
        text, _, form = entry.rpartition(" ")
        single, _, plural = text.partition("|")
        always = form.endswith("p")
        if many and not always:
            single = plural or self.grammar.plural(single)
        return Noun(single, "f" if form.startswith("f") else "m", many or always)


def trade(language: Language, shop: Mapping[str, Words] | None = None) -> Trade:
    """Return the words of a language; a shop's own tables come before ours."""
    own = shop or {}
    return Trade(
        language, {name: {**_ours(language)[name], **own.get(name, {})} for name in TABLES}
    )


@cache
def _ours(language: Language) -> Mapping[str, Words]:
    folder = files("jobnotes.report.languages") / language
    found: dict[str, dict[str, str]] = {name: {} for name in TABLES}
    for name in ("things.toml", "trade.toml", "phrases.toml"):
        for table, words in tomllib.loads((folder / name).read_text(encoding="utf-8")).items():
            found[table] |= words
    return found


def _numbers(words: str) -> list[tuple[str, bool]]:
    """Return what English words may be the singular or the plural of."""
    start, space, last = words.rpartition(" ")
    lead = start + space
    found = [(words, False)]
    if last in IRREGULAR:
        found.append((lead + IRREGULAR[last], True))
    if last.endswith("ies"):
        found.append((f"{lead}{last[:-3]}y", True))
    if last.endswith("es"):
        found.append((lead + last[:-2], True))
    if last.endswith("s"):
        found.append((lead + last[:-1], True))
    return found

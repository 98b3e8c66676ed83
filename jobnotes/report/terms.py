"""Words of the trade explained, and the usual cautions: fixed texts, by what is said in English."""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import cache

from jobnotes.record import Language
from jobnotes.report.english import rules
from jobnotes.report.languages.messages import say
from jobnotes.report.story import Sentence, Term


def glossary(texts: Iterable[str], language: Language = "en") -> tuple[Term, ...]:
    """Return the terms that occur in English texts with their meanings, by alphabet."""
    index = _terms()
    said = _pattern(tuple(index)).finditer("\n".join(texts))
    called = {f"term-{index[match[1].lower()]}" for match in said}
    terms = [Term(say(language, one), say(language, f"{one}.meaning")) for one in called]
    return tuple(sorted(terms, key=lambda term: _plain(term.name)))


def _plain(name: str) -> str:
    """Return a name as it is sorted: without case and accents."""
    parted = unicodedata.normalize("NFD", name.lower())
    return "".join(char for char in parted if not unicodedata.combining(char))


@cache
def _terms() -> dict[str, str]:
    """Return each term by all its names in small letters; a name inside a longer one gives way."""
    terms: dict[str, list[str]] = rules("glossary")["terms"]
    return {name.lower(): term for term, names in terms.items() for name in names}


def cautions(
    machine: str, sentences: Sequence[Sentence], language: Language = "en"
) -> tuple[Sentence, ...]:
    """Return the fixed cautions that the machine or an English sentence calls for."""
    found = []
    for caution in rules("cautions")["caution"]:
        pattern = _pattern(tuple(caution["when"]))
        callers = [said for said in sentences if pattern.search(said.text)]
        if callers or pattern.search(machine):
            text = say(language, f"caution-{caution['id']}")
            found.append(Sentence(text, tuple(dict.fromkeys(_ids(callers)))))
    return tuple(found)


def _ids(sentences: Iterable[Sentence]) -> tuple[str, ...]:
    return tuple(fact for sentence in sentences for fact in sentence.facts)


@cache
def _pattern(names: tuple[str, ...]) -> re.Pattern[str]:
    """Match any of the names as whole words, in any case, also with a plural s."""
    options = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    return re.compile(rf"(?<!\w)({options})(?:e?s)?(?!\w)", re.IGNORECASE)

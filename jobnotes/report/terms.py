"""Words of the trade explained, and the usual cautions: fixed texts, chosen by the story."""

import re
from collections.abc import Iterable, Sequence
from functools import cache

from jobnotes.report.english import rules
from jobnotes.report.story import Sentence, Term


def glossary(texts: Iterable[str]) -> tuple[Term, ...]:
    """Return the terms that occur in the texts with their meanings, by alphabet."""
    index = _terms()
    said = _pattern(tuple(index)).finditer("\n".join(texts))
    return tuple(sorted({index[match[1].lower()] for match in said}, key=lambda t: t.name.lower()))


@cache
def _terms() -> dict[str, Term]:
    """Return each term by all its names in small letters; a name inside a longer one gives way."""
    return {
        name.lower(): Term(term["name"], term["meaning"])
        for term in rules("glossary")["term"]
        for name in (term["name"], *term.get("also", []))
    }


def cautions(machine: str, sentences: Sequence[Sentence]) -> tuple[Sentence, ...]:
    """Return the fixed cautions that the machine or a sentence calls for, with what called."""
    found = []
    for caution in rules("cautions")["caution"]:
        pattern = _pattern(tuple(caution["when"]))
        callers = [said for said in sentences if pattern.search(said.text)]
        if callers or pattern.search(machine):
            found.append(Sentence(caution["text"], tuple(dict.fromkeys(_ids(callers)))))
    return tuple(found)


def _ids(sentences: Iterable[Sentence]) -> tuple[str, ...]:
    return tuple(fact for sentence in sentences for fact in sentence.facts)


@cache
def _pattern(names: tuple[str, ...]) -> re.Pattern[str]:
    """Match any of the names as whole words, in any case, also with a plural s."""
    options = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    return re.compile(rf"(?<!\w)({options})(?:e?s)?(?!\w)", re.IGNORECASE)

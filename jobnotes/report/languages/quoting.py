"""Words that stay in the language they were said in, marked inside a text until a form prints it.

`clean` lets no private character through, so none of these marks can come from what was dictated.
"""

import re
from collections.abc import Iterable, Iterator

SAID, NAME, END = "\ue000", "\ue001", "\ue002"
_STRETCH = re.compile(f"[{SAID}{NAME}](.*?){END}", re.DOTALL)
_WORDS = re.compile(f"{SAID}(.*?){END}", re.DOTALL)


def said(words: str) -> str:
    """Mark English words that have no translation."""
    return f"{SAID}{words}{END}"


def name(words: str) -> str:
    """Mark a name, which needs no translation."""
    return f"{NAME}{words}{END}"


def plain(text: str) -> str:
    """Return a text without its marks."""
    return _STRETCH.sub(r"\1", text)


def stretches(text: str) -> Iterator[tuple[str, bool]]:
    """Yield a text in stretches, each with whether it is in the language it was said in."""
    for number, stretch in enumerate(_STRETCH.split(text)):
        if stretch:
            yield stretch, number % 2 == 1


def untranslated(texts: Iterable[str]) -> tuple[str, ...]:
    """Return the words without a translation, each once, in the order met."""
    return tuple(dict.fromkeys(found for text in texts for found in _WORDS.findall(text)))

"""Lists in a sentence."""

from collections.abc import Sequence

from jobnotes.record import Language
from jobnotes.report.languages.messages import say


def listed(items: Sequence[str], language: Language, word: str = "and") -> str:
    """Return "a", "a and b" or "a, b and c"; `word` is "and" or "or"."""
    if len(items) < 2:
        return "".join(items)
    return say(language, f"list-{word}", items=", ".join(items[:-1]), last=items[-1])

"""Where a thing is, put behind its name."""

import re

from jobnotes.checks.names import key_words
from jobnotes.report.english import clean, rules


def behind(where: str, thing: str) -> str:
    """Put a place behind a thing that does not name it: after a preposition, else in brackets."""
    text = re.sub(r"['’]s$", "", clean(where))
    if key_words(text) <= key_words(thing):
        return ""
    led = text.split()[0].lower() in rules("english")["prepositions"]
    return f" {text}" if led else f" ({text})"

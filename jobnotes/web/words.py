"""The words of the pages, from a Fluent catalogue a language, and which language somebody reads."""

from datetime import UTC, datetime
from functools import cache
from importlib.resources import files

from babel.dates import format_date
from fluent.runtime import FluentBundle, FluentResource

LANGUAGES = {"en": "English", "fr": "Français", "es": "Español"}
"""The languages of the pages, each by its own name; the first is that of the program."""

_FIRST = next(iter(LANGUAGES))


def say(language: str, message: str, **values: str | int) -> str:
    """Return a message in a language with its values.

    Raises LookupError for a message that the catalogue lacks, and what Fluent raises for a value
    that is missing.
    """
    bundle = _bundle(language)
    pattern = bundle.get_message(message).value if bundle.has_message(message) else None
    if pattern is None:
        raise LookupError(f"The {language} catalogue has no message '{message}'.")
    text, problems = bundle.format_pattern(pattern, values)
    if problems:
        raise problems[0]
    return str(text)


def in_english(message: str, **values: str | int) -> str:
    """Return a message in English, for what is read aloud at the bench."""
    return say(_FIRST, message, **values)


@cache
def _bundle(language: str) -> FluentBundle:
    bundle = FluentBundle([language], use_isolating=False)
    file = files("jobnotes.web") / "languages" / f"{language}.ftl"
    bundle.add_resource(FluentResource(file.read_text(encoding="utf-8")))
    return bundle


def day(at: datetime, language: str) -> str:
    """Return the day of a moment, as "25 Nov 2026" in English."""
    return format_date(at.date(), "d MMM y", locale=language)


def moment(at: datetime, language: str) -> str:
    """Return a moment to the minute, in UTC."""
    return f"{day(at.astimezone(UTC), language)} {at.astimezone(UTC):%H:%M} UTC"


def preferred(accept_language: str) -> str:
    """Return the language of ours that a browser asks for first (RFC 9110, 12.5.4)."""
    asked = [_weighed(one) for one in accept_language[:1000].split(",")]
    ours = [(weight, code) for weight, code in asked if code in LANGUAGES and weight > 0]
    return max(ours, key=lambda one: one[0], default=(0.0, _FIRST))[1]


def _weighed(asked: str) -> tuple[float, str]:
    """Return how much a language is wanted, and its code without its region."""
    name, _, weight = asked.partition(";q=")
    try:
        return float(weight or 1), name.strip().lower().partition("-")[0]
    except ValueError:
        return 0.0, ""

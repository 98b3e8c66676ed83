"""Fixed words of the report by language, from Fluent catalogues (`en/*.ftl`, `fr/*.ftl`, ...)."""

from functools import cache
from importlib.resources import files
from typing import get_args

from fluent.runtime import FluentBundle, FluentResource

from jobnotes.record import Language

LANGUAGES: tuple[Language, ...] = get_args(Language)
CATALOGUES = ("report.ftl", "cautions.ftl", "glossary.ftl")
# Fluent formats no value of more than a thousand characters.
LONGEST = 500
# British English, neutral French and Spanish, as CLDR names them.
LOCALES = {"en": "en_GB", "fr": "fr_FR", "es": "es_ES"}


def say(language: str, message: str, **values: str | int) -> str:
    """Return a message with its values; `message.attribute` names an attribute of a message.

    A figure goes in as text: a number only chooses between forms. Raises LookupError for a message
    that the catalogue lacks, and what Fluent raises for a value that is missing.
    """
    name, _, attribute = message.partition(".")
    bundle = _bundle(language)
    found = bundle.get_message(name) if bundle.has_message(name) else None
    pattern = found and (found.attributes.get(attribute) if attribute else found.value)
    if not pattern:
        raise LookupError(f"The {language} catalogue has no message '{message}'.")
    long = {key: text for key, text in values.items() if _is_long(text)}
    text, problems = bundle.format_pattern(pattern, {**values, **{key: _held(key) for key in long}})
    if problems:
        raise problems[0]
    made = str(text)
    for key, value in long.items():
        made = made.replace(_held(key), str(value))
    return made


def _is_long(value: str | int) -> bool:
    return isinstance(value, str) and len(value) > LONGEST


def _held(key: str) -> str:
    """Return what holds the place of a value that is too long for a Fluent message."""
    return f"\ue010{key}\ue011"


@cache
def _bundle(language: str) -> FluentBundle:
    """Load a language's catalogues; values are not isolated: forms say the direction themselves."""
    bundle = FluentBundle([LOCALES[language].replace("_", "-")], use_isolating=False)
    folder = files("jobnotes.report.languages") / language
    for name in CATALOGUES:
        bundle.add_resource(FluentResource((folder / name).read_text(encoding="utf-8")))
    return bundle

"""The fixed texts of the report, by their places in the catalogues."""

from jobnotes.report.english import rules
from jobnotes.report.languages.messages import say


def caution_texts(language: str = "en") -> list[str]:
    return [say(language, f"caution-{caution['id']}") for caution in rules("cautions")["caution"]]


def meanings(language: str = "en") -> list[str]:
    return [say(language, f"term-{term}.meaning") for term in rules("glossary")["terms"]]


def heads(language: str = "en") -> list[str]:
    leads = ["section-care.lead", "section-measured.drawn"]
    return [say(language, name) for name in [*(f"section-{k}" for k in rules("sections")), *leads]]

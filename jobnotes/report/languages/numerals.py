"""How a language writes figures: decimal mark, groups of three, spaces, units that are words.

Decimal marks are those of CLDR. French groups by a thin space; Spanish, by the Ortografía of the
Real Academia, does so only from five digits on. Neither uses a point, which some readers would take
for the decimal mark.
"""

import re
import tomllib
from decimal import Decimal
from functools import cache
from importlib.resources import files
from typing import Any

from babel.numbers import get_decimal_symbol

from jobnotes.record import Language
from jobnotes.report.languages.messages import LOCALES

THIN = "\N{NARROW NO-BREAK SPACE}"
NBSP = "\N{NO-BREAK SPACE}"
SPACES = {"en": NBSP, "fr": THIN, "es": NBSP}
# Digits from which on the whole part is written in groups.
GROUPED = {"fr": 4, "es": 5}


def written(figures: str, language: Language) -> str:
    """Return English figures ("2,500", "12.30", "1 1/2") as a language writes them."""
    if language == "en":
        return figures
    whole, point, rest = figures.partition(".")
    parted = "," in whole
    digits = whole.replace(",", "")
    if parted and len(digits) >= GROUPED[language]:
        digits = re.sub(r"(?<=\d)(?=(?:\d{3})+$)", THIN, digits)
    return (
        digits.replace(" ", NBSP) + (get_decimal_symbol(LOCALES[language]) if point else "") + rest
    )


def unit_space(language: Language) -> str:
    """Return what stands between a figure and its unit."""
    return SPACES[language]


def unit_word(unit: str, figures: str, language: Language) -> str:
    """Return a unit's name or symbol where a language has its own, in the number of its figure."""
    own = _units(language).get(unit)
    if own is None:
        return ""
    if isinstance(own, str):
        return own
    one, many = map(str, own)
    return one if _is_one(figures, language) else many


def _is_one(figures: str, language: Language) -> bool:
    """French has the singular below two, Spanish for one alone (CLDR plural rules)."""
    size = re.sub(r"[^\d.]", "", figures.replace(get_decimal_symbol(LOCALES[language]), "."))
    plain = "/" not in figures and bool(size)
    return plain and (Decimal(size) < 2 if language == "fr" else Decimal(size) == 1)


@cache
def _units(language: Language) -> dict[str, Any]:
    file = files("jobnotes.report.languages") / language / "units.toml"
    return {} if language == "en" else tomllib.loads(file.read_text(encoding="utf-8"))

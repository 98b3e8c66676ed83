"""The language of a report by its code, with the words that a shop adds."""

from collections.abc import Mapping

from jobnotes.record import Language
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.romance import Romance
from jobnotes.report.languages.tongue import Tongue
from jobnotes.report.languages.trade import Words, trade


def tongue(language: Language, shop: Mapping[str, Words] | None = None) -> Tongue:
    """Return a language; `shop` are the shop's own tables of trade words, which come first."""
    return ENGLISH if language == "en" else Romance(trade(language, shop))

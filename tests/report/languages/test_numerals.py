"""Figures as French and Spanish write them; decimal marks of CLDR, spaces of each Academy."""

from decimal import Decimal

import pytest

from jobnotes.record import Spec
from jobnotes.report.figures import figure, number, spec_figure
from jobnotes.report.languages.numerals import THIN

NB = "\N{NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("language", "value", "written"),
    [
        ("en", "1234.5", "1,234.5"),
        ("fr", "1234.5", f"1{THIN}234,5"),
        ("es", "1234.5", "1234,5"),
        ("es", "12345", f"12{THIN}345"),
        ("fr", "-3", "\N{MINUS SIGN}3"),
        ("es", "0.030", "0,030"),
    ],
)
def test_a_number_is_written_as_the_language_asks(language, value, written):
    assert number(Decimal(value), language=language) == written


def test_a_fraction_stays_as_it_was_said():
    assert number(Decimal("1.5"), "1 1/2", "fr") == f"1{NB}1/2"


def test_units_that_are_words_are_spelled_in_their_number():
    assert (
        figure(Decimal(12), "thou", language="fr") == f"12{THIN}millièmes de pouce (0,30{THIN}mm)"
    )
    assert figure(Decimal(1), "turn", language="es") == f"1{NB}vuelta"
    assert figure(Decimal("1.5"), "turn", language="fr") == f"1,5{THIN}tour"


def test_international_symbols_stay():
    assert figure(Decimal(90), "in.lbf", language="es") == f"90{NB}in·lbf (10{NB}N·m)"
    assert figure(Decimal(1400), "rpm", language="fr") == f"1{THIN}400{THIN}tr/min"


def test_a_range_names_a_word_once():
    spec = Spec(what="gap", low=Decimal(28), high=Decimal(31), unit="thou", as_said="")
    told = spec_figure(spec, "es")
    assert told == f"de 28 a 31{NB}milésimas de pulgada (de 0,71{NB}mm a 0,79{NB}mm)"

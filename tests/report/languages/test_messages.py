"""The catalogues hold the same messages with the same values in every language."""

from importlib.resources import files

import pytest
from fluent.syntax import ast, parse
from fluent.syntax.visitor import Visitor

from jobnotes.report.languages.messages import CATALOGUES, say

OTHERS = ("fr", "es")


class Values(Visitor):
    """Collects the values that a message names."""

    def __init__(self) -> None:
        self.names: set[str] = set()

    def visit_VariableReference(self, node: ast.VariableReference) -> None:
        self.names.add(node.id.name)


def values(node: ast.BaseNode) -> set[str]:
    found = Values()
    found.visit(node)
    return found.names


def messages(language: str) -> dict[str, set[str]]:
    """Every message and attribute of a language, with the values it names."""
    folder = files("jobnotes.report.languages") / language
    found: dict[str, set[str]] = {}
    for catalogue in CATALOGUES:
        for entry in parse((folder / catalogue).read_text("utf-8")).body:
            assert not isinstance(entry, ast.Junk), entry.content
            if isinstance(entry, ast.Message):
                parts = {entry.id.name: entry.value}
                parts |= {f"{entry.id.name}.{a.id.name}": a.value for a in entry.attributes}
                found |= {name: values(part) for name, part in parts.items() if part}
    return found


@pytest.mark.parametrize("language", OTHERS)
def test_every_english_message_is_translated_with_the_same_values(language):
    english, other = messages("en"), messages(language)
    assert english.items() <= other.items()


def test_french_and_spanish_have_the_same_messages():
    assert messages("fr").keys() == messages("es").keys()


def test_a_message_that_is_missing_is_an_error():
    with pytest.raises(LookupError):
        say("fr", "no-such-message")


def test_a_value_may_be_longer_than_a_fluent_message():
    assert say("en", "quoted", text="x" * 5000) == f"“{'x' * 5000}”"


def test_a_number_chooses_the_form():
    assert say("fr", "waiting", count=1, number="1").startswith("1 énoncé attend")
    assert say("es", "waiting", count=2, number="2").startswith("2 datos esperan")

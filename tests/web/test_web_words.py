"""The words of the pages in each language: none is missing, each takes the same values."""

import re
from importlib.resources import files
from pathlib import Path
from typing import get_args

import pytest
from fluent.syntax import FluentParser
from fluent.syntax.ast import Message, VariableReference
from fluent.syntax.visitor import Visitor

import jobnotes.web
from jobnotes.record import PartStatus, State
from jobnotes.review.corrections import FIXED
from jobnotes.review.corrections import KINDS as MODELS
from jobnotes.web import marking, shown
from jobnotes.web.setting_pages import SETTINGS
from jobnotes.web.words import LANGUAGES, preferred, say

WEB = Path(jobnotes.web.__file__).parent
FAMILIES = {
    "kind": shown.KINDS,
    "state": [state.value for state in State],
    "field": {n for model in MODELS.values() for n in model.model_fields} - FIXED - shown.NOT_TYPED,
    "choice": ["none", "before", "after", "yes", "no", *get_args(PartStatus)],
    "mark": [*marking.SHAPES, *marking.ENDS],
    "setting": [one.name.replace(".", "-").replace("_", "-") for one in SETTINGS],
}


class Values(Visitor):
    """The names of the values that a message takes."""

    def __init__(self):
        self.names = set()

    def visit_VariableReference(self, node: VariableReference):  # noqa: N802
        self.names.add(node.id.name)


def messages(language):
    text = (files("jobnotes.web") / "languages" / f"{language}.ftl").read_text("utf-8")
    found = {}
    for entry in FluentParser().parse(text).body:
        if isinstance(entry, Message):
            assert entry.id.name not in found, entry.id.name
            values = Values()
            values.visit(entry)
            found[entry.id.name] = values.names
    return found


@pytest.mark.parametrize("language", ["fr", "es"])
def test_each_language_has_the_same_messages_with_the_same_values(language):
    assert messages(language) == messages("en")


def test_every_message_that_a_template_names_is_there():
    used = {
        name
        for file in (WEB / "templates").glob("*.html")
        for name in re.findall(r"\bt\(['\"]([\w-]+)['\"](?! ~)", file.read_text("utf-8"))
    }
    assert len(used) > 100
    assert used <= messages("en").keys()


def test_every_message_that_the_program_names_is_there():
    used = {
        name
        for file in WEB.glob("*.py")
        for name in re.findall(r"\bsay\(\s*\"([\w-]+)\"", file.read_text("utf-8"))
    }
    assert used
    assert used <= messages("en").keys()


@pytest.mark.parametrize(("family", "names"), FAMILIES.items(), ids=FAMILIES)
def test_every_message_that_is_named_by_the_record_is_there(family, names):
    assert {f"{family}-{name}" for name in names} <= messages("en").keys()


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ("", "en"), ("fr", "fr"), ("fr-CA,fr;q=0.9,en;q=0.8", "fr"), ("de,es;q=0.5,en;q=0.4", "es"),
        ("en;q=0.1,ES-mx", "es"), ("fr;q=0,en", "en"), ("xx;q=nonsense", "en"), ("*", "en"),
    ],
)  # fmt: skip
def test_the_language_that_a_browser_wants_most_is_taken(asked, expected):
    assert preferred(asked) == expected


def test_a_message_that_is_not_there_is_an_error():
    with pytest.raises(LookupError):
        say("en", "no-such-message")


def test_the_pages_speak_the_language_of_the_browser_until_somebody_chooses(clerk, anybody, job):
    french = {"accept-language": "fr-CA,fr;q=0.9"}
    assert "Se connecter" in anybody.get("/sign-in", headers=french).text
    page = clerk.get("/jobs", headers=french)
    assert 'lang="fr"' in page.text
    assert page.headers["content-language"] == "fr"
    clerk.post("/language", data={"language": "es"})
    assert 'lang="es"' in clerk.get(f"/jobs/{job.id}", headers=french).text


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_page_of_the_office_is_told_in_each_language(clerk, job, language):
    clerk.post("/language", data={"language": language})
    here = f"/jobs/{job.id}"
    for path in ("/jobs", here, f"{here}/enter?kind=reading", f"{here}/photos/p1/marks",
                 "/phones", "/accounts", "/settings", "/spec-book"):  # fmt: skip
        page = clerk.get(path)
        assert page.status_code == 200, path
        assert f'<html lang="{language}">' in page.text


@pytest.mark.parametrize("language", ["", "xx", "../en"])
def test_a_language_that_there_is_not_is_refused(clerk, language):
    assert clerk.post("/language", data={"language": language}).status_code == 422

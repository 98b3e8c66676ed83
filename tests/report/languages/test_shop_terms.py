"""The shop's own terms are read from its file; a term that cannot be used is named."""

import pytest

from jobnotes.errors import SettingsError
from jobnotes.report.languages.shop_terms import read_terms


def test_terms_are_read_by_language_and_table(tmp_path):
    file = tmp_path / "terms.toml"
    file.write_text('[fr.things]\n"Spider cage" = "cage de croisillon f"\n', "utf-8")
    assert read_terms(file)["fr"]["things"] == {"spider cage": "cage de croisillon f"}


def test_no_file_holds_no_terms(tmp_path):
    assert read_terms(tmp_path / "terms.toml") == {}


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ('[fr.things]\n"spider cage" = "cage de croisillon"\n', "spider cage"),
        ('[de.things]\n"belt" = "Riemen m"\n', "de"),
        ('[es.colours]\n"red" = "rojo"\n', "es.colours"),
        ("[es", "terms.toml"),
    ],
)
def test_a_term_that_cannot_be_used_is_named(tmp_path, text, named):
    file = tmp_path / "terms.toml"
    file.write_text(text, "utf-8")
    with pytest.raises(SettingsError) as caught:
        read_terms(file)
    assert named in str(caught.value)

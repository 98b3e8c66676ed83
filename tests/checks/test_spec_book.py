from decimal import Decimal
from pathlib import Path

import pytest

from jobnotes.checks.spec_book import read_book, specs_for
from jobnotes.errors import SettingsError

ENTRY = """
[[spec]]
machine = "log splitter"
what = "cycle time"
low = 10.0
high = 14.5
unit = "s"
source = "maker's manual, page 12"
"""


def book(folder: Path, text: str) -> Path:
    path = folder / "spec_book.toml"
    path.write_text(text)
    return path


def test_an_entry_becomes_a_spec_with_its_source(tmp_path):
    (spec,) = specs_for("hydraulic log splitter", read_book(book(tmp_path, ENTRY)))
    assert (spec.low, spec.high, spec.unit) == (Decimal("10.0"), Decimal("14.5"), "s")
    assert spec.source == "maker's manual, page 12"


def test_the_limits_keep_the_digits_that_were_written(tmp_path):
    (spec,) = specs_for("log splitter", read_book(book(tmp_path, ENTRY)))
    assert spec.as_said == "10.0 to 14.5"


def test_an_entry_for_another_machine_does_not_apply(tmp_path):
    assert specs_for("walk-behind mower", read_book(book(tmp_path, ENTRY))) == ()


def test_an_entry_without_a_machine_applies_to_every_machine(tmp_path):
    every = ENTRY.replace('machine = "log splitter"\n', "")
    assert len(specs_for("walk-behind mower", read_book(book(tmp_path, every)))) == 1


def test_no_file_is_an_empty_book(tmp_path):
    assert read_book(tmp_path / "none.toml") == ()


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('unit = "s"', 'unit = "fortnights"', "fortnights"),
        ("low = 10.0", "low = 20.0", "low is above high"),
        ("low = 10.0\nhigh = 14.5", "", "neither low nor high"),
        ('what = "cycle time"', "", "what"),
        ("low = 10.0", "lo = 10.0", "lo"),
        ("low = 10.0", "low = ", "cannot be read"),
    ],
)
def test_a_bad_entry_is_named(tmp_path, old, new, named):
    with pytest.raises(SettingsError, match=named):
        read_book(book(tmp_path, ENTRY.replace(old, new)))

"""Settings and spec book, changed by the program in files that people edit too."""

from decimal import Decimal

import pytest

from jobnotes import settings
from jobnotes.checks.spec_book import drop_entry, put_entry, read_book
from jobnotes.errors import SettingsError, StaleFileError
from jobnotes.toml_file import seen

ENTRY = {"machine": "tiller", "what": "plug gap", "low": "0.70", "unit": "mm", "source": "manual"}
MINE = '# typed by hand\npage_size = "Letter"\n\n[shop]\nname = "Pier Repairs" # ours\n'


@pytest.fixture
def file(tmp_path):
    path = tmp_path / settings.FILE_NAME
    path.write_text(MINE)
    return path


def test_a_setting_is_changed_and_comments_stay(file):
    kept = settings.keep(file.parent, {"shop.phone": "555-0100"}, seen(file))
    assert (kept.shop.phone, kept.shop.name, kept.page_size) == (
        "555-0100",
        "Pier Repairs",
        "Letter",
    )
    assert "# typed by hand" in file.read_text()
    assert "# ours" in file.read_text()


def test_settings_are_made_where_there_is_no_file(tmp_path):
    assert settings.keep(tmp_path, {"shop.name": "Pier Repairs"}, "").shop.name == "Pier Repairs"
    assert settings.load(tmp_path).shop.name == "Pier Repairs"


@pytest.mark.parametrize("changes", [{"page_size": "A5"}, {"link_days": 0}, {"colour": "red"}])
def test_a_setting_that_cannot_be_used_is_refused_and_the_file_stays(file, changes):
    with pytest.raises(SettingsError):
        settings.keep(file.parent, changes, seen(file))
    assert file.read_text() == MINE


def test_what_somebody_changed_meanwhile_is_not_overwritten(file):
    before = seen(file)
    file.write_text(MINE + 'address = "1 Pier Road"\n')
    with pytest.raises(StaleFileError):
        settings.keep(file.parent, {"shop.phone": "555-0100"}, before)
    assert settings.load(file.parent).shop.address == "1 Pier Road"


def test_an_entry_of_the_spec_book_keeps_the_digits_that_were_typed(tmp_path):
    book = tmp_path / "spec_book.toml"
    put_entry(book, ENTRY, None, "")
    (entry,) = read_book(book)
    assert (f"{entry.low}", entry.high, entry.source) == ("0.70", None, "manual")


def test_an_entry_is_replaced_by_its_number_and_another_taken_out(tmp_path):
    book = tmp_path / "spec_book.toml"
    for what in ("plug gap", "air gap"):
        put_entry(book, {**ENTRY, "what": what}, None, seen(book))
    put_entry(book, {**ENTRY, "low": "", "high": "0.8"}, 0, seen(book))
    drop_entry(book, 1, seen(book))
    (entry,) = read_book(book)
    assert (entry.what, entry.low, entry.high) == ("plug gap", None, Decimal("0.8"))


@pytest.mark.parametrize(
    "wrong",
    [
        {"low": "0,7"},
        {"low": "NaN"},
        {"unit": "cubits"},
        {"low": ""},
        {"high": "0.6"},
        {"what": ""},
    ],
)
def test_an_entry_that_cannot_be_used_is_not_written(tmp_path, wrong):
    book = tmp_path / "spec_book.toml"
    with pytest.raises(SettingsError):
        put_entry(book, {**ENTRY, **wrong}, None, "")
    assert not book.exists()


@pytest.mark.parametrize("typed", ["007.50", "-0.5", "-12", "0"])
def test_a_limit_is_written_as_the_number_it_is(tmp_path, typed):
    book = tmp_path / "spec_book.toml"
    put_entry(book, {**ENTRY, "low": typed}, None, "")
    assert read_book(book)[0].low == Decimal(typed)

from pathlib import Path

import pytest

from jobnotes.errors import SettingsError
from jobnotes.settings import Settings, data_folder, load


def settings_of(folder: Path, text: str) -> Settings:
    (folder / "settings.toml").write_text(text, encoding="utf-8")
    return load(folder)


def complaint_about(folder: Path, text: str) -> str:
    with pytest.raises(SettingsError) as caught:
        settings_of(folder, text)
    return str(caught.value)


def test_a_missing_file_means_the_defaults(tmp_path: Path) -> None:
    settings = load(tmp_path)
    assert (settings.speech_model, settings.allow_hub, settings.page_size) == ("base", False, "A4")


def test_the_environment_names_the_data_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("JOBNOTES_HOME", str(tmp_path))
    assert data_folder() == tmp_path
    assert load().data_folder == tmp_path


def test_without_the_environment_the_systems_own_place_is_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # XDG Base Directory Specification 0.8: data below $XDG_DATA_HOME
    monkeypatch.delenv("JOBNOTES_HOME", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert data_folder() == tmp_path / "jobnotes"


def test_a_file_sets_the_letterhead(tmp_path: Path) -> None:
    settings = settings_of(tmp_path, '[shop]\nname = "Bärenhof Werkstatt"\nphone = "555 0142"\n')
    assert (settings.shop.name, settings.shop.phone) == ("Bärenhof Werkstatt", "555 0142")


def test_the_logo_is_found_beside_the_settings(tmp_path: Path) -> None:
    assert settings_of(tmp_path, '[shop]\nlogo = "logo.png"\n').logo == tmp_path / "logo.png"


def test_the_store_is_a_file_in_the_data_folder_unless_a_database_is_named(tmp_path: Path) -> None:
    assert load(tmp_path).store_url == f"sqlite:///{tmp_path}/jobs.db"
    named = settings_of(tmp_path, 'database = "postgresql+psycopg://shop@bench/jobs"\n')
    assert named.store_url == "postgresql+psycopg://shop@bench/jobs"


def test_a_byte_order_mark_from_a_windows_editor_is_read_over(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_bytes(b'\xef\xbb\xbftechnician = "Noor"\n')
    assert load(tmp_path).technician == "Noor"


def test_broken_toml_is_named_with_its_line(tmp_path: Path) -> None:
    said = complaint_about(tmp_path, 'technician = "Noor"\npage_size = \n')
    assert "line 2" in said
    assert "settings.toml" in said


def test_an_unknown_key_is_named(tmp_path: Path) -> None:
    assert "no setting 'shop.nmae'" in complaint_about(tmp_path, '[shop]\nnmae = "Typo"\n')


def test_a_wrong_value_is_named_with_its_key(tmp_path: Path) -> None:
    said = complaint_about(tmp_path, 'page_size = "A5"\n')
    assert "'page_size'" in said
    assert "'A4' or 'Letter'" in said


def test_a_file_that_is_not_text_is_a_settings_error(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_bytes(b"\xff\xfe\x00\x01")
    with pytest.raises(SettingsError, match="settings.toml"):
        load(tmp_path)

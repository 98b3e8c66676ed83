"""What runs and others wrote: licences, hashes, the bill of materials."""

import json
import re
import sys
import tomllib
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "scripts"))

from supply_parts.licences import (  # noqa: E402
    FONTS,
    allowed,
    bundled,
    everything,
    locked,
    notice,
    packages,
)
from supply_parts.sbom import complaints, hashes, sbom  # noqa: E402

LOCKS = [ROOT / "scripts" / name for name in ("requirements.txt", "requirements-test.txt")]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def test_everything_that_runs_has_a_known_licence() -> None:
    assert [one for one in everything() if not one.licence] == []


def test_a_licence_that_is_not_allowed_is_none() -> None:
    assert allowed("GPL-3.0-only") == ""
    assert allowed("MIT AND AGPL-3.0-only") == ""


def test_the_notice_names_each_package_and_what_is_under_the_gpl() -> None:
    told = (ROOT / "NOTICE.md").read_text("utf-8")
    for one in packages():
        assert f"| {one.name} | {one.licence} |" in told
    for name, libraries in bundled().items():
        assert f"- {name}: {', '.join(libraries)}" in told
    assert notice().split("|---|---|")[0] in told


def test_every_font_is_in_the_table_of_its_licence() -> None:
    told = (FONTS / "README.md").read_text("utf-8")
    families = [re.escape(name).replace(r"\*", ".*") for name in re.findall(r"[\w*-]+\.ttf", told)]
    for font in FONTS.glob("*.ttf"):
        assert any(re.fullmatch(family, font.name) for family in families), font.name


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_every_line_of_a_lock_file_has_its_hashes(lock: Path) -> None:
    entries = re.split(r"^(?=\S)", lock.read_text(), flags=re.M)[1:]
    pinned = re.compile(r"[\w.-]+==\S+( ; [^\\]+)?( \\\n    --hash=sha256:[0-9a-f]{64})+\n")
    assert entries
    for entry in entries:
        assert pinned.fullmatch(entry), entry.splitlines()[0]


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_a_lock_file_holds_what_the_project_asks_for(lock: Path) -> None:
    extra = PROJECT["optional-dependencies"]
    asked = [
        *PROJECT["dependencies"],
        *extra["build"],
        *("test" in lock.name and extra["test"] or ()),
    ]
    held = locked(lock)
    for requirement in map(Requirement, asked):
        versions = held[canonicalize_name(requirement.name)]
        assert all(version in requirement.specifier for version in versions), requirement.name


def test_the_lock_file_holds_nothing_that_the_project_does_not_ask_for() -> None:
    roots = [*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["build"]]
    found, left = set[str](), [Requirement(one) for one in roots]
    while left:
        requirement = left.pop()
        name = canonicalize_name(requirement.name)
        if (name, *sorted(requirement.extras)) in found:
            continue
        found |= {name, (name, *sorted(requirement.extras))}
        left += _needed(name, requirement.extras)
    assert {name for name in locked() if _installed(name)} - found == set()


def _needed(name: str, extras: set[str]) -> list[Requirement]:
    if not _installed(name):
        return []
    told = [Requirement(one) for one in distribution(name).requires or []]
    contexts = [{"extra": extra} for extra in ("", *extras)]
    return [
        one
        for one in told  # those of other systems too: the lock file is for all
        if "extra" not in str(one.marker) or any(map(one.marker.evaluate, contexts))
    ]


def _installed(name: str) -> bool:
    try:
        distribution(name)
    except PackageNotFoundError:
        return False
    return True


def test_the_bill_of_materials_is_valid_by_the_schema_of_cyclonedx() -> None:
    told = sbom()
    assert complaints(told) == ""
    assert complaints(told.replace('"CycloneDX"', '"other"')) != ""
    named = {one["name"] for one in json.loads(told)["components"]}
    assert {one.name for one in everything()} == named


def test_the_bill_of_materials_has_the_hashes_of_the_lock_file() -> None:
    for one in json.loads(sbom())["components"]:
        if "purl" in one:
            assert {entry["content"] for entry in one["hashes"]} == set(
                hashes(next(item for item in packages() if item.name == one["name"]))
            )

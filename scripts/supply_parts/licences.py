"""The licence of everything that runs: packages by their metadata, speech weights, fonts."""

import re
import tomllib
from importlib.metadata import PackageMetadata, PackageNotFoundError, distribution
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
LOCK = ROOT / "scripts" / "requirements.txt"
FONTS = ROOT / "jobnotes" / "report" / "fonts"
_RULES = tomllib.loads(Path(__file__).with_name("licences.toml").read_text("utf-8"))
_SPELT = {
    spelling.casefold(): spdx
    for spdx, spellings in _RULES["allowed"].items()
    for spelling in (spdx, *spellings)
}
_GPL = ("libx264", "libx265")  # GPL-2.0-or-later, by their own COPYING files


class Item(NamedTuple):
    """Something that runs: its name, its version, and its licence by SPDX, "" if not known."""

    name: str
    version: str
    licence: str


def locked(lock: Path = LOCK) -> dict[str, list[str]]:
    """Return the versions of each package in a lock file; several where it depends on Python's."""
    found: dict[str, list[str]] = {}
    for name, version in re.findall(r"^([\w.-]+)==([^ \\;]+)", lock.read_text(), re.M):
        found.setdefault(name, []).append(version)
    return found


def packages() -> tuple[Item, ...]:
    """Return the packages of the lock file that are installed here."""
    found = []
    for name in locked():
        try:
            held = distribution(name)
        except PackageNotFoundError:  # another system's, such as colorama
            continue
        found.append(Item(name, held.version, licence_of(name, held.metadata)))
    return tuple(found)


def licence_of(name: str, metadata: PackageMetadata) -> str:
    """Return an SPDX expression, or "" for a licence that is not allowed or not told."""
    if name in _RULES["told"]:
        return str(_RULES["told"][name]["licence"])
    classifiers = metadata.get_all("Classifier") or []
    told = (
        metadata.get("License-Expression"),
        metadata.get("License"),
        *(one.partition(" :: ")[2] for one in classifiers if one.startswith("License :: ")),
    )
    return next((spdx for text in told if text and (spdx := allowed(text))), "")


def allowed(text: str) -> str:
    """Return the SPDX form of a licence's spelling if each part of it is allowed, else ""."""
    parts = re.split(r"\s+(AND|OR)\s+", text.strip())
    found = [part if part in ("AND", "OR") else _SPELT.get(part.casefold(), "") for part in parts]
    return " ".join(found) if all(found) else ""


def weights() -> tuple[Item, ...]:
    """Return the speech weights that the program can prepare, with the licence in the manifest."""
    manifest = tomllib.loads((ROOT / "models" / "manifest.toml").read_text("utf-8"))
    return tuple(
        Item(f"speech weights {name}", one["wheels"][0]["version"], allowed(one["licence"]))
        for name, one in manifest.items()
    )


def fonts() -> tuple[Item, ...]:
    """Return the fonts that the report embeds, as the table beside them says."""
    rows = re.findall(
        r"^\| (.*\.ttf) \| (.*?) \| (.*?) \|", (FONTS / "README.md").read_text(), re.M
    )
    return tuple(Item(name, version, allowed(licence)) for name, version, licence in rows)


def everything() -> tuple[Item, ...]:
    """Return all of it."""
    return (*packages(), *weights(), *fonts())


def bundled() -> dict[str, list[str]]:
    """Return the libraries under the GPL that wheels bring with them, by package."""
    found: dict[str, list[str]] = {}
    for name in locked():
        try:
            files = distribution(name).files or []
        except PackageNotFoundError:
            continue
        brought = {lib for lib in _GPL for file in files if file.name.startswith(lib)}
        if brought:
            found[name] = sorted(brought)
    return found


def notice() -> str:
    """Return the text of NOTICE.md; versions are left to the lock file."""
    rows = "\n".join(f"| {one.name} | {one.licence or '?'} |" for one in everything())
    gpl = "\n".join(f"- {name}: {', '.join(libs)}" for name, libs in bundled().items())
    return _NOTICE.format(rows=rows, gpl=gpl)


_NOTICE = """# What runs that others wrote

Written by `scripts/supply_chain` from the installed packages' own metadata; versions and hashes are
in `scripts/requirements.txt`. Packages are fetched from their registry and used as they come.

| what | licence |
|---|---|
{rows}

These packages' wheels bring compiled libraries under the GPL (2.0 or later). Whoever passes the
program on together with them must keep to the GPL for that whole. The program does not call these
encoders; builds of the packages without them serve as well.

{gpl}
"""

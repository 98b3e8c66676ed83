"""A bill of materials in CycloneDX JSON, 1.6, by its own library."""

import re

from cyclonedx.contrib.license.factories import LicenseFactory
from cyclonedx.model import HashAlgorithm, HashType
from cyclonedx.model.bom import Bom
from cyclonedx.model.component import Component, ComponentType
from cyclonedx.output import make_outputter
from cyclonedx.schema import OutputFormat, SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator
from packageurl import PackageURL

from supply_parts.licences import LOCK, Item, fonts, packages, weights

VERSION = SchemaVersion.V1_6


def sbom() -> str:
    """Return the bill: each package with the hashes of the lock file, the weights, the fonts."""
    bom = Bom()
    bom.metadata.component = Component(name="jobnotes", type=ComponentType.APPLICATION)
    for item in packages():
        bom.components.add(_package(item))
    for items, sort in (
        (weights(), ComponentType.MACHINE_LEARNING_MODEL),
        (fonts(), ComponentType.FILE),
    ):
        for item in items:
            bom.components.add(_component(item, sort))
    bom.register_dependency(bom.metadata.component, bom.components)
    return make_outputter(bom, OutputFormat.JSON, VERSION).output_as_string(indent=1)


def complaints(told: str) -> str:
    """Return what the schema of CycloneDX says against a bill; nothing for a valid one."""
    error = JsonStrictValidator(VERSION).validate_str(told)
    return str(error) if error else ""


def _package(item: Item) -> Component:
    component = _component(item, ComponentType.LIBRARY)
    component.purl = PackageURL("pypi", name=item.name, version=item.version)
    for sha256 in hashes(item):
        component.hashes.add(HashType(alg=HashAlgorithm.SHA_256, content=sha256))
    return component


def _component(item: Item, sort: ComponentType) -> Component:
    licences = [LicenseFactory().make_from_string(item.licence)] if item.licence else []
    reference = f"{item.name}=={item.version}"
    return Component(
        name=item.name, version=item.version, type=sort, bom_ref=reference, licenses=licences
    )


def hashes(item: Item) -> list[str]:
    """Return the SHA-256 of each file that the lock file lets in for a package."""
    entry = rf"^{re.escape(item.name)}=={re.escape(item.version)}.*?(?=^\S|\Z)"
    found = re.search(entry, LOCK.read_text(), re.M | re.S)
    return re.findall(r"sha256:([0-9a-f]{64})", found[0]) if found else []

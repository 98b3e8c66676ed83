"""The form of a bundle: a zip without compression, whose manifest names every file in it.

    job.json                 the whole record (jobnotes/report/schemas)
    originals/SHA256         each recording and photo as it came
    reports/SHA256           each report as it was issued
    manifest.json            name, size in bytes and SHA-256 of each file above

Nothing is compressed, so a bundle is as large as what it holds, and none can be larger inside than
outside.
"""

import re
from typing import Literal

from jobnotes.record import Job, Model

BUNDLE_VERSION = 1
MANIFEST, RECORD = "manifest.json", "job.json"
ORIGINALS, REPORTS = "originals/", "reports/"
NAME = re.compile(r"job\.json|(originals|reports)/[0-9a-f]{64}")
PIECE = 1 << 20


class Held(Model):
    """One file of a bundle: its name, size in bytes and SHA-256."""

    name: str
    size: int
    sha256: str


class Manifest(Model):
    """Every file of a bundle but the manifest itself, by name."""

    form: Literal["jobnotes bundle"] = "jobnotes bundle"
    version: int = BUNDLE_VERSION
    files: tuple[Held, ...]


def media_names(job: Job) -> frozenset[str]:
    """Return the names, within a bundle, of everything that a job's record rests on."""
    sounds = [one.sha256 for one in job.recordings if one.erased_at is None]
    hashes = [*sounds, *(one.sha256 for one in job.photos)]
    originals = {f"{ORIGINALS}{sha256}" for sha256 in hashes if sha256}
    return frozenset(originals | {f"{REPORTS}{one.sha256}" for one in job.reports})


def sha256_of(name: str) -> str:
    """Return the SHA-256 that a file of originals or reports is named by."""
    return name.rpartition("/")[2]

"""A whole job as a JSON file, and the published schema of that file."""

import json
from typing import Any

from pydantic import ValidationError

from jobnotes.errors import BundleError, FormVersionError
from jobnotes.record import RECORD_VERSION, Job

SCHEMA_FILE = f"job-{RECORD_VERSION}.json"
"""The schema's name in jobnotes/report/schemas; `version` in a job's file names the number."""


def dump(job: Job) -> str:
    """Return all that is known of a job as JSON; `load` gives the same job back."""
    return job.model_dump_json(indent=1)


def load(text: str | bytes) -> Job:
    """Return the job of a JSON file.

    Raises FormVersionError for a version that this program does not know, BundleError for a file
    that holds no job.
    """
    try:
        job = Job.model_validate_json(text)
    except ValidationError as error:
        _check_version(_version(text))
        first = error.errors(include_input=False, include_url=False)[0]
        where = ".".join(map(str, first["loc"])) or "the file"
        raise BundleError(f"The job's record does not hold: {where}: {first['msg']}.") from error
    _check_version(job.version)
    return job


def schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the job's file, made from the record's own types."""
    made = Job.model_json_schema(mode="serialization")
    fixed = {"version": {**made["properties"]["version"], "const": RECORD_VERSION}}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:jobnotes:job:{RECORD_VERSION}",
        **made,
        "properties": {**made["properties"], **fixed},
    }


def _version(text: str | bytes) -> object:
    """Return the version that a file names, though the rest of it may not hold."""
    try:
        held = json.loads(text)
    except (ValueError, RecursionError):
        return RECORD_VERSION
    return held.get("version") if isinstance(held, dict) else RECORD_VERSION


def _check_version(version: object) -> None:
    if isinstance(version, int) and version != RECORD_VERSION:
        raise FormVersionError(
            f"The job's record has version {version}; this program knows {RECORD_VERSION}."
        )

"""A job as a JSON file: nothing lost, and what the published schema says."""

import json
from importlib.resources import files

import jsonschema
import pytest
from any_record import jobs as any_job
from any_record import same
from hypothesis import given, settings
from report_jobs import repair

from jobnotes.errors import BundleError, FormVersionError
from jobnotes.record import RECORD_VERSION, Job
from jobnotes.report.job_file import SCHEMA_FILE, dump, load, schema

jobs = any_job.map(lambda job: job.having(version=RECORD_VERSION))
quickly = settings(max_examples=60, deadline=None)
PUBLISHED = files("jobnotes.report") / "schemas" / SCHEMA_FILE


def checker() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(json.loads(PUBLISHED.read_text("utf-8")))


@quickly
@given(job=jobs)
def test_a_job_comes_back_from_its_file_as_it_was(job: Job) -> None:
    assert same(load(dump(job)), job)


def test_the_published_schema_is_that_of_the_record():
    # written by scripts/write_schema
    assert json.loads(PUBLISHED.read_text("utf-8")) == schema()


def test_the_published_schema_is_one():
    # JSON Schema 2020-12, by its own meta-schema
    jsonschema.Draft202012Validator.check_schema(json.loads(PUBLISHED.read_text("utf-8")))


@quickly
@given(job=jobs)
def test_every_job_file_is_what_the_schema_says(job: Job) -> None:
    checker().validate(json.loads(dump(job)))


@pytest.mark.parametrize(
    "change",
    [{"version": 2}, {"facts": [{"kind": "rumour"}]}, {"words": "none"}, {"more": 1}, {"id": None}],
    ids=str,
)
def test_what_is_no_job_does_not_hold_by_the_schema(change):
    told = {**json.loads(dump(repair().job())), **change}
    assert not checker().is_valid(told)


def test_a_file_of_another_version_is_told_from_a_damaged_one():
    told = {**json.loads(dump(repair().job())), "version": 2, "facts": [{"kind": "rumour"}]}
    with pytest.raises(FormVersionError, match="version 2"):
        load(json.dumps(told))


@pytest.mark.parametrize("text", ["", "{", "[]", "null", '{"version": 1}', "[" * 5000])
def test_what_is_no_job_is_refused(text):
    with pytest.raises(BundleError):
        load(text)


def test_the_place_of_a_fault_is_named():
    told = json.loads(dump(repair().job()))
    del told["facts"][3]["unit"]
    with pytest.raises(BundleError, match=r"facts\.3.*unit"):
        load(json.dumps(told))

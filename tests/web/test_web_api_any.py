"""Whatever is sent to the ways under /api, as they are described and worse: no fault of ours."""

import json
from urllib.parse import quote

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobnotes.web.app import STATIC

TOLD = json.loads((STATIC / "openapi.json").read_text())
WAYS = [(method, path) for path, ways in TOLD["paths"].items() for method in ways]
hostile = st.sampled_from(
    ["../x", "-1", "0", "9" * 30, "a" * 300, "\N{SNOWMAN}", "%00", "1e9", " "]
)
places = (
    hostile
    | st.text(min_size=1, max_size=20).filter(lambda name: name.strip("."))
    | st.from_regex(r"[0-9a-f]{32}|[0-9a-f]{64}")
)
numbers = st.integers(-(2**40), 2**40)
values = st.recursive(
    st.none() | st.booleans() | numbers | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner),
    max_leaves=8,
)
part = st.fixed_dictionaries(
    {"pieces": numbers | values, "bytes": numbers | values, "started_ms": numbers | values}
)
ends = st.fixed_dictionaries({"parts": st.lists(part, max_size=4)})
bodies = st.binary(max_size=200) | (ends | values).map(lambda body: json.dumps(body).encode())
heads = st.dictionaries(
    st.sampled_from(["x-sha256", "x-offset", "x-name", "content-type"]),
    st.text(st.characters(min_codepoint=32, max_codepoint=126), max_size=70),
)


@pytest.mark.parametrize(("method", "path"), WAYS)
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(filled=st.data())
def test_any_request_is_answered_without_a_fault(technician, job, method, path, filled):
    for name in ("job", "take", "part", "number", "sha256"):
        value = filled.draw(places | st.just(job.id))
        path = path.replace(f"{{{name}}}", quote(value, safe=""))
    sent = {"content": filled.draw(bodies), "headers": filled.draw(heads)}
    answer = technician.request(method, path, **sent)
    assert answer.status_code < 500
    if answer.status_code >= 400:
        assert answer.headers["content-type"] == "application/problem+json"
        assert set(answer.json()) >= {"type", "title", "status", "detail"}

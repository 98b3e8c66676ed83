"""Each operation killed at some of its write points; `scripts/crash_points` tries all of them."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

SCRIPT = Path(__file__).parents[2] / "scripts" / "crash_points"
NAMES = re.findall(
    r'^    "([^"]+)": Operation\(', Path(__file__).with_name("operations.py").read_text(), re.M
)

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no fork")


@pytest.fixture(scope="module")
def told() -> dict[str, tuple[int, str]]:
    """What the script says of each operation: kills, and after how many something was wrong."""
    command = [sys.executable, str(SCRIPT), "--every", "17"]
    said = subprocess.run(command, capture_output=True, text=True)
    assert not said.stderr
    found = re.findall(r"^(.*): (\d+) kills, (.*) wrong after them$", said.stdout, re.M)
    assert said.returncode == 0, said.stdout
    return {name: (int(kills), wrong) for name, kills, wrong in found}


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_lost_or_doubled_by_a_kill(told: dict[str, tuple[int, str]], name: str) -> None:
    kills, wrong = told[name]
    assert kills > 1
    assert wrong == "nothing"

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


def told(*more: str) -> dict[str, tuple[int, str]]:
    """Return the number of faults of each operation, and after how many something was wrong."""
    said = subprocess.run([sys.executable, str(SCRIPT), *more], capture_output=True, text=True)
    found = re.findall(r"^(.*): (\d+) faults, (.*) wrong after them$", said.stdout, re.M)
    assert said.returncode == 0, said.stdout + said.stderr
    return {name: (int(faults), wrong) for name, faults, wrong in found}


@pytest.fixture(scope="module")
def kills() -> dict[str, tuple[int, str]]:
    return told("--every", "61")


@pytest.fixture(scope="module")
def failures() -> dict[str, tuple[int, str]]:
    return told("--disk", "--every", "71")


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_lost_or_doubled_by_a_kill(kills: dict[str, tuple[int, str]], name: str) -> None:
    faults, wrong = kills[name]
    assert faults > 1
    assert wrong == "nothing"


@pytest.mark.parametrize("name", NAMES)
def test_a_disk_that_fails_is_told_and_nothing_is_lost(
    failures: dict[str, tuple[int, str]], name: str
) -> None:
    faults, wrong = failures[name]
    assert faults > 1
    assert wrong == "nothing"

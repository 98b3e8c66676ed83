"""Broken files handed to intake; `scripts/fuzz_intake` hands in as many as wished."""

from itertools import islice
from pathlib import Path

from bad_input import Tally, broken, good_files


def test_of_broken_files_each_is_used_or_refused_with_its_remedy(tmp_path: Path) -> None:
    for name in ("good", "in"):
        (tmp_path / name).mkdir()
    tally = Tally()
    for made in islice(broken(good_files(tmp_path / "good"), seed=2026), 250):
        tally.hand_in(tmp_path / "in", *made)
    assert tally.wrong == []
    assert tally.outcomes.total() == 250
    assert len({outcome for _, outcome in tally.outcomes}) > 4

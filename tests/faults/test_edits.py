"""A site built from what was kept equals one built from nothing."""

from __future__ import annotations

from pathlib import Path

from tests.long.edits import Edits


def test_edits(tmp_path: Path) -> None:
    """Four short series of edits; ``tests/long/edits.py`` makes a thousand."""
    edits = Edits(tmp_path, seed=3)
    assert [edits.run_series(number) for number in range(1, 5)] == [None] * 4
    assert edits.tally["sites compared"] >= 2
    assert edits.tally["builds with status 0"] >= 4

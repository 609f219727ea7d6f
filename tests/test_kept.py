"""What tests keep between runs: once made, never a result that there is none of."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests import kept as room

CALLS: list[str] = []


def work(word: str) -> str:
    """Fails the first time."""
    CALLS.append(word)
    if len(CALLS) == 1:
        raise LookupError(word)
    return word.upper()


def test_a_task_that_raised_is_asked_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It says again why, and what it gives at last is kept in this process and for the next."""
    CALLS.clear()
    monkeypatch.setattr(room, "FOLDER", tmp_path)
    with pytest.raises(LookupError, match="a"):
        room.kept(work, "a", room="handouts.problems")
    assert [room.kept(work, "a", room="handouts.problems") for _ in range(2)] == ["A", "A"]
    monkeypatch.setattr(room, "_HERE", {})
    assert room.kept(work, "a", room="handouts.problems") == "A"
    assert len(CALLS) == (2 if room.WANTED else 3)

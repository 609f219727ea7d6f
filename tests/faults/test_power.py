"""Power lost at any step: what was flushed suffices, and without flushing the replay sees the damage."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from handouts.publishing import manifest, staging
from tests.faults.layer import Step
from tests.faults.publishing import SCENARIOS
from tests.faults.replay import Folder, apply_step, flatten, read_disk, states
from tests.long.power import lose_power


@pytest.mark.parametrize("can_exchange", [True, False])
@pytest.mark.parametrize("name", SCENARIOS)
def test_power_loss(name: str, can_exchange: bool, capsys: pytest.CaptureFixture[str]) -> None:
    """Two random states and the four certain ones after every step; ``tests/long/power.py`` tries more."""
    seen, _, wrong = lose_power(name, SCENARIOS[name], can_exchange, 2, Random(7))
    assert wrong == 0, capsys.readouterr().out
    assert seen > 100 or name == "back"


def test_without_flushing_it_is_seen(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """The replay itself: a publication that flushes no file is found torn."""
    monkeypatch.setattr(staging, "look_at", lambda site, written, whole, since, flush=(): manifest.look_at(site, written, whole, since))
    _, _, wrong = lose_power("second", SCENARIOS["second"], True, 2, Random(7))
    assert wrong > 10
    assert "site: torn" in capsys.readouterr().out


def test_model_of_the_disk(tmp_path: Path) -> None:
    """Flushed data and names are certain, others are not; an exchange is one change."""
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "old").write_bytes(b"o")
    root = read_disk(tmp_path)
    for step in (Step("create", "a/new", False), Step("write", "a/new", b"n1"), Step("fsync", "a/new"), Step("write", "a/new", b"n2")):
        apply_step(root, step)
    seen = {tuple(sorted(flatten(state).items())) for state in states(root, Random(1), 50)}
    old = ("a/old", b"o")
    assert seen == {(old,), (("a/new", b"n1"), old), (("a/new", b"n1n2"), old)}
    apply_step(root, Step("fsync", "a"))
    apply_step(root, Step("exchange", "a/new", "a/old"))
    seen = {tuple(sorted(flatten(state).items())) for state in states(root, Random(1), 50)}
    new = (b"n1", b"n1n2")
    assert seen == {*((("a/new", data), old) for data in new), *((("a/new", b"o"), ("a/old", data)) for data in new)}
    apply_step(root, Step("unlink", "a/new"))
    apply_step(root, Step("truncate", "a/old", 0))
    apply_step(root, Step("fsync", "a"))
    apply_step(root, Step("fsync", "a/old"))
    assert isinstance(root, Folder)
    assert {tuple(flatten(state).items()) for state in states(root, Random(1), 5)} == {(("a/old", b""),)}

"""A disk that fails at any step: a problem with a mend, the old site as it was, nothing left over."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.publishing import SCENARIOS, SITES, Scenario
from tests.long.disk_full import fail_all, try_act

EVERY = 60
"""In the suite every 60th step is tried for each kind of error; ``tests/long/disk_full.py`` tries each."""
LEAST = {"same": 5, "back": 1}
"""Fewer errors are possible where nothing new is written."""


@pytest.mark.parametrize("can_exchange", [True, False])
@pytest.mark.parametrize("name", SCENARIOS)
def test_errors_of_the_disk(name: str, can_exchange: bool, capsys: pytest.CaptureFixture[str]) -> None:
    """No room once, no room from there on, a faulty disk, no permission."""
    points, wrong = fail_all(name, SCENARIOS[name], can_exchange, EVERY)
    assert wrong == 0, capsys.readouterr().out
    assert points > LEAST.get(name, 8)


def test_damage_is_seen(tmp_path: Path) -> None:
    """The harness itself: an act that fails with a bare error after it touched the site is found."""

    def spoil(out: Path) -> None:
        (out / "site" / "index.html").write_bytes(SITES["new"]["index.html"])
        raise OSError

    assert try_act(Scenario((), spoil, set(), ""), tmp_path)[0] == "fault"

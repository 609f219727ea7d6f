"""Kills a publication before every step that changes the disk: ``python tests/long/kills.py [EVERY] [OFFSET]``, 1 by default.

First, second and later sites, an unchanged one and ``--back``, each with and without a system that can swap two
folders in one step; each is killed (SIGKILL) before every EVERY-th step.  What then stands must be the old
site or the new one, whole by its manifest; the next build must give the same bytes as an undisturbed one,
keep the former site and leave nothing behind.  Ends with 1 where anything else was found.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.faults.publishing import SCENARIOS, Scenario, count_steps, faults_after, kill_before, memory


def kill_all(name: str, scenario: Scenario, can_exchange: bool, every: int, offset: int) -> tuple[int, int]:
    """Points tried and points at which something was wrong."""
    points = wrong = 0
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        steps = count_steps(scenario, Path(folder, "count"), can_exchange)
        for number in range(offset % every, steps, every):
            out = Path(folder, "out")
            scenario.prepare(out)
            if not kill_before(scenario, out, number, can_exchange):
                raise RuntimeError(f"{name}: step {number} of {steps} was never reached")
            found = faults_after(scenario, out, can_exchange)
            if found:
                print(f"{name}, killed before step {number}: {'; '.join(found)}")
            points, wrong = points + 1, wrong + bool(found)
            shutil.rmtree(out)
    return points, wrong


def main() -> int:
    """Runs every scenario."""
    every, offset = (int(word) for word in (*sys.argv[1:], *("1", "0")[len(sys.argv) - 1 :]))
    total = faults = 0
    for can_exchange in (True, False):
        for name, scenario in SCENARIOS.items():
            points, wrong = kill_all(name, scenario, can_exchange, every, offset)
            print(f"{points:>6,} kills, {wrong} wrong: {name}, {'one rename' if can_exchange else 'three renames'}")
            total, faults = total + points, faults + wrong
    print(f"{total:>6,} kills, {faults} wrong")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())

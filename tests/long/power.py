"""Power loss at every step of a publication, by replay: ``python tests/long/power.py [STATES] [SEED]``, 40 by default.

After each step of each scenario of ``kills.py`` four certain states and STATES states by chance are made, in
which changes that were not flushed are lost or reordered.  The site must be the old one or the new one, byte
for byte (without a system that swaps in one step it may also be away until the next command).  Every
fiftieth state is put on a disk and built upon.  Ends with 1 where anything else was found.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.publishing.manifest import MANIFEST
from tests.faults.layer import Layer, Step
from tests.faults.publishing import SCENARIOS, SITES, Scenario, faults_after, memory
from tests.faults.replay import Tree, apply_step, flatten, read_disk, states, write_disk

BUILD_ON = 50
"""One state in so many is put on a disk."""


def record(scenario: Scenario, out: Path, can_exchange: bool) -> list[Step]:
    """The log of the act on a sound disk."""
    log: list[Step] = []
    with Layer(out, lambda *_: None, can_exchange=can_exchange, log=log).over():
        scenario.act(out)
    return log


def site_in(tree: Tree) -> str:
    """Which site a state holds, byte for byte."""
    site = tree.get("site")
    if not isinstance(site, dict):
        return "none"
    files = flatten(site)
    files.pop(MANIFEST, None)
    return next((name for name, pages in SITES.items() if files == pages and MANIFEST in site), "torn")


def lose_power(name: str, scenario: Scenario, can_exchange: bool, count: int, random: Random) -> tuple[int, int, int]:
    """States seen, states built upon, states at fault."""
    seen = built = wrong = 0
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        out, again = Path(folder, "out"), Path(folder, "again")
        out.mkdir()
        scenario.prepare(out)
        root = read_disk(out)
        allowed = scenario.may if can_exchange else scenario.may | {"none"}
        for number, step in enumerate(record(scenario, out, can_exchange)):
            apply_step(root, step)
            for state in states(root, random, count):
                found = [] if site_in(state) in allowed else [f"site: {site_in(state)}"]
                seen += 1
                if seen % BUILD_ON == 0:
                    write_disk(state, again)
                    found += faults_after(scenario, again, can_exchange)
                    built += 1
                    shutil.rmtree(again)
                wrong += bool(found)
                if found:
                    print(f"{name}, after step {number} ({step.kind} {step.path}): {'; '.join(found)}")
    return seen, built, wrong


def main() -> int:
    """Runs every scenario."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    random = Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    total, on_disk, faults = 0, 0, 0
    for can_exchange in (True, False):
        for name, scenario in SCENARIOS.items():
            seen, built, wrong = lose_power(name, scenario, can_exchange, count, random)
            print(f"{seen:>7,} states, {built:,} built upon, {wrong} wrong: {name}, {'one rename' if can_exchange else 'three renames'}")
            total, on_disk, faults = total + seen, on_disk + built, faults + wrong
    print(f"{total:>7,} states, {on_disk:,} built upon, {faults} wrong")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())

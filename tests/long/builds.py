"""Whole builds cut off at every step of the disk: ``python tests/long/builds.py [EVERY] [OFFSET] [MINUTES]``, 1 by default.

``handouts build`` of the small library over an older state of it, without sheets: killed before every EVERY-th
step, and with a full disk from that step on.  The site must be the old one or the new one, whole; a full disk
must be told with a mend and leave the old site; the next build must give the bytes of a clean one, keep the
old site as the previous one and leave nothing behind.
"""

from __future__ import annotations

import os
import shutil
import signal
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.faults.building import Building
from tests.faults.layer import Layer, Step
from tests.faults.publishing import memory
from tests.long.disk_full import failing

SPARE = 12
"""Steps left out at the end: the report holds seconds, so its length, and with it the writes of it, differ a little."""
FULL = "Free some space: a build needs room for another copy of the site."


def kill_at(building: Building, out: Path, number: int) -> list[str]:
    """A build in a process of its own, killed before a step."""

    def watch(index: int, step: Step) -> None:
        if index == number:
            os.kill(os.getpid(), signal.SIGKILL)

    child = os.fork()
    if child == 0:
        try:
            with Layer(out, watch).over():
                building.build("new", out)
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return [] if os.WIFSIGNALED(status) else [f"step {number} was never reached"]


def fill_at(building: Building, out: Path, number: int) -> list[str]:
    """A build on a disk that is full from a step on; what is kept between builds may be lost, and nothing else."""
    with Layer(out, failing(number, "no room from there on")).over():
        status, said = building.build("new", out)
    site = building.name_of(out / "site")
    if status == 0:
        return [] if site == "new" else [f"said to be done, but {site}"]
    after = "the new site is published, but the folder could not be tidied: " in said
    told = [] if status == 2 and (FULL in said) and "Traceback" not in said else [f"odd message: {said}"]
    return [*told, *([] if site == ("new" if after else "old") else [f"site: {site}"])]


def try_all(every: int, offset: int, minutes: float = 1000) -> tuple[int, int, int]:
    """Steps of a build, points tried, and those at which something was wrong."""
    points = wrong = 0
    end = time.monotonic() + 60 * minutes
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        building, out = Building(Path(folder, "home")), Path(folder, "out")
        building.prepare(out)
        layer = Layer(out, lambda *_: None)
        with layer.over():
            building.build("new", out)
        shutil.rmtree(out)
        for number in range(offset, layer.steps - SPARE, every):
            for kind, cut_off in (("killed before", kill_at), ("disk full from", fill_at)):
                building.prepare(out)
                found = [*cut_off(building, out, number), *building.faults_after(out)]
                if found:
                    print(f"{kind} step {number}: {'; '.join(found)}", flush=True)
                points, wrong = points + 1, wrong + bool(found)
                shutil.rmtree(out)
            if time.monotonic() > end:
                break
    return layer.steps, points, wrong


def main() -> int:
    """Runs and counts."""
    every, offset, minutes = (int(word) for word in (*sys.argv[1:], *("1", "0", "1000")[len(sys.argv) - 1 :]))
    steps, points, wrong = try_all(every, offset, minutes)
    print(f"a build of {steps:,} steps: {points:,} times cut off, {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

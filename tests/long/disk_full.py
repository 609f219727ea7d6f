"""A disk that fails at every step, and disks of every size: ``python tests/long/disk_full.py [EVERY]``, 1 by default.

First, every scenario of ``kills.py`` with an error in place of every EVERY-th step: no room once, no room from
there on, a faulty disk, no permission.  Then, as root, the same sites on disks in memory, in steps of 4 KiB up
to the size at which all fits.  Whatever comes: a problem with a mend, the old site as it was (or the new one
whole, and said so), nothing left over when there was no room, and the next build as if nothing had been.
"""

from __future__ import annotations

import errno
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.publishing.disk import PublishError
from tests.faults.layer import TAKES_ROOM, Layer, Step, Watch
from tests.faults.publishing import LASTING, SCENARIOS, Scenario, count_steps, faults_after, memory, name_of

KINDS = {"no room once": errno.ENOSPC, "no room from there on": errno.ENOSPC, "faulty disk": errno.EIO, "no permission": errno.EACCES}
PAGE = 4096
"""Bytes in which a disk in memory counts."""


def failing(number: int, kind: str) -> Watch:
    """Raises at a step; a full disk takes no more data from there on, but things can still be removed."""

    def watch(index: int, step: Step) -> None:
        lasting = kind == "no room from there on" and index > number and step.kind in TAKES_ROOM
        if index == number or lasting:
            raise OSError(KINDS[kind], os.strerror(KINDS[kind]))

    return watch


def try_act(scenario: Scenario, out: Path) -> tuple[str, list[str]]:
    """The act: how it ended (``done``, ``kept``, ``published``), and what was wrong with its message or the site."""
    before = scenario.before[-1] if scenario.before else "none"
    try:
        scenario.act(out)
        return "done", []
    except PublishError as refusal:
        what, mend = refusal.problem.what, refusal.problem.mend
        site = name_of(out / "site") if out.exists() else "none"
        if re.match("the (new|previous) site is published( again)?, but the folder could not be tidied: ", what):
            return "published", [] if site == "new" and mend else [f"said to be published, but {site}"]
        known = what.startswith("the folder cannot be written: ") and mend
        return "kept", [*([] if known else [f"odd message: {what}"]), *([] if site == before else [f"old site: {site}"])]
    except Exception as error:
        return "fault", [f"no problem but {error!r}"]


def fail_all(name: str, scenario: Scenario, can_exchange: bool, every: int) -> tuple[int, int]:
    """Errors tried and those after which something was wrong."""
    points = wrong = 0
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        steps = count_steps(scenario, Path(folder, "count"), can_exchange)
        for place, kind in enumerate(KINDS):
            for number in range(place % every, steps, every):
                out = Path(folder, "out")
                scenario.prepare(out)
                with Layer(out, failing(number, kind), can_exchange=can_exchange).over():
                    end, found = try_act(scenario, out)
                if end == "kept" and "room" in kind and out.exists():
                    found += [f"left over: {item.name}" for item in out.iterdir() if item.name not in LASTING]
                found += faults_after(scenario, out, can_exchange)
                if found:
                    print(f"{name}, {kind} at step {number}: {'; '.join(found)}")
                points, wrong = points + 1, wrong + bool(found)
                shutil.rmtree(out, ignore_errors=True)
    return points, wrong


def mount(folder: Path, size: int) -> bool:
    """A disk in memory of so many bytes; False where that is not allowed here."""
    command = ["mount", "-t", "tmpfs", "-o", f"size={size},mode=700", "tmpfs", str(folder)]
    return os.geteuid() == 0 and subprocess.run(command, capture_output=True, check=False).returncode == 0


def fill_disks(name: str, scenario: Scenario) -> tuple[int, int]:
    """Disks tried, from nothing to the first on which the act succeeds, and those at fault."""
    points = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        while mount(Path(folder), PAGE * (points + 1)):
            out, end = Path(folder, "out"), "kept"
            try:
                try:
                    scenario.prepare(out)
                except PublishError:
                    found = []  # not even the sites before fit
                else:
                    end, found = try_act(scenario, out)
                    found += [f"left over: {item.name}" for item in out.iterdir() if item.name not in LASTING and end == "kept"]
            finally:
                subprocess.run(["umount", folder], check=True)
            if found:
                print(f"{name}, disk of {points + 1} pages: {'; '.join(found)}")
            points, wrong = points + 1, wrong + bool(found)
            if end == "done":
                break
    return points, wrong


def main() -> int:
    """Runs every scenario."""
    every = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    total = faults = 0
    for can_exchange in (True, False):
        for name, scenario in SCENARIOS.items():
            points, wrong = fail_all(name, scenario, can_exchange, every)
            print(f"{points:>6,} errors, {wrong} wrong: {name}, {'one rename' if can_exchange else 'three renames'}")
            total, faults = total + points, faults + wrong
    for name, scenario in SCENARIOS.items():
        points, wrong = fill_disks(name, scenario) if every == 1 else (0, 0)
        print(f"{points:>6,} disks, {wrong} wrong: {name}")
        total, faults = total + points, faults + wrong
    print(f"{total:>6,} tried, {faults} wrong")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())

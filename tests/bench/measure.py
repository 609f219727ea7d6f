"""One measured run of a command: seconds by the clock, of the processor, and peak memory; ratios with their spread."""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

_SMALL = """import json, resource, subprocess, sys
code = subprocess.call(sys.argv[1:])
used = resource.getrusage(resource.RUSAGE_CHILDREN)
print()
print(json.dumps([used.ru_utime + used.ru_stime, used.ru_maxrss]))
sys.exit(code)"""
"""Starts a command from a small process: a child's peak memory begins with that of the process that started it."""


@dataclass(frozen=True, slots=True)
class Run:
    """What a command took; the processor's time is that of the command and of the children it waited for."""

    seconds: float
    processor: float
    megabytes: float


@dataclass(slots=True)
class Report:
    """Rows of a table: part, what, value, unit."""

    rows: list[tuple[str, str, float, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def add(self, part: str, what: str, value: float, unit: str) -> None:
        """A row, printed at once: a long run can be followed."""
        self.rows.append((part, what, round(value, 4), unit))
        print(f"{part:<9} {what:<58} {value:>10.3f} {unit}", flush=True)

    def ratio(self, part: str, what: str, above: Sequence[float], below: Sequence[float]) -> None:
        """The median of paired ratios, with the least and the greatest."""
        pairs = [one / other for one, other in zip(above, below, strict=True)]
        self.add(part, f"{what} ({min(pairs):.2f} to {max(pairs):.2f})", statistics.median(pairs), "times")

    def note(self, text: str) -> None:
        """A line that is no number."""
        self.notes.append(text)
        print(f"          {text}", flush=True)


def run(words: Sequence[str | Path], folder: Path | None = None, env: Mapping[str, str] | None = None) -> Run:
    """Runs a command to its end; RuntimeError with what it said where it fails."""
    began = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", _SMALL, *(str(word) for word in words)],
        cwd=folder, env={**os.environ, **(env or {})}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode:
        raise RuntimeError(f"{words[0]} ended with {done.returncode}: {(done.stdout + done.stderr)[-2000:]}")
    processor, kilobytes = json.loads(done.stdout.splitlines()[-1])
    return Run(time.perf_counter() - began, processor, kilobytes / 1024)

"""How ``handouts build --verify`` shows that a build gives the same bytes each time: it builds twice and compares.

The second build reads a copy of the library that was written in another order to another folder, with another
hash seed, time zone and language of the machine, and with two workers in place of one.  Nothing is kept from one
to the other, and nothing is published.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from itertools import zip_longest
from pathlib import Path
from random import Random

from handouts.build.settings import Settings
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_json, print_problems
from handouts.problems import has_errors
from handouts.publishing.disk import write_files
from handouts.publishing.manifest import read_manifest
from handouts.source.bases import read_with_base

PACKAGES = Path(__file__).parents[2]
"""Where the program itself is found by its second self."""
FIRST: Mapping[str, str] = {"PYTHONHASHSEED": "1", "TZ": "UTC", "LC_ALL": "C.UTF-8"}
SECOND: Mapping[str, str] = {"PYTHONHASHSEED": "2026", "TZ": "Pacific/Kiritimati", "LC_ALL": "C"}
SHOWN_CHARACTERS = 160
"""How much of a line that differs is printed."""


def run(settings: Settings, arguments: argparse.Namespace) -> int:
    """Build twice and compare."""
    files, problems = read_with_base(settings.library, settings.library.name)
    if has_errors(problems):
        print_problems(problems)
        return HAS_PROBLEMS if files else CANNOT_RUN
    with tempfile.TemporaryDirectory(prefix="handouts-verify-") as scratch:
        first, second = (Path(scratch, name) for name in ("first", "second"))
        other = Path(scratch, *"abcdefghijkl", "library")  # a base may lie beside a folder above
        place = other
        for layer in files.layers():
            shuffled = sorted(layer.items())
            Random(2026).shuffle(shuffled)
            write_files(place, shuffled)
            place = Path(os.path.normpath(place / layer.path))
        builds = ((settings.library, first, 1, FIRST), (other, second, 2, SECOND))
        with settings.progress.stage("building twice", 2) as stage:
            for library, out, jobs, environment in builds:
                done = _build(library, out, jobs, environment, settings)
                if done.returncode:
                    break
                stage.done()
        if done.returncode:
            print(done.stderr or done.stdout, end="", file=sys.stderr)
            return done.returncode
        count, differing = compare_sites(first / "site", second / "site")
        said = say_difference(first / "site", second / "site", count, differing)
    if arguments.json:
        print_json("build --verify", {"files": count, "differing": list(differing)})
    else:
        print(said)
    return HAS_PROBLEMS if differing else DONE


def _build(
    library: Path, out: Path, jobs: int, environment: Mapping[str, str], settings: Settings
) -> subprocess.CompletedProcess[str]:
    """One build in a process of its own, which starts in the folder around its output."""
    command = [sys.executable, "-m", "handouts", "build", str(library.resolve()), "--to", str(out), "--quiet"]
    command += ["--no-cache", "--jobs", str(jobs), "--today", settings.today.isoformat()]
    command += [] if settings.paper else ["--no-paper"]
    command += ["--review"] if settings.review else []
    paths = os.pathsep.join(filter(None, (str(PACKAGES), os.environ.get("PYTHONPATH", ""))))
    given = {**os.environ, **environment, "PYTHONPATH": paths}
    return subprocess.run(command, cwd=out.parent, env=given, capture_output=True, text=True, check=False)


def compare_sites(first: Path, second: Path) -> tuple[int, tuple[str, ...]]:
    """How many files there are in either site, and which of them differ or stand in one only."""
    one, other = (read_manifest(site) or {} for site in (first, second))
    paths = sorted({*one, *other})
    return len(paths), tuple(path for path in paths if one.get(path) != other.get(path))


def say_difference(first: Path, second: Path, count: int, differing: tuple[str, ...]) -> str:
    """The outcome in words, with the first difference."""
    if not differing:
        return (
            f"Two builds gave the same {count} files, byte for byte: in another order of files, folder, hash seed, "
            "time zone and language of the machine, with one worker and with two. Nothing was published."
        )
    head = f"Two builds differ in {len(differing)} of {count} files. The first is '{differing[0]}'"
    for name, site in (("first", second), ("second", first)):
        if not (site / differing[0]).exists():
            return f"{head}, which only the {name} build made. Nothing was published."
    return f"{head}, {_say_place((first / differing[0]).read_bytes(), (second / differing[0]).read_bytes())}"


def _say_place(one: bytes, other: bytes) -> str:
    """Where two files begin to differ: a line with both texts, or a byte."""
    place = next(number for number, (left, right) in enumerate(zip_longest(one, other)) if left != right)
    try:
        texts = [data.decode().splitlines() for data in (one, other)]
    except UnicodeDecodeError:
        return f"from byte {place + 1:,} on. Nothing was published."
    line = one[:place].count(b"\n")
    shown = [text[line][:SHOWN_CHARACTERS] if line < len(text) else "(the file has ended)" for text in texts]
    return f"line {line + 1}:\n  first build:  {shown[0]}\n  second build: {shown[1]}\nNothing was published."

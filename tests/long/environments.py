"""The same library in other surroundings: ``python tests/long/environments.py [paper] [LIBRARY]``.

Builds the small library (or LIBRARY) once plainly and once in each surrounding, each in a process of its own
with nothing kept, and compares every byte of the sites; with ``paper`` the sheets too.  Ends with 1 where a site
differs or is not built.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.publishing.manifest import find_damage, read_manifest
from tests.small_library import TEXTS

ROOT = Path(__file__).parents[2]
DAY = "2026-11-25"
TEN_YEARS = 3652 * 86400
CLOCK = f"""\
import datetime, time
real = time.time
time.time = lambda: real() + {TEN_YEARS}
time.time_ns = lambda: int(time.time() * 1e9)
class Moment(datetime.datetime):
    @classmethod
    def now(cls, tz=None):
        return cls.fromtimestamp(time.time(), tz)
    utcnow = today = now
datetime.datetime = Moment
"""
"""Ten years ahead, for all that asks Python for the time (as ``sitecustomize``)."""


@dataclass(frozen=True)
class Run:
    """How one build is run."""

    library: Path
    out: Path
    environment: Mapping[str, str] = field(default_factory=lambda: dict(os.environ))
    folder: Path = ROOT
    words: tuple[str, ...] = ("--jobs", "1", "--today", DAY)
    umask: int = -1
    before: tuple[str, ...] = ()
    """A command that runs the build."""

    def with_environment(self, **names: str) -> Run:
        """The same with more in its environment."""
        return replace(self, environment={**self.environment, **names})


Change = Callable[[Run, Path], Run]


def copied(run: Run, target: Path, seed: int = 0) -> Run:
    """The library in another folder, its files written in another order."""
    paths = sorted(path for path in run.library.rglob("*") if path.is_file())
    Random(seed).shuffle(paths)
    for path in paths:
        place = target / path.relative_to(run.library)
        place.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, place)
    return replace(run, library=target)


def without_home(run: Run, scratch: Path) -> Run:
    """No home folder and no user's name."""
    gone = ("HOME", "USER", "LOGNAME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "LANG", "LC_ALL", "TERM")
    return replace(run, environment={name: value for name, value in run.environment.items() if name not in gone})


def other_clock(run: Run, scratch: Path) -> Run:
    """The machine's clock ten years ahead, files from ten years ago and from the future."""
    moved = copied(run, scratch / "clock")
    for number, path in enumerate(sorted(moved.library.rglob("*"))):
        moment = datetime(2026, 11, 25, tzinfo=UTC).timestamp() + (TEN_YEARS if number % 2 else -TEN_YEARS)
        os.utime(path, (moment, moment))
    (scratch / "early").mkdir()
    (scratch / "early" / "sitecustomize.py").write_text(CLOCK, encoding="utf-8")
    return moved.with_environment(PYTHONPATH=os.pathsep.join((str(scratch / "early"), str(ROOT))))


def read_only(run: Run, scratch: Path) -> Run:
    """A library that cannot be written; root, whom rights do not bind, gets it mounted so."""
    moved = copied(run, scratch / "read-only")
    for path in moved.library.rglob("*"):
        path.chmod(0o555 if path.is_dir() else 0o444)
    moved.library.chmod(0o555)
    if os.geteuid() != 0:
        return moved
    folder = str(moved.library)
    script = 'mount --bind "$0" "$0" && mount -o remount,bind,ro "$0" && ! touch "$0/x" 2>/dev/null && exec "$@"'
    return replace(moved, before=("unshare", "--mount", "sh", "-c", script, folder))


def after_another(run: Run, scratch: Path) -> Run:
    """Into a folder where another state of the library was built before."""
    before = copied(run, scratch / "before")
    for path in before.library.rglob("exercises/*.md"):
        path.write_text(path.read_text(encoding="utf-8").replace("rest: 60 s", "rest: 40 s"), encoding="utf-8")
    build(replace(before, out=run.out))
    return run


def date_of_sources(run: Run, scratch: Path) -> Run:
    """The day from SOURCE_DATE_EPOCH (reproducible-builds.org) in place of the option."""
    moment = datetime.fromisoformat(f"{DAY}T23:59:00+00:00")
    return replace(run.with_environment(SOURCE_DATE_EPOCH=str(int(moment.timestamp()))), words=run.words[:2])


SURROUNDINGS: Mapping[str, Change] = {
    "again": lambda run, _: run,
    "language of the machine": lambda run, _: run.with_environment(LC_ALL="C", LANG="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0"),
    "another language": lambda run, _: run.with_environment(LC_ALL="tr_TR.UTF-8", LANGUAGE="tr:ar"),
    "time zone": lambda run, _: run.with_environment(TZ="Pacific/Kiritimati"),
    "hash seed": lambda run, _: run.with_environment(PYTHONHASHSEED="77"),
    "folder it is started in": lambda run, _: replace(run, folder=Path("/")),
    "rights of new files": lambda run, _: replace(run, umask=0o077),
    "no home": without_home,
    "order of files": lambda run, scratch: copied(run, scratch / "order", 9),
    "two workers": lambda run, _: replace(run, words=("--jobs", "2", *run.words[2:])),
    "date of sources": date_of_sources,
    "clock": other_clock,
    "path of the library": lambda run, scratch: copied(run, scratch / "a b" / "Übungen für später" / "x" / "bibliothèque"),
    "library that is read only": read_only,
    "kept from another state": after_another,
}


def build(run: Run, paper: bool = False) -> str:
    """One build; what it complained of, or nothing."""
    command = [*run.before, sys.executable, "-m", "handouts", "build", str(run.library), "--to", str(run.out), "--quiet", *run.words]
    paths = os.pathsep.join(filter(None, (run.environment.get("PYTHONPATH", ""), str(ROOT))))
    done = subprocess.run(
        command if paper else [*command, "--no-paper"], cwd=run.folder, env={**run.environment, "PYTHONPATH": paths},
        umask=run.umask, capture_output=True, text=True, check=False,
    )  # fmt: skip
    return "" if done.returncode == 0 else f"status {done.returncode}: {(done.stderr or done.stdout).strip()}"


def compare(names: list[str], paper: bool, library: Path | None = None) -> tuple[int, list[str]]:
    """How many files the site has, and each surrounding in which it is another."""
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        home = library or Path(folder, "library")
        for path, text in {} if library else TEXTS.items():
            (home / path).parent.mkdir(parents=True, exist_ok=True)
            (home / path).write_text(text, encoding="utf-8")
        plain = Run(home.resolve(), Path(folder, "plain"))
        fault = build(plain, paper)
        expected = read_manifest(plain.out / "site") or {}
        if fault or not expected:
            raise RuntimeError(f"the plain build did not succeed: {fault}")
        for number, name in enumerate(names):
            scratch = Path(folder, str(number))
            scratch.mkdir()
            run = SURROUNDINGS[name](replace(plain, out=scratch / "out"), scratch)
            fault = build(run, paper)
            found = read_manifest(run.out / "site") or {}
            differing = [path for path in sorted({*expected, *found}) if expected.get(path) != found.get(path)]
            said = fault or find_damage(run.out / "site") or (f"differs: {', '.join(differing[:5])}" if differing else "same")
            print(f"{len(found):>6} files, {name}: {said}", flush=True)
            wrong += [] if said == "same" else [f"{name}: {said}"]
            shutil.rmtree(scratch)
    return len(expected), wrong


def main() -> int:
    """Every surrounding."""
    words = sys.argv[1:]
    library = next((Path(word) for word in words if word != "paper"), None)
    count, wrong = compare(list(SURROUNDINGS), "paper" in words, library)
    print(f"{len(SURROUNDINGS)} surroundings, {count} files, {len(wrong)} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

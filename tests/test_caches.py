"""What is kept between builds stands in one place, the platform's or the one that is told, and nowhere where nothing is to be kept."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from handouts.build.caches import find_cache, find_home
from handouts.cli import main
from handouts.publishing.manifest import MANIFEST
from tests.small_library import TEXTS
from tests.test_cli import write
from tests.test_layers import PACKAGE

DAY = "--today=2026-11-25"
CHANGES = 20
Files = set[str]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of caches of a person."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("HANDOUTS_CACHE", raising=False)
    write(tmp_path / "lib")
    return tmp_path / "home" / "handouts"


def build(folder: Path, *options: str, out: str = "out") -> None:
    """A build without sheets."""
    assert main(["build", str(folder / "lib"), f"--to={folder / out}", "--no-paper", "--jobs=1", "--quiet", DAY, *options]) == 0


def files(folder: Path) -> Files:
    """Everything in a folder."""
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


def test_one_folder_for_each_output(tmp_path: Path, home: Path) -> None:
    """Neither the library nor the output holds what is kept; the folder of an output that is gone goes with the next build."""
    library = files(tmp_path / "lib")
    build(tmp_path)
    assert [path.parent for path in home.glob("*/reads")] == [find_cache(tmp_path / "out")]
    assert (files(tmp_path / "lib"), (tmp_path / "out/.cache").exists()) == (library, False)
    build(tmp_path, out="other")
    assert len(list(home.iterdir())) == 2
    (tmp_path / "out").rename(tmp_path / "gone")
    build(tmp_path, "--review", out="other")
    assert list(home.iterdir()) == [find_cache(tmp_path / "other")]


def test_what_former_versions_kept_goes(tmp_path: Path, home: Path) -> None:
    """Their folders in the output; what another command wrote down there stays."""
    for place in ("figures/ab/c", "results/journal", "plan.json", "written/ab/c"):
        (tmp_path / "out/.cache" / place).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "out/.cache" / place).touch()
    build(tmp_path)
    assert files(tmp_path / "out/.cache") == {"written/ab/c"}
    assert home.exists()


def test_told(tmp_path: Path, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """``--cache`` before HANDOUTS_CACHE, that before the platform's, with a record for each library; with ``--no-cache`` nothing is written or used."""
    build(tmp_path, f"--cache={tmp_path / 'told'}")
    assert ((tmp_path / "told/reads").exists(), home.exists()) == (True, False)
    monkeypatch.setenv("HANDOUTS_CACHE", str(tmp_path / "shared"))
    build(tmp_path, "--no-cache", out="other")
    assert not (tmp_path / "shared").exists()
    build(tmp_path, out="more")
    (tmp_path / "lib").rename(tmp_path / "lib of another clinic")
    write(tmp_path / "lib")
    assert main(["build", str(tmp_path / "lib of another clinic"), f"--to={tmp_path / 'more'}", "--no-paper", "--jobs=1", "--quiet", DAY]) == 0
    assert (len(list((tmp_path / "shared").glob("reads-*"))), home.exists()) == (2, False)


def test_check_writes_nothing_else(tmp_path: Path, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A check keeps its results in the one place, and with ``--no-cache`` leaves no trace."""
    monkeypatch.chdir(tmp_path)
    before = files(tmp_path)
    assert main(["check", "lib", "--no-cache", DAY]) == 0
    assert files(tmp_path) == before
    assert main(["check", "lib", DAY]) == 0
    assert {path for path in files(tmp_path) - before if not path.startswith("home/handouts/")} == set()
    assert list(home.glob("*/results/journal"))


def test_nowhere_to_keep(tmp_path: Path, home: Path) -> None:
    """A place that cannot be written is no fault."""
    home.parent.mkdir()
    home.touch()
    build(tmp_path)
    assert home.is_file()


@pytest.mark.parametrize(("system", "names", "expected"), [
    ("linux", {"XDG_CACHE_HOME": "/x/y"}, "/x/y/handouts"),
    ("linux", {"XDG_CACHE_HOME": "relative"}, "/me/.cache/handouts"),
    ("linux", {}, "/me/.cache/handouts"),
    ("darwin", {"XDG_CACHE_HOME": "/x/y"}, "/me/Library/Caches/handouts"),
    ("win32", {"LOCALAPPDATA": "/data"}, "/data/handouts"),
    ("win32", {}, "/me/AppData/Local/handouts"),
])
def test_places_of_platforms(monkeypatch: pytest.MonkeyPatch, system: str, names: dict[str, str], expected: str) -> None:
    """XDG Base Directory Specification 0.8; Apple's and Microsoft's folders from memory."""
    for name in ("XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    for name, value in {"HOME": "/me", **names}.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr("sys.platform", system)
    assert str(find_home()) == expected


def size(*folders: Path) -> int:
    """Bytes on the disk: a file with several names counts once."""
    found = {status.st_ino: status.st_size for folder in folders for path in folder.rglob("*") if path.is_file() and (status := path.lstat())}
    return sum(found.values())


def test_it_does_not_grow(tmp_path: Path, home: Path) -> None:
    """However often a word changes, what is kept and published stays below twice what two builds need; ``tests/long/growth.py`` has sheets too."""
    place, sizes = tmp_path / "lib/exercises/foot-lift.md", list[int]()
    for number in range(CHANGES):
        place.write_text(TEXTS["exercises/foot-lift.md"].replace("Sit tall.", f"Sit tall, {number} times."))
        build(tmp_path)
        sizes.append(size(home, tmp_path / "out"))
    assert max(sizes) < 2 * sizes[1]  # of two states


@pytest.mark.paper
def test_nothing_stands_elsewhere(tmp_path: Path, home: Path) -> None:
    """A build with sheets and two workers leaves files in its output and in its cache only, and a published file is the kept one."""
    clinic = tmp_path / "lib/clinic.yaml"
    clinic.write_text(clinic.read_text().replace("papers: [letter, a4]", "papers: [a4]"))
    passing = tempfile.TemporaryDirectory(prefix="p")  # in a folder with a short name: the processes of a build talk through a socket in it
    before = files(tmp_path)
    words = [sys.executable, "-m", "handouts", "build", "lib", "--to=out", "--jobs=2", "--quiet", DAY]
    environment = {**os.environ, "HOME": str(tmp_path), "TMPDIR": passing.name, "PYTHONPATH": str(PACKAGE.parent), "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run(words, cwd=tmp_path, env=environment, check=False, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    assert not list(Path(passing.name).iterdir())
    passing.cleanup()
    assert {path for path in files(tmp_path) - before if not path.startswith(("home/handouts/", "out/"))} == set()
    kept = {path.stat().st_ino for path in home.rglob("objects/*/*")}
    site = {path.relative_to(tmp_path / "out/site").as_posix(): path.stat().st_ino for path in (tmp_path / "out/site").rglob("*") if path.is_file()}
    assert [path for path, inode in site.items() if inode not in kept] == [MANIFEST]
    assert sum(path.endswith(".pdf") for path in site) > 5

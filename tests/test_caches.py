"""What is kept between builds stands in one place, the platform's or the one that is told, and nowhere where nothing is to be kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts.build.caches import find_cache, find_home
from handouts.cli import main
from tests.small_library import TEXTS
from tests.test_cli import write

DAY = "--today=2026-11-25"
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
    """``--cache`` before HANDOUTS_CACHE, that before the platform's; with ``--no-cache`` nothing is written or used."""
    build(tmp_path, f"--cache={tmp_path / 'told'}")
    assert ((tmp_path / "told/reads").exists(), home.exists()) == (True, False)
    monkeypatch.setenv("HANDOUTS_CACHE", str(tmp_path / "shared"))
    build(tmp_path, "--no-cache", out="other")
    assert not (tmp_path / "shared").exists()
    build(tmp_path, out="more")
    assert ((tmp_path / "shared/reads").exists(), home.exists()) == (True, False)


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


def test_it_does_not_grow(tmp_path: Path, home: Path) -> None:
    """However often a word changes, what is kept stays below twice what two builds need."""
    place = tmp_path / "lib/exercises/foot-lift.md"

    def size() -> int:
        return sum(path.stat().st_size for path in home.rglob("*") if path.is_file())

    sizes = []
    for number in range(12):
        place.write_text(TEXTS["exercises/foot-lift.md"].replace("Sit tall.", f"Sit tall, {number} times."))
        build(tmp_path)
        sizes.append(size())
    assert max(sizes) < 2 * sizes[1]  # of two states

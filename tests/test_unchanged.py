"""A build of what is published already makes nothing; whatever a build depends on makes it build again."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from handouts.build import inputs
from handouts.build.caches import find_cache
from handouts.build.published import stands_whole
from handouts.cli import main
from handouts.publishing.manifest import MANIFEST
from tests.small_library import EXERCISE
from tests.test_cli import ROOT, write

DAY = "2026-11-25"
SAID = "Nothing has changed"


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """A folder with a library in ``lib`` and what was built of it in ``out``."""
    write(tmp_path / "lib")
    assert build(tmp_path) == 0
    assert SAID not in capsys.readouterr().out
    return tmp_path


def build(folder: Path, *options: str, today: str = DAY) -> int:
    """Build the library without sheets."""
    return main(["build", str(folder / "lib"), "--to", str(folder / "out"), "--no-paper", "--jobs=1", f"--today={today}", *options])


def test_nothing_has_changed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The site is not touched, the problems are told again, and tools read it in the report."""
    before = (folder / "out" / "site").stat().st_ino
    assert build(folder) == 0
    told = capsys.readouterr()
    assert told.out.startswith(f"{SAID}: the 20 pages and 0 PDFs stay as they are.\nOpen file://")
    assert (folder / "out" / "site").stat().st_ino == before
    assert build(folder, "--json") == 0
    assert json.loads(capsys.readouterr().out)["unchanged"] is True


def test_notices_are_told_again(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A notice of the last build is still true."""
    (folder / "lib/exercises/lone.md").write_text(EXERCISE.format(code="C222", title="Lone lift", tier="wake", after=""))
    assert build(folder) == 0
    first = capsys.readouterr()
    assert "[in-no-programme]" in first.err
    assert build(folder) == 0
    second = capsys.readouterr()
    assert SAID in second.out and second.err == first.err


def edit_library(folder: Path, _: pytest.MonkeyPatch) -> None:
    """One letter, and the file keeps its size and times."""
    path = folder / "lib/tiers.yaml"
    status = path.stat()
    path.write_text(path.read_text().replace("Wake", "Walk"))
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns))


def edit_template(_: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another style sheet."""
    files = inputs.read_templates()
    monkeypatch.setattr(inputs, "read_templates", lambda: {**files, "styles/screen.css": files["styles/screen.css"] + b"\n"})


def edit_program(_: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another version of the program, or of a package."""
    monkeypatch.setattr(inputs, "whole_digest", lambda: "other")


def lose_page(folder: Path, _: pytest.MonkeyPatch) -> None:
    """A page is gone from the published site."""
    (folder / "out/site/en/index.html").unlink()


def touch_page(folder: Path, _: pytest.MonkeyPatch) -> None:
    """Someone wrote into a published page, in as many letters."""
    page = folder / "out/site/en/index.html"
    page.write_bytes(page.read_bytes().replace(b"Test Clinic", b"Text Clinic"))
    after = (folder / "out/site" / MANIFEST).stat().st_mtime_ns + 1_000_000
    os.utime(page, ns=(after, after))


def add_page(folder: Path, _: pytest.MonkeyPatch) -> None:
    """A file that no build wrote stands in the published site."""
    (folder / "out/site/stray.html").write_text("x")


def lose_report(folder: Path, _: pytest.MonkeyPatch) -> None:
    """The manifest is of another build than the report."""
    path = folder / "out/site" / MANIFEST
    path.write_bytes(path.read_bytes() + b"\n")


@pytest.mark.parametrize("change", [edit_library, edit_template, edit_program, lose_page, touch_page, add_page, lose_report])
def test_anything_else_builds(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], change: Callable[[Path, pytest.MonkeyPatch], None]
) -> None:
    """Each kind of change is seen, and after that build nothing has changed again."""
    change(folder, monkeypatch)
    assert build(folder) == 0
    assert SAID not in capsys.readouterr().out
    assert build(folder) == 0
    assert SAID in capsys.readouterr().out


def test_day_and_options_count(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Another day, or other options, is another build."""
    for options, today in (([], "2026-11-26"), (["--review"], "2026-11-26")):
        assert build(folder, *options, today=today) == 0
        assert SAID not in capsys.readouterr().out


def test_changed_on_the_way(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """A library that is edited while it is built is not taken for what the site was made from."""
    from handouts.commands import making

    edit_library(folder, monkeypatch)
    seen = iter([{"a": "before"}, {"a": "after"}])
    monkeypatch.setattr(making, "read_inputs", lambda _: next(seen))
    assert build(folder) == 0
    assert json.loads((folder / "out/report.json").read_text())["made from"] == ""


def test_nothing_that_makes_is_imported(folder: Path) -> None:
    """Neither templates nor figures nor locales are loaded to say that nothing has changed."""
    code = (
        "import sys\nfrom handouts.cli import main\n"
        f"main(['build', {str(folder / 'lib')!r}, '--to', {str(folder / 'out')!r}, '--no-paper', '--today={DAY}'])\n"
        "print(sorted({'jinja2', 'numpy', 'babel', 'yaml', 'handouts.build.pipeline'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert SAID in done.stdout and done.stdout.endswith("\n[]\n")


def test_no_site_stands(tmp_path: Path) -> None:
    """Where nothing is published nothing is whole."""
    assert not stands_whole(tmp_path)


def test_what_a_killed_build_left_goes(folder: Path) -> None:
    """Half-written results and records, also where nothing is to be made."""
    cache = find_cache(folder / "out")
    assert cache is not None
    half = [cache / place / ".new/abc.1" for place in ("results", "")]
    for path in half:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
    assert build(folder) == 0
    assert not any(path.exists() for path in half)

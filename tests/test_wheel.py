"""The wheel carries all that a new user needs, works outside the checkout, and is the same bytes each time."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from handouts.cli import main
from tests.kept import shared_results

ROOT = Path(__file__).parents[1]


def build(folder: Path) -> Path:
    """A wheel of the checkout."""
    command = [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = folder.glob("*.whl")
    return wheel


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One wheel for the tests of this file."""
    return build(tmp_path_factory.mktemp("wheel"))


def test_wheel_carries_templates_fonts_and_starter(wheel: Path) -> None:
    """Every file of templates/ and every interface catalogue is inside, and no test is."""
    inside = set(zipfile.ZipFile(wheel).namelist())
    listed = subprocess.run(["git", "ls-files", "templates", "handouts"], cwd=ROOT, capture_output=True, text=True, check=True)
    for name in filter(None, listed.stdout.split("\n")):
        if (ROOT / name).exists():
            assert name.replace("templates/", "handouts/_templates/", 1) in inside or name in inside, name
    assert not any(name.startswith("tests/") for name in inside)


def test_the_example_is_whole_and_has_codes_of_its_own(wheel: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The demo library comes out of the wheel with every translation, under codes that no other clinic has."""
    zipfile.ZipFile(wheel).extractall(tmp_path / "site")
    environment = {**os.environ, "PYTHONPATH": str(tmp_path / "site")}
    command = [sys.executable, "-m", "handouts"]
    said = [
        subprocess.run([*command, *words], cwd=tmp_path, env=environment, capture_output=True, text=True, check=True).stdout
        for words in (["start", "ours", "--example"], ["words", "state", "ours"], ["guide", "operations"])
    ]
    with shared_results():
        assert main(["words", "state", "--library", str(ROOT / "content")]) == 0
    assert re.search(r"the demo library, \d+ exercises of an invented clinic", said[0])
    totals = [re.findall(r"^\S+  .*: \d+ texts, .*$", text, re.MULTILINE) for text in (said[1], capsys.readouterr().out)]
    assert totals[0] == totals[1] and len(totals[0]) == 5
    assert said[2].startswith("# Running it for years")
    ours, theirs = ({code for path in folder.glob("*/*.md") for code in re.findall("^code: (.*)$", path.read_text(), re.MULTILINE)} for folder in (tmp_path / "ours", ROOT / "content"))
    assert len(ours) == len(theirs) > 40 and not ours & theirs
    assert not (tmp_path / "ours/ledger.yaml").exists()


def test_wheel_works_outside_the_checkout(wheel: Path, tmp_path: Path) -> None:
    """Unpacked elsewhere, it starts a library and finds no problem in it."""
    zipfile.ZipFile(wheel).extractall(tmp_path / "site")
    environment = {**os.environ, "PYTHONPATH": str(tmp_path / "site")}
    for words in (["start", "ours"], ["check", "ours", "--today=2026-11-25"], ["build", "ours", "--no-paper", "--today=2026-11-25"]):
        done = subprocess.run(
            [sys.executable, "-m", "handouts", *words], cwd=tmp_path, env=environment, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stdout + done.stderr
    assert (tmp_path / "build/site/en/exercises/sit-to-stand/index.html").exists()


def test_same_wheel_twice(wheel: Path, tmp_path: Path) -> None:
    """Two builds give the same bytes."""
    again = build(tmp_path)
    assert hashlib.sha256(again.read_bytes()).hexdigest() == hashlib.sha256(wheel.read_bytes()).hexdigest()

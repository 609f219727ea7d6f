"""Order in the sources: ruff and mypy find nothing, and no file names a place outside the project."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
TEXTS = {".py", ".md", ".toml", ".yaml", ".html", ".css", ".js", ".json", ".po", ".lock", ".txt", ".sh", ""}


def run(*words: str) -> str:
    """What a tool of the project's environment says; empty where it finds nothing."""
    done = subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, check=False)
    return "" if done.returncode == 0 else done.stdout + done.stderr


def tracked() -> list[Path]:
    """Every text file that is committed or about to be."""
    said = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return [path for name in said.stdout.split("\n") if name and (path := ROOT / name).is_file() and path.suffix in TEXTS]


def test_ruff() -> None:
    """Style and common faults."""
    assert run("ruff", "check", "handouts", "tests") == ""


def test_mypy() -> None:
    """Types, strictly."""
    assert run("mypy") == ""


def test_no_address_of_a_registry_or_a_machine() -> None:
    """No committed file names a package registry's host or a folder of one machine."""
    hosts = "pypi" + r"\.org|files\.python" + r"hosted\.org|registry\." + r"npmjs\.org|deb\." + r"debian\.org"
    places = r"/ho" + r"me/\w+/|/Us" + r"ers/\w+/|/wo" + r"rk/(?:main|shared)"
    found = [
        f"{path.relative_to(ROOT)}: {match.group()}"
        for path in tracked()
        for match in re.finditer(f"{hosts}|{places}", path.read_text(encoding="utf-8", errors="replace"))
    ]
    assert found == []

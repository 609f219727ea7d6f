"""A whole build of the small library over an older one, to be cut off at any step of the disk."""

from __future__ import annotations

import contextlib
import io
import shutil
from collections.abc import Mapping
from pathlib import Path

from handouts.cli import main
from handouts.publishing.manifest import find_damage, site_digest
from handouts.store.whole_file import FRESH
from tests.faults.publishing import LASTING
from tests.small_library import EXERCISE, TEXTS

TODAY = "2026-11-25"
ADDED = EXERCISE.format(code="C222", title="Longer lift", tier="live", after="after: [leg-lift]\n")
LIBRARIES: Mapping[str, Mapping[str, str]] = {
    "older": {**TEXTS, "clinic.yaml": TEXTS["clinic.yaml"].replace("555-0100", "555-0188")},
    "old": TEXTS,
    "new": {**TEXTS, "exercises/longer-lift.md": ADDED, "clinic.yaml": TEXTS["clinic.yaml"].replace("555-0100", "555-0199")},
}
"""Texts of the library in three states; the last has an exercise with a figure more."""


class Building:
    """The library on the disk, and a folder in which the older and the old state were built."""

    def __init__(self, home: Path) -> None:
        self.home, self.before = home, home / "before"
        self.names: dict[str, str] = {}
        for name, texts in LIBRARIES.items():
            for path, text in texts.items():
                (home / name / path).parent.mkdir(parents=True, exist_ok=True)
                (home / name / path).write_text(text, encoding="utf-8")
        for name in ("older", "old"):
            self._build(name, self.before)
        self._build("new", home / "clean")

    def _build(self, name: str, out: Path) -> None:
        status, said = self.build(name, out)
        if status:
            raise RuntimeError(said)
        self.names[site_digest(out / "site")] = name

    def build(self, name: str, out: Path) -> tuple[int, str]:
        """One build: its status and what it said."""
        said = io.StringIO()
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
            status = main(["build", str(self.home / name), "--to", str(out), "--no-paper", "--quiet", "--jobs", "1", "--today", TODAY, f"--cache={out / '.cache'}"])
        return status, said.getvalue()

    def prepare(self, out: Path) -> None:
        """A copy of the folder as it was before."""
        shutil.copytree(self.before, out)

    def name_of(self, site: Path) -> str:
        """Which site stands in a folder, whole, or what is wrong with it."""
        return find_damage(site) or self.names.get(site_digest(site), "a strange site")

    def faults_after(self, out: Path) -> list[str]:
        """What is wrong after a build was cut off, and after the next one."""
        site = self.name_of(out / "site")
        found = [] if site in ("old", "new") else [f"site: {site}"]
        status, said = self.build("new", out)
        found += [f"next build: status {status}: {said}"] if status else []
        for place, expected in (("site", "new"), (".previous", "old")):
            stands = self.name_of(out / place)
            found += [] if stands == expected else [f"{place}: {stands}, not {expected}"]
        left = {item.name for item in out.iterdir()} - LASTING - {".cache"}
        half = [path.name for folder in (out / ".cache").rglob(FRESH) for path in folder.iterdir()]
        return [*found, *(f"left over: {name}" for name in (*sorted(left), *half))]

"""A base and clinics that stand on it, as folders beside one another."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import polib

from handouts.cli import main
from tests.small_library import CLINIC, TEXTS
from tests.words.sample import STOP, turn

DAY = "2026-11-25"
BASE = {**TEXTS, "clinic.yaml": CLINIC.replace("name: Test Clinic", "name: Group Library").replace("grace days: 90", "grace days: 90, unreviewed translations: show") + "codes kept free: [X, Y]\n"}
"""The small library as a base that keeps letters free for its clinics."""
OWN = """\
name: {name}
about: The clinic called {name} was made up for tests.
site: https://{slug}.example/
locations:
  - {{slug: main, name: {name} Street, address: "1 {name} Street, Testville", phone: {phone}}}
base: ../group
"""


def own_clinic(name: str, phone: str = "555-0111", more: str = "", language: str = "") -> str:
    """The ``clinic.yaml`` of a clinic on the base."""
    also = f", also: [{language}]" if language else ""
    return OWN.format(name=name, slug=name.lower(), phone=phone) + f"languages: {{source: en{also}}}\n" + more


def write(folder: Path, texts: Mapping[str, str]) -> Path:
    """A library as a folder."""
    for path, text in texts.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")
    return folder


def change(file: Path, old: str, new: str) -> None:
    """One place of a file in other words."""
    text = file.read_text(encoding="utf-8")
    assert text.count(old) == 1, (file, old, text.count(old))
    file.write_text(text.replace(old, new), encoding="utf-8")


def fill(file: Path) -> int:
    """Every empty text of a catalogue with a made-up translation; how many there were."""
    catalogue = polib.pofile(str(file), wrapwidth=0)
    empty = [entry for entry in catalogue if not entry.msgstr and not entry.obsolete]
    for entry in empty:
        entry.msgstr = turn(entry.msgid, file.stem).replace("sTOP", STOP[file.stem])
    catalogue.save(str(file))
    return len(empty)


def run(*words: str | Path, status: int = 0) -> None:
    """A command that ends as it should."""
    assert main([str(word) for word in words]) == status, words


def build(library: Path, today: str = DAY) -> Path:
    """The site of a library, without sheets."""
    out = library.with_name(f"{library.name}-out")
    run("build", library, "--to", out, "--no-paper", "--jobs", "1", "--quiet", "--today", today)
    return out / "site"


def text_of(page: Path) -> str:
    """The words of a page."""
    return " ".join(re.sub(r"<[^>]+>", " ", re.sub(r"<(script|style)\b.*?</\1>", " ", page.read_text(encoding="utf-8"), flags=re.S)).split())

"""Everything that the program gives for a random library, made once, as a person would: files in, outputs out."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Mapping
from contextlib import redirect_stdout
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import polib

from handouts.build.pipeline import make_site
from handouts.build.settings import Settings
from handouts.cli import main
from handouts.paper.articles import Document
from handouts.problems import Grade, show_problem
from tests.fidelity.random_library import Wrote, write_library
from tests.fidelity.reading import MARK, page_data, script_value

TODAY = date(2026, 11, 25)
SPANISH = "xa"
"""Ends each invented word in the second language."""


@dataclass(frozen=True, slots=True)
class Outputs:
    """The outputs of one library."""

    wrote: Wrote
    folder: Path
    pages: Mapping[str, str]
    """Every HTML page by path."""
    files: Mapping[str, bytes]
    """Every file that is no page, by path."""
    documents: Mapping[str, Document]
    """Every document for paper by the path of its PDF."""

    def book(self, language: str) -> Any:
        """What the phone's page of a language knows."""
        return page_data(self.pages[f"{language}/my/index.html"])

    def phone(self, language: str, slug: str) -> Any:
        """The words of an exercise on the phone."""
        path = next(path for path in self.files if re.fullmatch(rf"assets/exercise-{slug}\.{language}\.\w+\.js", path))
        return script_value(self.files[path].decode())

    def chart(self, bundle: str) -> str:
        """The chart text of a ready-made bundle or a code."""
        return self._said("--chart", bundle)

    def record(self, bundle: str) -> Any:
        """The FHIR resource of a ready-made bundle or a code."""
        return json.loads(self._said("--fhir", bundle))

    def _said(self, *words: str) -> str:
        said = io.StringIO()
        with redirect_stdout(said):
            assert main(["bundle", *words, "--library", str(self.folder)]) == 0
        return said.getvalue()


def write_folder(wrote: Wrote, folder: Path) -> None:
    """The library as files, with a Spanish catalogue in which every invented word has its own ending."""
    for path, text in wrote.files.items():
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    with redirect_stdout(io.StringIO()):
        assert main(["words", "collect", "--library", str(folder)]) == 0
    catalogue = polib.pofile(str(folder / "words/es.po"), wrapwidth=0)
    for entry in catalogue:
        entry.msgstr = to_spanish(entry.msgid)
    catalogue.save()


def to_spanish(text: str) -> str:
    """A text in the second language: the same sentence, with other words."""
    changed = MARK.sub(lambda found: found.group() + SPANISH, text)
    return changed.replace("Stop", "Pare") if changed != text else f"{text} es"


def make_outputs(seed: int, folder: Path) -> Outputs:
    """Writes a random library into a folder and makes all that is made of it but for the PDFs themselves."""
    wrote = write_library(seed)
    library = folder / "library"
    write_folder(wrote, library)
    made = make_site(Settings(library, out=folder / "build", today=TODAY))
    faults = [show_problem(each) for each in made.problems if each.grade is Grade.ERROR]
    assert faults == []
    pages = {path: made.pages[path].decode() for path in made.pages if path.endswith(".html")}
    files = {path: made.pages[path] for path in made.pages if not path.endswith(".html")}
    return Outputs(wrote, library, pages, files, {each.path: each for each in made.documents})

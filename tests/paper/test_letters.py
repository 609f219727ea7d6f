"""Letters that no font has are said by ``check``, where they are written; a title without a gap breaks."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.paper.context import make_setting
from handouts.paper.laying import lay_out_document
from handouts.paper.letters import find_missing_letters
from handouts.paper.plan import sheet_document
from handouts.problems import show_problem
from handouts.site.context import Edition
from handouts.words.wording import Wording
from tests.kept import kept
from tests.site.making import Drawings
from tests.small_library import small_library, texts_with
from tests.test_cli import TODAY, write
from tests.words.demo import LANGUAGES, libraries

FOOT = "exercises/foot-lift.md"


@pytest.mark.parametrize("command", ["check", "build"])
def test_an_emoji(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Check says what build refuses: the character, its line and column."""
    library = write(tmp_path / "lib", texts_with(FOOT, ("title: Foot lift", "title: Foot \U0001f9b6 lift")))
    options = ["--to", str(tmp_path / "out"), "--no-paper"] if command == "build" else []
    assert main([command, str(library), *options, TODAY]) == 1
    said = "lib/exercises/foot-lift.md:3:13: error: no font of the sheets has the character \U0001f9b6 (U+1F9B6). Use another character, or draw it in the figure. [paper-glyph]"
    assert said in capsys.readouterr().err


@pytest.mark.parametrize("language", ["en", *LANGUAGES])
def test_the_demo_has_none(language: str) -> None:
    """Every letter of the demo is in a font, in each language."""
    assert [show_problem(problem) for problem in find_missing_letters(libraries()[language])] == []


def test_a_title_without_a_gap_breaks(tmp_path: Path) -> None:
    """Seventy W go on on the next line: no letter stands past the edge of the paper."""
    library = small_library(texts_with(FOOT, ("title: Foot lift", f"title: {'W' * 70}")))
    setting = make_setting(library, Wording("en"), Drawings(), Edition(version="K7QX2M"))
    laid = kept(lay_out_document, sheet_document(setting, library.exercise["foot-lift"]))
    (tmp_path / "sheet.pdf").write_bytes(laid.pdf)
    boxes = subprocess.run(["pdftotext", "-bbox", "sheet.pdf", "-"], cwd=tmp_path, capture_output=True, text=True, check=True).stdout
    wide = [(float(right), word) for right, word in re.findall(r'xMax="([0-9.]+)"[^>]*>(W+)<', boxes)]
    assert sum(len(word) for _, word in wide) >= 70
    assert max(right for right, _ in wide) < 612 - 28  # letter paper, in points, less the least margin of a printer

"""Numbers beside marks, in every output: page, sheet, phone, search, chart text and PDF say what the author wrote.

The texts of a small library hold signs that are no marks (``3 * 101``, ``2_102``) and numbers in bold and italic.  Every
file of the built site, the chart text and the text of a PDF are read back: each text stands there with all its numbers,
and nowhere with its marks or without a sign.
"""

from __future__ import annotations

import html
import json
import re
import subprocess
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.paper.articles import Document
from handouts.paper.context import make_setting
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import sheet_document
from handouts.site.context import Edition
from handouts.templating.assets import templates_root
from handouts.text.markup import render_inline
from handouts.words.wording import Wording
from tests.kept import kept
from tests.site.making import Drawings
from tests.small_library import TODAY, small_library, texts_with
from tests.test_cli import write

PATH = "exercises/foot-lift.md"


def marked(number: int) -> str:
    """A text with signs that are no marks and with marks around numbers; every number occurs once."""
    return f"Hold 3 * {number}1, 2_{number}2, *{number}3* and **{number}4**."


def seen(number: int) -> str:
    """The same as a reader sees it."""
    return f"Hold 3 * {number}1, 2_{number}2, {number}3 and {number}4."


PLACES = {
    "why: You use this each time you stand up.": (12, "why: '{}'"),
    "cues: [Sit tall.]": (13, "cues: ['{}']"),
    "feel: You feel your thigh work.": (14, "feel: '{}'"),
    "mistakes: [{see: You lean back., do: Sit up tall.}]": (15, "mistakes: [{{see: You lean back., do: '{}'}}]"),
    "ready when: You can do 2 sets of 15 with ease.": (16, "ready when: '{}'"),
    "1. Sit on a chair.": (17, "1. {}"),
}
TITLE, CAUTION, READY = 11, 18, 16
NAME = f"Foot 3 * {TITLE}1, 2_{TITLE}2"
"""A title holds no bold and no italic."""
LIBRARY = texts_with(PATH, ("title: Foot lift", f"title: '{NAME}'"), *((old, form.format(marked(number))) for old, (number, form) in PLACES.items()))
LIBRARY["cautions.yaml"] = LIBRARY["cautions.yaml"].replace("when: You have sharp pain.", f"when: '{marked(CAUTION)}'")
NUMBERS = {CAUTION, *(number for number, _ in PLACES.values())}
LOST = re.compile(r"3\s+1[1-8]1|31[1-8]1|21[1-8]2|2 1[1-8]2|[*_]1[1-8][34]|1[1-8][34][*_]")
"""Any of the texts without a sign that is no mark, or with one that is."""


def read(path: Path) -> str:
    """What a file shows or holds, with single spaces."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".html":
        text = re.sub(r"</?(?:strong|em)>", "", text)
    return " ".join(html.unescape(text).split())


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The library as a site without PDFs."""
    folder = tmp_path_factory.mktemp("marks")
    library = write(folder / "lib", LIBRARY)
    assert main(["build", str(library), "--to", str(folder / "out"), "--no-paper", f"--today={TODAY.isoformat()}"]) == 0
    return folder


def files(site: Path, *kinds: str) -> dict[str, str]:
    """The texts of a site's files of some kinds."""
    return {str(path.relative_to(site)): read(path) for path in site.rglob("*") if path.suffix in kinds}


def test_no_file_loses_a_sign_or_shows_a_mark(site: Path) -> None:
    """Pages, sheets for the browser, scripts of the phone and of the clinician, search, structured data."""
    found = files(site / "out" / "site", ".html", ".js", ".json", ".txt", ".xml", ".csv")
    assert len(found) > 30
    found = {name: text for name, text in found.items() if Path(name).name not in ("manifest.json", "worker.js")}  # sizes and hashes, in which any number may stand
    made = {read(path) for path in (templates_root() / "scripts/made").glob("*.js")}  # of every site alike: no text of a library
    found = {name: text for name, text in found.items() if text not in made}
    assert {name: LOST.findall(text) for name, text in found.items() if LOST.search(text)} == {}


def test_each_text_stands_where_it_is_read(site: Path) -> None:
    """The page, the sheet for the browser and what the phone loads have every one of the texts."""
    found = files(site / "out" / "site", ".html", ".js")
    page = found["en/exercises/foot-lift/index.html"]
    phone = " ".join(text for name, text in found.items() if name.endswith(".js") or name.startswith("en/my/"))
    for number in NUMBERS:
        assert seen(number) in page, number
        assert seen(number) in phone or number == READY, number
    assert NAME in page
    assert NAME in phone


def test_chart_text(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The text for the chart names the exercise as its page does."""
    assert main(["bundle", "first-days", "--library", str(site / "lib"), "--to", str(site / "chart"), "--chart"]) == 0
    assert NAME in " ".join(capsys.readouterr().out.split())


def test_record(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The plan for a record says the same."""
    assert main(["bundle", "first-days", "--library", str(site / "lib"), "--to", str(site / "chart"), "--fhir"]) == 0
    told = json.dumps(json.loads(capsys.readouterr().out), ensure_ascii=False)
    assert NAME in told
    assert not LOST.search(told)


def test_paper(tmp_path: Path) -> None:
    """The text of the printed sheet."""
    library = small_library(LIBRARY)
    setting = make_setting(library, Wording("en"), Drawings(), Edition(version="K7QX2M"))
    document = sheet_document(setting, library.exercise["foot-lift"])
    assert isinstance(document, Document)
    made = kept(lay_out_document, document)
    (tmp_path / "sheet.pdf").write_bytes(made.pdf)
    told = " ".join(subprocess.run(["pdftotext", "-raw", "sheet.pdf", "-"], cwd=tmp_path, capture_output=True, text=True, check=True).stdout.split())
    assert NAME in told
    for number in NUMBERS:
        assert seen(number) in told, number
    assert not LOST.search(told)


def test_where_a_refused_text_is_shown_all_the_same() -> None:
    """No sign between two numbers is taken for a mark, whoever did not look at the problems."""
    assert str(render_inline("3*10 times, hold for 2*5 seconds")) == "3*10 times, hold for 2*5 seconds"

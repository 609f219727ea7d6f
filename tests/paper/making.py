"""Documents and PDFs of the small library, made once for all tests; pictures of our own in place of figures."""

from __future__ import annotations

import subprocess
from collections.abc import Iterable
from functools import cache, partial
from pathlib import Path

from markupsafe import Markup

from handouts.build.pdfs import FinishedPdf, Sheets
from handouts.model import Exercise, Library, Side
from handouts.paper.articles import Document
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import Documents, plan_documents
from handouts.site.context import Edition
from handouts.store.code_digest import Code
from handouts.store.memo import Memo, Run
from handouts.store.reads import WatchedReads
from handouts.words.wording import Wording
from tests.kept import kept
from tests.small_library import TEXTS, small_library


class Pictures:
    """A simple picture for each exercise: two panels side by side."""

    def shown_side(self, exercise: Exercise) -> Side:
        """No side."""
        return Side.TOGETHER

    def figure_note(self, exercise: Exercise, language: str) -> str:
        return "Stripes: muscles that work."

    def fault_svg(self, exercise: Exercise, number: int, language: str, side: Side = Side.TOGETHER) -> Markup:
        """A square where the mistake has a figure."""
        if exercise.mistakes[number].figure is None:
            return Markup("")
        return Markup('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><title>Not like this</title><path fill="#000000" d="M0 0h10v10z"/></svg>')

    def figure_svg(self, exercise: Exercise, language: str, side: Side = Side.TOGETHER) -> Markup:
        """The picture, with ids as a figure has them."""
        name = f"figure-{exercise.slug}"
        return Markup(
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 300"><title id="{0}t">{1}: start and end</title>'
            '<path id="{0}p" d="M20 20h160v260H20zM220 20h160v260H220z" fill="none" stroke="#000"/></svg>'
        ).format(name, exercise.title.text)


EDITION = Edition(version="K7QX2M", versions={"exercises/foot-lift": "A9B8C7"})


def a_setting(library: Library | None = None, paper: str = "letter", size: str = "standard") -> PaperSetting:
    """The setting of the small library in English."""
    return make_setting(library or small_library(), Wording("en"), Pictures(), EDITION).on(paper, size)


@cache
def documents() -> dict[str, Document]:
    """Every document of the small library by its path."""
    return {path: make() for path, make in plan_documents(make_setting(small_library(), Wording("en"), Pictures(), EDITION)).items()}


class OneCode(Code):
    """Code that is always the same, of tests too."""

    def digest(self, module: str) -> bytes:
        """No code."""
        return b""


def given(document: Document) -> Document:
    """The document itself."""
    return document


def sheets_of(documents: Iterable[Document], memo: Memo, run: Run, reads: Path | None = None) -> list[FinishedPdf]:
    """Documents as the PDFs of a build, which has kept what a file of reads says."""
    makers = {document.path: partial(given, document) for document in documents}
    watched = WatchedReads(reads, (), OneCode(Path()))
    found = list(Sheets(Documents(makers), watched, memo, run).lay_out(lambda _path, _name: True))
    watched.write()
    return found


@cache
def pdf_of(path: str) -> bytes:
    """The PDF of a document of the small library, which must have no problems."""
    laid = kept(lay_out_document, documents()[path])
    assert laid.problems == ()
    return laid.pdf


SHEET = "en/exercises/foot-lift/foot-lift-{}-{}.pdf"
BOOKLET = "en/programmes/stand-up/stand-up-{}-{}.pdf"
TIER = "en/programmes/stand-up/stand-up-wake-{}-{}.pdf"
BUNDLE = "en/bundles/first-days/first-days-full-{}-{}.pdf"
ROWS = "en/bundles/first-days/first-days-{}-{}.pdf"
"""The bundle with several exercises on a page."""
KINDS = (SHEET, BOOKLET, TIER, BUNDLE, ROWS)


def text_of(pdf: bytes, *options: str) -> str:
    """The text of a PDF, as poppler reads it."""
    return subprocess.run(
        ["pdftotext", *options, "-", "-"], input=pdf, capture_output=True, check=True
    ).stdout.decode()


def picture_of(pdf: bytes, folder: Path, dots: int = 150) -> Path:
    """The first page of a PDF as a grey picture, at so many dots an inch."""
    subprocess.run(["pdftoppm", "-r", str(dots), "-gray", "-png", "-f", "1", "-l", "1", "-singlefile", "-", str(folder / "page")],
                   input=pdf, capture_output=True, check=True)
    return folder / "page.png"


def pages_of(text: str) -> list[str]:
    """The text of each page."""
    return text.rstrip("\f").split("\f")


assert set(TEXTS) >= {"exercises/foot-lift.md", "programmes/stand-up.md", "bundles/first-days.yaml"}

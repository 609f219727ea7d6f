"""Articles laid out by themselves, their figures grown afterwards, put together: the pages are those of plain layouts, to the pixel."""

from __future__ import annotations

import io
import re
from types import SimpleNamespace

import numpy as np
import pikepdf
import pypdfium2
import pytest
from numpy.typing import NDArray

from handouts.paper.cage import draw, render_pdf
from handouts.paper.document import ArticleSource, Document, cut_out, sources_of
from handouts.paper.geometry import FIGURE, PAPERS
from handouts.paper.laying import lay_out_document
from handouts.paper.settle import set_article, settle
from handouts.paper.writer.growth import grow_figure
from tests.paper.making import BOOKLET, KINDS, SHEET, documents, pages_of, text_of
from tests.paper.test_document import document_with

pytestmark = pytest.mark.paper

DOTS = 96


def pictures(pdf: bytes) -> list[NDArray[np.uint8]]:
    """Each page as a picture of 96 dots an inch."""
    return [page.render(scale=DOTS / 72).to_numpy() for page in pypdfium2.PdfDocument(pdf)]


def exercises_of(document: Document) -> list[ArticleSource]:
    """The exercises of a document, each by itself."""
    return [source for source in sources_of(document) if source.article.kind == "exercise"]


def at_once(source: ArticleSource) -> list[NDArray[np.uint8]]:
    """An article by one plain layout, set as it was settled."""
    laid = render_pdf(set_article(source, settle(source).settled), {}, source.article.place)
    assert laid.problems == ()
    return pictures(laid.pdf)


@pytest.mark.parametrize(("kind", "size"), [(SHEET, "standard"), (BOOKLET, "large")])
def test_same_pages_as_at_once(kind: str, size: str) -> None:
    """A figure that has grown after the layout stands as in a layout with the higher figure."""
    sources = exercises_of(documents()[kind.format("a4", size)])
    parts = [settle(source) for source in sources]
    assert any(part.settled.figure > FIGURE[size][part.settled.article.fit] for part in parts), "no figure has grown"
    for source, part in zip(sources, parts, strict=True):
        grown, plain = pictures(draw([part.layout]).pdf), at_once(source)
        assert len(grown) == len(plain) and all((one == other).all() for one, other in zip(grown, plain, strict=True))


@pytest.mark.parametrize(("steps", "size"), [(2, "standard"), (14, "standard"), (24, "large")])
def test_document_shows_what_was_laid_out(steps: int, size: str) -> None:
    """Between head and foot, the page of a document is the page of a plain layout with the paper's margins, codes but for their edges."""
    document = document_with(steps, size)
    source, area = exercises_of(document)[0], document.area
    width, height = PAPERS[document.paper]
    text = set_article(source, settle(source).settled)
    slot = re.search(r'<svg xmlns="[^"]*" class="qr".*?</svg>', text, re.DOTALL)
    code = re.search(r'<svg xmlns="[^"]*" class="qr".*?</svg>', cut_out(document.articles[0], document.html), re.DOTALL)
    assert slot and code and "data-slot" in slot[0] and "data-slot" not in code[0]
    bottom = height - area.top - area.height
    plain, count = re.subn(
        r"@page \{ size: [^;]*; margin: 0 0 ([\d.]+)mm; \}",
        lambda found: f"@page {{ size: {width}mm {height}mm; margin: {area.top}mm {area.left}mm {bottom + float(found[1])}mm; }}",
        text.replace(slot[0], code[0]),
    )
    plain = plain.replace("@page :first { margin-bottom: 0; }", f"@page :first {{ margin-bottom: {bottom}mm; }}")
    laid = render_pdf(plain, {}, document.place)
    assert count == 1 and laid.problems == ()
    pages, others = pictures(lay_out_document(document).pdf), pictures(laid.pdf)
    assert len(pages) == len(others)
    for number, (page, other) in enumerate(zip(pages, others, strict=True), 1):
        free = document.articles[0].free if number == len(pages) else 0.0
        rows = slice(*(round(mm * DOTS / 25.4) for mm in (area.top + 0.5, area.top + area.height - free - 0.5)))
        differing = np.abs(page[rows].astype(int) - other[rows]).max(axis=2) > 60
        assert differing.mean() < 0.0005, (number, differing.mean())


@pytest.mark.parametrize("kind", KINDS)
def test_links_lead_to_their_pages(kind: str) -> None:
    """From the list of a booklet to the page of each exercise, in every document that holds it."""
    document = documents()[kind.format("letter", "standard")]
    with pikepdf.open(io.BytesIO(lay_out_document(document).pdf)) as read:
        numbers = {page.obj.objgen: number for number, page in enumerate(read.pages)}
        names = pikepdf.NameTree(read.Root.Names.Dests) if "/Names" in read.Root else {}
        links = [(str(link.Dest), numbers[names[str(link.Dest)][0].objgen]) for page in read.pages for link in page.get("/Annots", ())]
        boxes = [[float(edge) for edge in link.Rect] for page in read.pages for link in page.get("/Annots", ())]
    pages = pages_of(text_of(lay_out_document(document).pdf))
    assert bool(links) == (kind != SHEET)
    assert all({"foot-lift": "Foot lift", "leg-lift": "Leg lift"}.get(name, "") in pages[number] for name, number in links)
    assert all(0 < left < right < 612 and 0 < bottom < top < 792 for left, top, right, bottom in boxes)


def test_numbers_of_pages() -> None:
    """Each page of a booklet has its own number and that of the last, also where the cover takes two."""
    for size in ("standard", "large"):
        laid = lay_out_document(documents()[BOOKLET.format("letter", size)])
        pages = pages_of(text_of(laid.pdf))
        assert len(pages) == laid.pages
        for number, page in enumerate(pages, 1):
            assert f"Page {number} of {len(pages)}" in page


def test_no_figure_is_a_mistake_of_the_program() -> None:
    """A page without the element is not passed over."""
    with pytest.raises(ValueError, match="no figure in 'x'"):
        grow_figure(SimpleNamespace(children=()), "x", 1.0, lambda *_: None)

"""Articles laid out one by one, their figures grown afterwards: the pages are those of one plain layout, to the pixel."""

from __future__ import annotations

import io
from types import SimpleNamespace

import pikepdf
import pypdfium2
import pytest

from handouts.paper.cage import draw, render_pdf
from handouts.paper.document import Document, Settled, lay_out_document, set_articles, settle_document
from handouts.paper.geometry import FIGURE
from handouts.paper.growth import grow_figure
from tests.kept import kept
from tests.paper.making import BOOKLET, KINDS, SHEET, documents, pages_of, text_of
from tests.paper.test_document import document_with

pytestmark = pytest.mark.paper


def pixels(pdf: bytes) -> list[bytes]:
    """Each page as a picture of 96 dots an inch."""
    return [page.render(scale=96 / 72).to_numpy().tobytes() for page in pypdfium2.PdfDocument(pdf)]


def links_of(pdf: bytes) -> list[tuple[int, int, str]]:
    """Each link: the page that it stands on, the page that it leads to, where it stands on its page."""
    with pikepdf.open(io.BytesIO(pdf)) as read:
        numbers = {page.obj.objgen: number for number, page in enumerate(read.pages)}
        names = pikepdf.NameTree(read.Root.Names.Dests) if "/Names" in read.Root else {}
        return [
            (number, numbers[names[str(link.Dest)][0].objgen], str([round(float(edge), 2) for edge in link.Rect]))
            for number, page in enumerate(read.pages)
            for link in page.get("/Annots", ())
            if "/Dest" in link
        ]


def both_ways(document: Document) -> tuple[bytes, bytes, tuple[Settled, ...]]:
    """A document by its articles, the same by one plain layout of the whole HTML, and how its articles are set."""
    parts = settle_document(document)
    settled = tuple(part.settled for part in parts)
    plain = render_pdf(set_articles(document.html, document, settled), {}, document.place)
    assert plain.problems == ()
    return draw([part.layout for part in parts]).pdf, plain.pdf, settled


def laid_both_ways(document: Document) -> tuple[bytes, bytes, tuple[Settled, ...]]:
    """The same, kept between runs."""
    return kept(both_ways, document, room="handouts.paper.document")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("size", ["standard", "large"])
def test_same_pages_as_at_once(kind: str, size: str) -> None:
    """Sheets and booklets: heads, feet with their numbers, contents, figures, links."""
    pdf, plain, settled = laid_both_ways(documents()[kind.format("a4", size)])
    assert any(each.figure > FIGURE[size][each.article.fit] for each in settled), "no figure has grown"
    assert pixels(pdf) == pixels(plain)
    assert text_of(pdf) == text_of(plain)
    assert links_of(pdf) == links_of(plain)
    assert bool(links_of(pdf)) == (kind != SHEET)


@pytest.mark.parametrize(("steps", "size"), [(2, "standard"), (14, "standard"), (40, "standard"), (2, "large"), (24, "large")])
def test_same_pages_with_few_steps_and_many(steps: int, size: str) -> None:
    """Calm and tight, grown and not, on one page more than there should be."""
    pdf, plain, _ = laid_both_ways(document_with(steps, size))
    assert pixels(pdf) == pixels(plain)


def test_numbers_of_pages() -> None:
    """Each page of a booklet has its own number and that of the last, also where the cover takes two."""
    for size in ("standard", "large"):
        document = documents()[BOOKLET.format("letter", size)]
        laid = kept(lay_out_document, document)
        pages = pages_of(text_of(laid.pdf))
        assert len(pages) == laid.pages
        for number, page in enumerate(pages, 1):
            assert f"Page {number} of {len(pages)}" in page


def test_no_figure_is_a_mistake_of_the_program() -> None:
    """A page without the element is not passed over."""
    with pytest.raises(ValueError, match="no figure in 'x'"):
        grow_figure(SimpleNamespace(children=()), "x", 1.0, lambda *_: None)

"""Booklets to be folded: printed on both sides, put together and folded, pages follow one another and every word is large enough."""

from __future__ import annotations

import io
import re
from functools import cache
from typing import Any

import pdfua
import pikepdf
import pypdfium2
import pytest

from handouts.model import Library
from handouts.paper.articles import Document
from handouts.paper.context import make_setting
from handouts.paper.folding import fold
from handouts.paper.laying import lay_out_document
from handouts.paper.places import count_pages
from handouts.paper.plan import bundle_document, plan_documents, plan_paths, programme_document
from handouts.words.wording import Wording
from tests.kept import kept
from tests.paper.making import BOOKLET, EDITION, Pictures, a_setting, pdf_of
from tests.paper.test_pdf import FALSE_ALARM, elements
from tests.small_library import small_library, texts_with
from tests.words.demo import libraries

pytestmark = pytest.mark.paper

SHEETS = {"letter": (792.0, 612.0), "a4": (841.89, 595.28)}
"""Width and height of a sheet on its side, in points (ISO 216; 11 x 8.5 inches)."""


@cache
def folded(paper: str, kind: str = "programme") -> bytes:
    """A booklet of the small library on a folded paper."""
    setting = a_setting(paper=paper).folded()
    library = setting.library
    document = programme_document(setting, library.programmes[0]) if kind == "programme" else bundle_document(setting, library.bundles[0])
    laid = kept(lay_out_document, document)
    assert laid.problems == ()
    return laid.pdf


def halves(pdf: bytes) -> list[tuple[str, str]]:
    """The text of the left and of the right half of each side of a sheet."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        found = []
        for page in document:
            width, height = page.get_size()
            text = page.get_textpage()
            found.append(tuple(" ".join(text.get_text_bounded(left, 0, left + width / 2, height).split()) for left in (0, width / 2)))
        return found
    finally:
        document.close()


def bound_order(sides: list[tuple[Any, Any]], bound: str) -> list[Any]:
    """The pages as they follow one another in the folded booklet, made as a person does it: sheets laid on one another, folded, leafed through.

    The outside of a sheet is one side of the file, its inside the next.  Independent of how the program counts.
    """
    outer, inner = sides[0::2], sides[1::2]
    first, second = (1, 0) if bound == "left" else (0, 1)
    front = [page for out, back in zip(outer, inner, strict=True) for page in (out[first], back[second])]
    behind = [page for out, back in reversed(list(zip(outer, inner, strict=True))) for page in (back[first], out[second])]
    return [*front, *behind]


@pytest.mark.parametrize("bound", ["left", "right"])
@pytest.mark.parametrize("pages", [4, 8, 44])
def test_order(pages: int, bound: str) -> None:
    """Pages 1 to n follow one another; from right to left the front is the left half of the outermost sheet."""
    sides: list[list[int]] = [[-1, -1] for _ in range(pages // 2)]
    for number, leaf in enumerate(fold(pages, "a4-folded", bound), 1):
        sides[leaf.page][leaf.x > 0] = number
    assert bound_order([(left, right) for left, right in sides], bound) == list(range(1, pages + 1))


def test_whole_sheets_only() -> None:
    """A number of pages that makes no whole sheets is a mistake of the program."""
    with pytest.raises(ValueError, match="6 pages make no whole sheets"):
        fold(6, "a4-folded", "left")


@pytest.mark.parametrize("kind", ["programme", "bundle"])
@pytest.mark.parametrize("paper", SHEETS)
def test_pages_follow(paper: str, kind: str) -> None:
    """Each half carries its number; folded, they are in order; the sheet is the clinic's paper on its side."""
    pdf = folded(paper, kind)
    order = bound_order(halves(pdf), "left")
    numbers = [re.findall(r"Page (\d+) of (\d+)", text) for text in order]
    assert numbers == [[(str(number), str(len(order)))] for number in range(1, len(order) + 1)]
    assert len(order) % 4 == 0
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        for page in opened.pages:
            assert [float(side) for side in page.MediaBox] == pytest.approx([0, 0, *SHEETS[paper]], abs=0.01)
        assert opened.Root.ViewerPreferences.Duplex == "/DuplexFlipShortEdge"


def test_exercise_on_facing_pages() -> None:
    """An exercise of two pages begins on the left; a page that nothing takes has room for notes; the table of weeks is the back."""
    order = bound_order(halves(folded("a4")), "left")
    begins = [number for number, text in enumerate(order) if re.search(r"Foot lift|Leg lift", text) and "How to do it" in text]
    assert begins and all(number % 2 for number in begins)
    assert "Your weeks" in order[-1]
    notes = [text for text in order if "Notes" in text and "How to do it" not in text and "Your weeks" not in text]
    assert all("When to stop: page" in text for text in notes)


def x_heights(pdf: bytes) -> list[float]:
    """The heights of the letter x on all pages, in points."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        texts = [page.get_textpage() for page in document]
        boxes = [text.get_charbox(at) for text in texts for at in range(text.count_chars()) if text.get_text_range(at, 1) == "x"]
        return [top - bottom for _, bottom, _, top in boxes]
    finally:
        document.close()


def test_as_large_as_standard_print() -> None:
    """The smallest letters are as large as those of the standard booklet: 12 points."""
    least = min(x_heights(pdf_of(BOOKLET.format("letter", "standard"))))
    assert min(x_heights(folded("letter"))) == pytest.approx(least, rel=0.01)
    assert min(x_heights(folded("a4"))) == pytest.approx(least, rel=0.01)


def test_codes_as_large() -> None:
    """A QR code is as wide on the folded sheet as on any other."""
    setting = a_setting(paper="a4", size="large")
    widths = [
        [float(width) for width in re.findall(r'class="qr" width="([\d.]+)mm"', programme_document(each, each.library.programmes[0]).html)]
        for each in (setting.folded(), setting)
    ]
    assert len(widths[0]) > 2 and [0.75 * width for width in widths[0]] == pytest.approx(widths[1], rel=0.01)


@pytest.mark.parametrize("kind", ["programme", "bundle"])
def test_accessible(kind: str) -> None:
    """Tags, their order, alternative texts, language and outline are those of the booklet that is not folded; links lead to the right half."""
    pdf = folded("a4", kind)
    report = pdfua.validate(io.BytesIO(pdf))
    assert [finding for finding in report.findings if finding.rule_id != FALSE_ALARM] == []
    setting = a_setting(paper="a4", size="large")
    library = setting.library
    flat = programme_document(setting, library.programmes[0]) if kind == "programme" else bundle_document(setting, library.bundles[0])
    with pikepdf.open(io.BytesIO(pdf)) as one, pikepdf.open(io.BytesIO(kept(lay_out_document, flat).pdf)) as other:
        assert str(one.Root.Lang) == str(other.Root.Lang) == "en"
        mine, theirs = ([str(each.S) for each in elements(each.Root.StructTreeRoot) if re.match("/(H|Figure|Link|Table)", str(each.S))] for each in (one, other))
        assert mine == theirs and len(mine) > 5
        with one.open_outline() as own, other.open_outline() as its:
            assert [each.title for each in own.root] == [each.title for each in its.root]
        check_marks(one)
        check_links(one, halves(pdf))


def check_marks(pdf: pikepdf.Pdf) -> None:
    """Each piece of marked content of a page has its own number, and the parent tree an element for each."""
    nums = pdf.Root.StructTreeRoot.ParentTree.Nums
    rows = {int(nums[at]): nums[at + 1] for at in range(0, len(nums), 2)}
    for page in pdf.pages:
        numbers = [
            int(operands[1].MCID)
            for operands, operator in pikepdf.parse_content_stream(page)
            if str(operator) == "BDC" and len(operands) > 1 and isinstance(operands[1], pikepdf.Dictionary) and "/MCID" in operands[1]
        ]
        assert sorted(numbers) == list(range(len(numbers))) and len(rows[int(page.StructParents)]) == len(numbers)
        assert all(each.Pg.objgen == page.objgen for each in rows[int(page.StructParents)])


def check_links(pdf: pikepdf.Pdf, texts: list[tuple[str, str]]) -> None:
    """A link of the table of contents leads to the half on which its exercise begins."""
    names = pdf.Root.Names.Dests.Names if "/Names" in pdf.Root else []
    found = {str(names[at]): names[at + 1] for at in range(0, len(names), 2)}
    if "foot-lift" not in found:
        return
    page, _, x, *_ = found["foot-lift"]
    number = next(at for at, each in enumerate(pdf.pages) if each.objgen == page.objgen)
    width = float(pdf.pages[number].MediaBox[2])
    assert "Foot lift" in texts[number][float(x) > width / 2 - 1]


def test_from_right_to_left() -> None:
    """An Arabic booklet is bound at the right: its cover is the left half of the outermost sheet."""
    library = libraries()["ar"]
    setting = make_setting(library, Wording.of(library), Pictures(), EDITION).folded()
    document = programme_document(setting, library.programmes[0])
    assert document.bound == "right"
    short = bundle_document(setting, library.bundles[0])
    order = bound_order(halves(kept(lay_out_document, short).pdf), "right")
    title = str(library.bundles[0].title.text).split()[0]
    assert title in order[0] or title[::-1] in order[0]


def pages_counted(*articles: tuple[str, int], bound: str = "left") -> tuple[tuple[int, ...], int, tuple[int, ...]]:
    """How a booklet counts its pages, by kinds of articles and their pages."""
    from handouts.paper.articles import Article
    from handouts.problems import Place

    made = tuple(Article(f"a{number}", kind, count, Place("x")) for number, (kind, count) in enumerate(articles))
    area = a_setting().on("letter", "large")
    document = Document("x", "", "a4-folded", "large", programme_document(area, area.library.programmes[0]).area, made, Place("x"), bound=bound)
    return count_pages(document, [(count, False) for _, count in articles])


def test_empty_pages() -> None:
    """Before an exercise that would straddle a leaf, and before what stands at the back, until sheets are full."""
    assert pages_counted(("cover", 1), ("exercise", 2), ("exercise", 2)) == ((0, 1, 3), 8, (5, 6, 7))
    assert pages_counted(("cover", 2), ("exercise", 2)) == ((0, 3), 8, (2, 5, 6, 7))
    assert pages_counted(("cover", 1), ("exercise", 3), ("opening back-page", 1)) == ((0, 1, 7), 8, (4, 5, 6))
    assert pages_counted(("cover", 2), ("exercise", 2), bound="") == ((0, 2), 4, ())


def clinic(folded_booklets: bool) -> Library:
    """The small library, with or without booklets to fold."""
    line = "papers: [letter, a4]\n"
    return small_library(texts_with("clinic.yaml", (line, f"{line}folded booklets: yes\n"))) if folded_booklets else small_library()


def test_only_where_the_clinic_says_so() -> None:
    """The site has them on each paper of the language where the clinic says so, else none."""
    wanted = [f"en/programmes/stand-up/stand-up-{paper}-folded.pdf" for paper in ("letter", "a4")]
    for said in (False, True):
        library = clinic(said)
        made = plan_documents(make_setting(library, Wording("en"), Pictures(), EDITION))
        assert sorted(made) == sorted(plan_paths(library))
        assert [path for path in made if "folded" in path] == (wanted if said else [])
        for path in wanted if said else ():
            assert made[path]().path == path

"""The finished PDFs, read back: boxes, tags, language, alternative texts, fonts, sizes, words, codes, links."""

from __future__ import annotations

import io
import re
import subprocess
from collections import Counter
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pdfua
import pikepdf
import pytest
import zxingcpp
from PIL import Image

from handouts.paper.laying import lay_out_document
from tests.paper.making import (
    BOOKLET,
    BUNDLE,
    KINDS,
    ROWS,
    SHEET,
    TIER,
    documents,
    pages_of,
    pdf_of,
    picture_of,
    text_of,
)
from tests.paper.test_stack import as_set

pytestmark = pytest.mark.paper

FALSE_ALARM = "UA-15-003"
"""pdfua looks for Scope or Headers on header cells; the writer puts Headers on the data cells (see the next test)."""
PAPERS = ("letter", "a4")
SIZES = ("standard", "large")
ALL = [kind.format(paper, size) for kind in KINDS for paper in PAPERS for size in SIZES]


def opened(path: str) -> pikepdf.Pdf:
    """A PDF, open."""
    return pikepdf.open(io.BytesIO(pdf_of(path)))


def elements(node: Any) -> Iterator[Any]:
    """Every structure element, in reading order."""
    kids = node.get("/K")
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids] if kids is not None else []:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from elements(kid)


@pytest.mark.parametrize("path", ALL)
def test_accessible(path: str) -> None:
    """Tagged, titled, in a language; every figure described; headings without a gap; rules of PDF/UA that a program checks."""
    with opened(path) as pdf:
        assert str(pdf.Root.Lang) == "en"
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        with pdf.open_metadata() as about:
            assert about["pdfuaid:part"] == "1"
            assert about["dc:title"]
        found = list(elements(pdf.Root.StructTreeRoot))
        figures = [element for element in found if element.S == "/Figure"]
        assert figures and all(str(figure.Alt) for figure in figures)
        levels = [int(str(element.S)[2:]) for element in found if re.fullmatch(r"/H[1-6]", str(element.S))]
        assert levels[0] == 1 and levels.count(1) == 1
        assert all(after - before <= 1 for before, after in zip(levels, levels[1:]))
        assert all(page.Tabs == "/S" for page in pdf.pages if "/Annots" in page)
    report = pdfua.validate(io.BytesIO(pdf_of(path)))
    assert [finding for finding in report.findings if finding.rule_id != FALSE_ALARM] == []


@pytest.mark.parametrize("path", [path for path in ALL if "-full-" in path or "/bundles/" not in path])
def test_table_headers(path: str) -> None:
    """Boxes to tick stand in a table with real headers; each cell names its own."""
    with opened(path) as pdf:
        found = list(elements(pdf.Root.StructTreeRoot))
        cells = [element for element in found if element.S == "/TD"]
        assert any(element.S == "/TH" for element in found)
        assert cells and all("/Headers" in str(cell.get("/A")) or "/Headers" in cell.get("/A", {}) for cell in cells)


@pytest.mark.parametrize(("paper", "width", "height"), [("letter", 612.0, 792.0), ("a4", 595.275591, 841.889764)])
def test_page_boxes(paper: str, width: float, height: float) -> None:
    """US Letter is 612 x 792 pt, A4 595.28 x 841.89 pt (ISO 216: 210 x 297 mm)."""
    for kind in KINDS:
        with opened(kind.format(paper, "standard")) as pdf:
            for page in pdf.pages:
                assert [float(side) for side in page.MediaBox] == pytest.approx([0, 0, width, height], abs=0.01)


@pytest.mark.parametrize("path", ALL)
def test_fonts_are_ours_and_embedded(path: str) -> None:
    """Every font is a subset inside the file, with a map back to letters; none is of the machine."""
    said = subprocess.run(["pdffonts", "-"], input=pdf_of(path), capture_output=True, check=True).stdout.decode()
    rows = said.splitlines()[2:]
    assert rows
    for row in rows:
        assert re.match(r"[A-Z]{6}\+(Atkinson-Hyperlegible-Next|Noto-Sans)", row), row
        assert re.search(r"yes yes yes +\d+ +\d+$", row), row


def sizes_of(pdf: pikepdf.Pdf) -> set[float]:
    """Every type size in points; the writer scales a page of CSS pixels by 0.75 and no text by itself."""
    sizes = set()
    for page in pdf.pages:
        for operands, operator in pikepdf.parse_content_stream(page):
            if str(operator) == "Tf":
                sizes.add(float(operands[1]) * 0.75)
            elif str(operator) == "Tm":
                assert [float(number) for number in operands[:4]] == [1, 0, 0, -1]
    return sizes


@pytest.mark.parametrize(("size", "least"), [("standard", 12.0), ("large", 16.0)])
def test_type_sizes(size: str, least: float) -> None:
    """Clear print is at least 12 pt, large print at least 16 pt (UKAAF G003, 2019), in every corner of the page."""
    for kind in KINDS:
        with opened(kind.format("letter", size)) as pdf:
            sizes = sizes_of(pdf)
        assert len(sizes) >= 3 and min(sizes) >= least - 1e-3, sizes


@pytest.mark.parametrize("path", ALL)
def test_nothing_but_pages(path: str) -> None:
    """No attachment, no script, no form; links lead into the document or to the web."""
    with opened(path) as pdf:
        assert "/AcroForm" not in pdf.Root and "/OpenAction" not in pdf.Root and "/AA" not in pdf.Root
        names = pdf.Root.get("/Names", pikepdf.Dictionary())
        assert "/EmbeddedFiles" not in names and "/JavaScript" not in names
        for page in pdf.pages:
            for note in page.get("/Annots", []):
                assert note.Subtype == "/Link"
                assert "/Dest" in note or (note.A.S == "/URI" and str(note.A.URI).startswith("https:"))


def words_of(html: str) -> list[str]:
    """The words of an HTML text that stand on paper."""
    html = re.sub(r"<(style|title|svg|head)\b.*?</\1>", " ", html, flags=re.DOTALL)
    return unescape(re.sub(r"<[^>]+>", " ", html)).split()


@pytest.mark.parametrize("path", ALL)
def test_words_are_those_of_the_source(path: str) -> None:
    """Every word of the HTML stands in the PDF, as often as it should, and no other: nothing is cut, lost or garbled."""
    html = as_set(documents()[path])
    head, foot = (re.search(rf'<div class="running-{end}\b.*?</div>', html, re.DOTALL) for end in ("head", "foot"))
    rules = re.search(r'<div class="running-rules">(.*?</strong>)(.*?)</div>', html, re.DOTALL)
    pen = re.search(r'<span class="pen">.*?</span></span>', html, re.DOTALL)
    assert head and foot and pen
    pages = pages_of(text_of(pdf_of(path), "-raw"))
    expected = Counter(words_of(html.replace(head[0], "").replace(foot[0], "").replace(rules[0] if rules else "", "")))
    if rules:  # where the stop rules stand, on every page but that one
        (full,) = [number for number, text in enumerate(pages, 1) if "When to stop: page" not in text]
        where = words_of(rules[1].replace('<span class="n"></span>', str(full)))
        expected.update([*where * (len(pages) - 1), *words_of(rules[2]) * len(pages)])
    for standing in documents()[path].standing:
        expected.update([*words_of(standing.strip), *(words_of(pen[0]) if standing.pen else [])])
    for number in range(1, len(pages) + 1):
        expected.update([*words_of(head[0].replace(pen[0], "")), *words_of(foot[0].replace('<span class="n"></span>', f" {number} ").replace('<span class="m"></span>', f" {len(pages)} "))])
    for steps in re.findall(r"<ol>(.*?)</ol>", html, re.DOTALL):
        expected.update(str(number) for number in range(1, steps.count("<li>") + 1))
    found = Counter(" ".join(pages).split())
    if "target-counter" and 'class="contents"' in html:  # dots and page numbers of the contents
        found = Counter({word: count for word, count in found.items() if set(word) != {"."}})
        numbers = re.findall(r"\. (\d+)$", "\n".join(pages), re.MULTILINE)
        expected.update(numbers)
    assert found == expected


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("paper", PAPERS)
def test_pages_of_an_exercise(paper: str, size: str) -> None:
    """One page in standard print, two in large print with figure and steps on the first."""
    pages = pages_of(text_of(pdf_of(SHEET.format(paper, size))))
    assert len(pages) == (1 if size == "standard" else 2)
    assert "Lift your foot." in pages[0]
    assert f"Page 1 of {len(pages)}" in pages[0]
    assert "A222 · version A9B8C7" in pages[-1]


def test_what_every_sheet_says() -> None:
    """Clinic and phone, stop rule, emergency number, review, the two sentences that defer, the mark of an invented library."""
    for kind in KINDS:
        said = " ".join(text_of(pdf_of(kind.format("letter", "standard")), "-raw").split())
        for words in (
            "Test Clinic", "Main Street 555-0100", "Stop and call us.", "Emergency: 911", "Reviewed September 14, 2026 by lead physiotherapist.",
            "This sheet does not replace your clinician's advice.", "Your surgeon's protocol comes first.", "Demo library: this clinic is invented.",
        ):
            assert words in said, (kind, words)


def test_booklet_holds_its_tiers() -> None:
    """The condition of each tier, the table of contents with right pages, bookmarks to every exercise."""
    path = BOOKLET.format("letter", "standard")
    pages = pages_of(text_of(pdf_of(path), "-layout"))
    first = " ".join(pages[0].split())
    assert "Start this step when You can sit without pain." in first
    assert "Go on to step 2 when You can do each one above." in first
    for title in ("Foot lift", "Leg lift"):
        number = int(re.search(rf"{title} ?[. ]+ (\d+)", pages[1])[1])  # type: ignore[index]
        assert title in pages[number - 1] and "How to do it" in pages[number - 1]
    with opened(path) as pdf, pdf.open_outline() as outline:
        def titles(items: Any) -> Iterator[str]:
            for item in items:
                yield item.title
                yield from titles(item.children)
        assert {"Stand up well", "Step 1: Wake", "Foot lift", "Leg lift"} <= set(titles(outline.root))


def test_bundle_takes_the_changed_dose() -> None:
    """A bundle's own number stands in the list and on the page: 1 set of leg lifts, not 2."""
    said = text_of(pdf_of(BUNDLE.format("letter", "standard")), "-layout")
    pages = pages_of(said)
    assert "Leg lift" in pages[0] and "10 times, 3 days a week" in pages[0]
    assert re.search(r"\b1\s+10\s+3\s+3–5", pages[2])


@pytest.mark.parametrize(("kind", "address"), [
    (SHEET, "https://clinic.example/en/exercises/foot-lift/index.html"),
    (BOOKLET, "https://clinic.example/en/programmes/stand-up/index.html"),
    (TIER, "https://clinic.example/en/programmes/stand-up/index.html"),
    (BUNDLE, "https://clinic.example/en/bundles/first-days/index.html"),
    (ROWS, "https://clinic.example/en/bundles/first-days/index.html"),
])
def test_code_is_read_from_the_page(kind: str, address: str, tmp_path: Path) -> None:
    """Two independent readers find the code on the printed page and its address in it."""
    picture = picture_of(pdf_of(kind.format("a4", "standard")), tmp_path, 200)
    with Image.open(picture) as page:
        assert [found.text for found in zxingcpp.read_barcodes(page)] == [address]
    said = subprocess.run(["zbarimg", "--quiet", "--raw", str(picture)], capture_output=True, check=True).stdout.decode()
    assert said.strip() == address


def test_survives_a_bad_copier(tmp_path: Path) -> None:
    """In pure black and white at 100 dots an inch the code is still read."""
    with Image.open(picture_of(pdf_of(SHEET.format("letter", "standard")), tmp_path, 100)) as page:
        copied = page.convert("L").point(lambda grey: 255 if grey > 150 else 0)
        assert [found.text for found in zxingcpp.read_barcodes(copied)] == ["https://clinic.example/en/exercises/foot-lift/index.html"]


@pytest.mark.parametrize("path", [kind.format("letter", "standard") for kind in KINDS])
def test_same_bytes_again(path: str) -> None:
    """Laid out once more, after all the others: the same bytes."""
    assert lay_out_document(documents()[path]).pdf == pdf_of(path)

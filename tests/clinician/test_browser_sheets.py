"""Sheets printed from the browser: the same pages as the PDF, in pictures; large type, several on a page, refusals."""

from __future__ import annotations

import re
import subprocess
from dataclasses import replace
from itertools import groupby
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image, ImageChops, ImageFilter, ImageStat
from playwright.sync_api import Browser, Page, expect

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import encode_bundle
from handouts.bundle.values import Origin
from handouts.clinician.document import picked_document, picked_setting
from handouts.clinician.pages import read_clinician_pages
from handouts.model import Library, Side
from handouts.paper.laying import lay_out_document
from handouts.site.context import Edition
from handouts.source.files import read_folder
from handouts.words.wording import Wording
from tests.bundle.sample import bundle_of, pick_of
from tests.clinician.making import EDITION, MIRRORED, PLAIN, PaperDrawings, code_of, libraries, limits_of, the_site
from tests.kept import kept
from tests.paper.making import pages_of, text_of
from tests.site.browser import PRINTED
from tests.site.making import ROOT, Drawings, asset_sources, lay_out_site, write_site

pytestmark = [pytest.mark.browser, pytest.mark.paper]

BUNDLE = bundle_of(pick_of("sit", sets=2, reps=12), pick_of("stand", rest_seconds=45, side=Side.LEFT), location="hill", language="en", weeks=3)
DPI = 40
ALIKE, FULL_ALIKE, FIRST_ALIKE, ROWS_ALIKE, UNLIKE, LOWER = 0.025, 0.034, 0.05, 0.062, 1.25, 2
"""Largest mean difference of two pictures of one page, as a share of black against white; of the first page; of a first page with a row below the
line for the pen; how many times more a page differs from any other page, even from that of an exercise with the same words; and how many dots a page of
the PDF may stand lower, since the address in its code has the version of the text, so that the code may be 1 mm larger."""


def opened(browser: Browser, folder: Path, wish: str, size: str = "standard", language: str = "en") -> Page:
    """The sheets that an address asks for, ready to be printed; the page complains of nothing."""
    page = browser.new_page(viewport={"width": 1000, "height": 900})
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.goto((folder / f"{language}/sheets/{size}/index.html").as_uri() + f"#{wish}")
    page.wait_for_selector("html[data-ready=yes], #refused:not([hidden])", state="attached")
    return page


def pictures(pdf: bytes, folder: Path, name: str) -> list[Image.Image]:
    """The pages of a PDF in grey, blurred so that a hair's breadth does not count."""
    (folder / f"{name}.pdf").write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", folder / f"{name}.pdf", folder / name], check=True)
    return [Image.open(path).filter(ImageFilter.GaussianBlur(2)) for path in sorted(folder.glob(f"{name}-*.pgm"))]


def difference(one: Image.Image, other: Image.Image) -> float:
    """Mean difference of two pictures, 0 to 1."""
    assert one.size == other.size
    return ImageStat.Stat(ImageChops.difference(one, other)).mean[0] / 255


def shifted(one: Image.Image, other: Image.Image) -> float:
    """The difference of two pages without head and foot, which hold the phone in the one and in the other, where the second may stand lower."""
    area = (0, round(12 * DPI / 25.4), one.width, one.height - round(22 * DPI / 25.4))
    return min(difference(ImageChops.offset(one, 0, down).crop(area), other.crop(area)) for down in range(LOWER + 1))


FULL = "&layout=page"
"""The wish for a page for each exercise."""


@pytest.mark.parametrize("size", ["standard", "large"])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_same_rows_as_the_pdf(browser: Browser, folder: Path, tmp_path: Path, paper: str, size: str) -> None:
    """Several exercises on a page: as many pages printed from Chromium as in the PDF, and they look alike; in large type at most one more."""
    bundle = replace(BUNDLE, picks=(*BUNDLE.picks, pick_of("lift"), pick_of("squat")))
    page = opened(browser, folder, f"{code_of(bundle)}&paper={paper}", size)
    printed = pictures(page.pdf(prefer_css_page_size=True), tmp_path, "browser")
    shown = page.locator("main > article").count()
    page.close()
    setting = picked_setting(bundle, libraries()[0], Wording("en"), PaperDrawings(), EDITION).on(paper, size)
    laid = kept(lay_out_document, picked_document(setting, bundle, code_of(bundle)))
    assert [problem.rule for problem in laid.problems] == []
    wanted = pictures(laid.pdf, tmp_path, "writer")
    assert len(wanted) == laid.pages and shown <= len(printed)
    if size == "large":
        # the line for the pen takes a line more on the first page of the browser's, which may push a row to another page
        assert len(printed) - len(wanted) in (0, 1)
        return
    alike = [difference(one, other) for one, other in zip(printed, wanted, strict=True)]
    assert alike[0] < ROWS_ALIKE and max(alike[1:]) < ALIKE, alike


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_same_pages_as_the_pdf(browser: Browser, folder: Path, tmp_path: Path, paper: str) -> None:
    """Every page printed from Chromium looks like the page of the PDF, and like no other page."""
    page = opened(browser, folder, f"{code_of(BUNDLE)}&paper={paper}{FULL}")
    printed = pictures(page.pdf(prefer_css_page_size=True), tmp_path, "browser")
    page.close()
    setting = picked_setting(BUNDLE, libraries()[0], Wording("en"), PaperDrawings(), EDITION).on(paper, "standard")
    laid = kept(lay_out_document, picked_document(setting, BUNDLE, code_of(BUNDLE), full=True))
    assert [problem.rule for problem in laid.problems] == []
    wanted = pictures(laid.pdf, tmp_path, "writer")
    assert len(printed) == len(wanted) == 3
    alike = [(difference if not number else shifted)(one, other) for number, (one, other) in enumerate(zip(printed, wanted, strict=True))]
    unlike = [min(shifted(printed[one], wanted[other]) for other in range(3) if one != other) for one in range(3)]
    # on the first page the line for the pen stands below the head, not in it; in the PDF the stop rules stand on the cover alone, in the browser on each sheet
    assert max(alike[1:]) < FULL_ALIKE and alike[0] < FIRST_ALIKE, alike
    assert alike[0] < unlike[0] and all(other > UNLIKE * own for own, other in zip(alike[1:], unlike[1:], strict=True)), (alike, unlike)


@pytest.mark.parametrize("size", ["standard", "large"])
def test_blocks_stand_as_in_the_pdf(size: str) -> None:
    """What stands beside the figure, and what below it, is told from the same texts and the same figure; in the PDF the cover has the stop rules."""
    page = the_site()[f"en/sheets/{size}/index.html"].decode()
    setting = picked_setting(BUNDLE, libraries()[0], Wording("en"), PaperDrawings(), EDITION).on("letter", size)
    document = picked_document(setting, BUNDLE, code_of(BUNDLE), full=True).html

    def blocks(html: str, slug: str) -> list[str]:
        text = html.split(f'<article id="{slug}"')[1].split("</article>", maxsplit=1)[0]
        # the booklet's large type has the words of the dose in a block of their own below its numbers
        return [name for name, _ in groupby(re.findall(r'class="(front|back|lead|left|right|steps|dose|columns|cues|feel|mistakes|ready|ways)', text))]

    for slug in ("sit", "stand"):
        assert blocks(page, slug) == blocks(document, slug) and "cues" in blocks(page, slug)


def test_doses_and_location_are_the_bundles(browser: Browser, folder: Path) -> None:
    """Numerals, ticks for three weeks, and only the phone of the bundle's location."""
    page = opened(browser, folder, code_of(BUNDLE) + FULL)
    assert [each.inner_text() for each in page.locator("#sit .dose b").all()][:2] == ["2", "12"]
    expect(page.locator("#entries")).to_contain_text("2 sets of 12, 3 days a week", use_inner_text=True)
    expect(page.locator("#ticks th[scope=col]")).to_have_text(["Exercise", "Week 1", "Week 2", "Week 3"], use_inner_text=True)
    expect(page.locator("#ticks .box")).to_have_count(2 * 3 * 3)
    expect(page.locator("#sit .calls span")).to_have_text(["Emergency: 911", "Hill Road 555-0101"], use_inner_text=True)
    expect(page.locator("article")).to_have_count(3)
    page.close()


def test_each_sheet_has_the_code_of_its_page(browser: Browser, folder: Path, tmp_path: Path) -> None:
    """Drawn by the page's script, of those sheets alone that are shown, and read as the address that the PDF has."""
    page = opened(browser, folder, code_of(BUNDLE) + FULL)
    expect(page.locator("[data-address]")).to_have_count(0)
    for slug in ("sit", "stand"):
        page.locator(f"#{slug} .code svg").screenshot(path=tmp_path / "code.png")
        (found,) = zxingcpp.read_barcodes(Image.open(tmp_path / "code.png").resize((600, 600)))
        assert found.text == f"{libraries()[0].clinic.site.rstrip('/')}/en/exercises/{slug}/index.html"
    page.close()
    assert "<svg xmlns" not in (folder / "en/sheets/standard/index.html").read_text("utf-8").partition("<main")[2]


def test_figures_show_the_side_that_is_trained(browser: Browser, folder: Path) -> None:
    """The figure of an exercise for the left side is mirrored on its page and in the list, and says so; every other stays."""
    page = opened(browser, folder, code_of(BUNDLE))
    expect(page.locator("#row-stand .figure img")).to_have_attribute("alt", "Stand up. It rises")
    expect(page.locator("#row-sit .figure img")).to_have_attribute("alt", "Sit tall. It falls")
    assert "sheet-stand-left" in (page.locator("#row-stand .figure img").get_attribute("src") or "")
    expect(page.locator("#row-stand .dose")).to_contain_text("left side only", use_inner_text=True)
    expect(page.locator("#row-sit .dose")).not_to_contain_text("side only", use_inner_text=True)
    page.close()
    page = opened(browser, folder, code_of(BUNDLE) + FULL)
    for place in ("#stand .figure img", "#entries > li:nth-child(2) img"):
        expect(page.locator(place)).to_have_attribute("alt", "Stand up. It rises")
        assert "sheet-stand-left" in (page.locator(place).get_attribute("src") or "")
        assert page.locator(place).evaluate("one => one.complete && one.naturalWidth > 0")
    for place in ("#sit .figure img", "#entries > li:nth-child(1) img"):
        expect(page.locator(place)).to_have_attribute("alt", "Sit tall. It falls")
    expect(page.locator("#stand .dose")).to_contain_text("left side only", use_inner_text=True)
    page.close()
    right = bundle_of(pick_of("stand", side=Side.RIGHT), location="hill", language="en")
    page = opened(browser, folder, code_of(right))
    expect(page.locator("#stand .figure img")).to_have_attribute("alt", "Stand up. It falls")
    page.close()
    for full, anchors in ((True, ("sit", "stand")), (False, ("row-sit", "row-stand"))):
        html = picked_document(picked_setting(BUNDLE, libraries()[0], Wording("en"), PaperDrawings(), EDITION), BUNDLE, code_of(BUNDLE), full=full).html
        drawn = [html.split(f'id="{anchor}"')[1].split("</article>")[0] for anchor in anchors]
        assert [(MIRRORED[1] in text, PLAIN[1] in text) for text in drawn] == [(False, True), (True, False)]


def test_front_names_what_it_was_begun_from(browser: Browser, folder: Path) -> None:
    """Several exercises on a page: the programme's step stands below the title, as in the PDF; without one there is no heading for it."""
    begun = replace(BUNDLE, origin=Origin("programme", "rise", 1))
    html = picked_document(picked_setting(begun, libraries()[0], Wording("en"), PaperDrawings(), EDITION), begun, code_of(begun)).html
    named = re.findall("</h1>\n<h2>(.*?)</h2>", html)
    assert len(named) == 1
    for bundle, wanted in ((begun, named), (BUNDLE, [])):
        page = opened(browser, folder, code_of(bundle))
        expect(page.locator("#front .title h2")).to_have_text(wanted, use_inner_text=True)
        page.close()


def test_cautions_stay_with_the_exercises(browser: Browser, folder: Path) -> None:
    """One exercise a page: the first page has the stop rules. Several on a page: it has every caution of the exercises."""
    page = opened(browser, folder, code_of(BUNDLE) + FULL)
    expect(page.locator("#cover .safety > .cautions:visible")).to_have_count(2)
    expect(page.locator("#stand .ask")).to_contain_text("You have a new hip.", use_inner_text=True)
    page.close()
    page = opened(browser, folder, f"{code_of(BUNDLE)}&line=yes")
    expect(page.locator("main > article")).to_have_count(1)
    expect(page.locator("#front .ask")).to_contain_text("You have a new hip.", use_inner_text=True)
    expect(page.locator("#front .ask .at")).to_have_text("Exercise 2:", use_inner_text=True)
    expect(page.locator("#front .ask li:has(.at)")).to_have_text(re.compile(r"^Exercise 2: You have a new hip\."), use_inner_text=True)
    expect(page.locator("#front .care")).to_have_count(0)
    expect(page.locator("#front .row .steps li")).to_have_count(4)
    expect(page.locator("#front .row .pen")).to_have_count(2)
    expect(page.locator("#row-sit .dose b")).to_have_text(["2", "12", "3"], use_inner_text=True)
    expect(page.locator("#row-sit .box")).to_have_count(3 * 3)
    page.close()


def test_large_type_takes_two_pages_each(browser: Browser, folder: Path, tmp_path: Path) -> None:
    """In large type each exercise keeps to two pages, and text is at least 16 points (UKAAF G003, 2019)."""
    page = opened(browser, folder, code_of(BUNDLE) + FULL, size="large")
    sizes = page.evaluate("[...document.querySelectorAll('article *')].filter(one => one.innerText && !one.children.length).map(one => parseFloat(getComputedStyle(one).fontSize) * 0.75)")
    assert round(min(sizes), 3) >= 16
    count = len(pictures(page.pdf(prefer_css_page_size=True), tmp_path, "large"))
    assert count in (5, 6)
    assert page.locator("#cover .page-foot").text_content().endswith(f" of {count}")
    page.close()


@pytest.mark.parametrize("wish", ["", "MARIA", "constructor", "<script>alert(1)</script>", "&print", "%00"])
def test_what_is_no_code_shows_nothing(browser: Browser, folder: Path, wish: str) -> None:
    """A damaged code shows the refusal and no exercise, and prints nothing."""
    page = browser.new_page()
    page.add_init_script(PRINTED)
    page.goto((folder / "en/sheets/standard/index.html").as_uri() + f"#{wish}")
    expect(page.locator("#refused")).to_have_text("This link or code is incomplete. Nothing was opened.")
    expect(page.locator("#sheets")).to_be_hidden()
    expect(page.locator("html")).not_to_have_attribute("data-printed", re.compile(""))
    page.close()


def test_spanish_sheets_refuse_what_is_not_in_spanish(browser: Browser, folder: Path) -> None:
    """The Spanish sheets know only what is published in Spanish: no mixed page."""
    code = code_of(bundle_of(pick_of("sit"), pick_of("lift"), location="main", language="es"))
    page = opened(browser, folder, code, language="es")
    expect(page.locator("#sheets")).to_be_hidden()
    expect(page.locator("#refused")).to_contain_text("S2T6")
    page.close()




def in_arabic_too() -> Library:
    """The library of a clinic that publishes it in Arabic too."""
    english = libraries()[0]
    return replace(english, clinic=replace(english.clinic, languages=replace(english.clinic.languages, also=("ar",))))


@pytest.fixture(scope="module")
def arabic(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site as if its texts were Arabic, with the Arabic words of the program; one exercise is not reviewed."""
    where = tmp_path_factory.mktemp("arabic")
    files, problems = read_folder(ROOT / "templates", "templates")
    assert problems == []
    both = (in_arabic_too(), replace(in_arabic_too(), language="ar"))
    wordings = {library.language: Wording(library.language) for library in both}
    edition = Edition(version="v1", unreviewed={"ar": frozenset({"exercises/sit"})})
    annex = read_clinician_pages(files, limits_of, PaperDrawings())
    write_site(lay_out_site(both, wordings, Drawings(), asset_sources(), edition, site_parts=(annex,)), where)
    return where


PLACE_OF = """(line, wanted) => {
  const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const at = node.data.indexOf(wanted);
    if (at < 0) continue;
    const range = document.createRange();
    range.setStart(node, at);
    range.setEnd(node, at + wanted.length);
    const boxes = [...range.getClientRects()];
    return [Math.min(...boxes.map((box) => box.left)), Math.max(...boxes.map((box) => box.right))];
  }
  return null;
}"""
"""Where a part of a line is drawn: its left and right edge in CSS pixels."""


@pytest.mark.parametrize("size", ["standard", "large"])
def test_emergency_number_stands_with_its_label(browser: Browser, arabic: Path, size: str) -> None:
    """Read from the right: the label, directly after it the emergency number, the location's name, its phone."""
    code = encode_bundle(replace(BUNDLE, language="ar"), make_catalogue(in_arabic_too()))
    assert isinstance(code, str), code
    page = opened(browser, arabic, code + FULL, size, "ar")
    page.emulate_media(media="print")
    lines = page.locator("article:visible .calls")
    expect(lines).to_have_count(3)
    for line in lines.all():
        places = [line.evaluate(PLACE_OF, wanted) for wanted in ("الطوارئ:", "911", "Hill Road", "555-0101")]
        assert None not in places, line.inner_text()
        assert all(right[0] >= left[1] - 0.5 for right, left in zip(places, places[1:])), places
        assert places[0][0] - places[1][1] < 8, places
    page.close()


@pytest.mark.parametrize("wish", ["", FULL])
def test_every_page_says_not_reviewed(browser: Browser, folder: Path, tmp_path: Path, wish: str) -> None:
    """The foot of every printed page says that the translation is not reviewed; in the source language none does."""
    for language, pages in (("es", True), ("en", False)):
        page = opened(browser, folder, code_of(replace(BUNDLE, language=language)) + wish, language=language)
        text = text_of(page.pdf(prefer_css_page_size=True))
        mark = Wording(language).say("paper.unreviewed")
        found = [mark in " ".join(each.split()) for each in pages_of(text)]
        assert found and found == [pages] * len(found), text
        page.close()

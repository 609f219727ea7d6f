"""Exercises laid out on one tall page, their blocks set again and put together: the pages are those of plain layouts, to the pixel."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pikepdf
import pypdfium2
import pytest
from numpy.typing import NDArray

from handouts.paper.articles import Document
from handouts.paper.contained_writer import draw, lay_out, render_pdf, stack_of
from handouts.paper.document import ArticleSource, cut_out, sources_of
from handouts.paper.figure_side import move_below
from handouts.paper.laying import _draw_articles, _DrawnParts, _each_now, lay_out_document
from handouts.paper.page_sums import PageRoom
from handouts.paper.plan import sheet_document
from handouts.paper.settle import Settled, draw_article, settle
from handouts.paper.stacking import reference
from handouts.paper.tall import set_tall, with_alternatives
from handouts.paper.writer.blocks import FAULT as FAULT_OF_ROW
from handouts.paper.writer.blocks import LISTED, PICTURED, PLAIN, RUN_ON, WORDS_BELOW, WORDS_BESIDE, Stacking
from handouts.paper.writer.stack import Stack
from tests.paper.making import BOOKLET, KINDS, ROWS, SHEET, a_setting, documents, pages_of, text_of
from tests.paper.test_document import document_with, more_steps
from tests.small_library import small_library, texts_with

pytestmark = pytest.mark.paper

DOTS = 96


def pictures(pdf: bytes) -> list[NDArray[np.uint8]]:
    """Each page as a picture of 96 dots an inch."""
    return [page.render(scale=DOTS / 72).to_numpy() for page in pypdfium2.PdfDocument(pdf)]


BLOCK = re.compile(r'(?=<section class="(?:cues|feel|mistakes|ready)|<div class="ways">)')
ITEM = re.compile(r"<li>.*?</li>\n", re.DOTALL)
WHOLE = {
    "kicker": r'<p class="kicker">.*?</p>\n', "why": r'<p class="why">.*?</p>\n', "review": r'<p class="review small">.*?</p>\n',
    "ways": r'<div class="ways">.*?</div>\n', "ready": r'<section class="ready run-in">.*?</section>\n',
    "behind": r'<div class="behind">.*?</div>\n',
    PICTURED: r'<section class="mistakes pictured">.*?</section>\n', PLAIN: r'<section class="mistakes">.*?</section>\n',
    WORDS_BESIDE: r'<div class="dose-words">.*?</div>\n', WORDS_BELOW: r'<section class="dose-words">.*?</section>\n',
    LISTED: r'<div class="cautions stop listed">.*?</div>\n', RUN_ON: r'<div class="cautions stop">.*?</div>\n',
}  # fmt: skip
"""What is left out whole, as the template writes it."""


def without_items(html: str, name: str, left_out: tuple[str, ...]) -> str:
    """The HTML of an exercise without the cues or faults that are left out."""
    start = html.find(f'<section class="{name}">')
    if start < 0:
        return html
    end = html.index("</section>", start)
    shown = iter(f"{name.partition(' ')[0]} {number}" not in left_out for number in range(1, 20))
    return html[:start] + ITEM.sub(lambda found: found[0] if next(shown) else "", html[start:end]) + html[end:]


def said_by(html: str, settled: Settled) -> str:
    """The HTML of an exercise without what is left out, with the blocks of its columns in the order in which they stand."""
    stacking = settled.stacking
    assert stacking
    html = with_alternatives(html, listed=LISTED in stacking.left_out or RUN_ON in stacking.left_out)
    if '<section class="mistakes">' not in html:  # a front, or a row, which has one fault
        html = re.sub(r'<p class="fault">.*?</p>\n', "", html) if FAULT_OF_ROW in stacking.left_out else html
        return without_texts(html, stacking.left_out)
    html = move_below(html) if settled.below else html
    for name in ("cues", "mistakes", "mistakes pictured"):
        html = without_items(html, name, stacking.left_out)
    columns = re.search(r'(<div class="columns">\n)(.*?)(</div>\s*(?:<section class="safety|<div class="behind">))', html, re.DOTALL)
    if not columns:
        return without_texts(html, stacking.left_out)
    blocks = [block for block in BLOCK.split(columns[2]) if block]
    sides = ["".join(block for place, block in enumerate(blocks) if (place in stacking.first) == side) for side in (True, False)]
    both = "".join(f'<div class="{name}">{side}</div>\n' for name, side in zip(("one", "two"), sides, strict=True))
    return without_texts(html[: columns.end(1)] + both + html[columns.start(3) :], stacking.left_out)


def without_texts(html: str, left_out: tuple[str, ...]) -> str:
    """The HTML without what is left out whole."""
    for name, pattern in WHOLE.items():
        html = re.sub(pattern, "", html, flags=re.DOTALL) if name in left_out else html
    return html


def as_set(document: Document) -> str:
    """The HTML of a document with each exercise as it is set: in the order of its columns, without what is left out."""
    html = document.html
    shares = any(each.shares for each in document.articles)
    for number, source in enumerate(_draw_articles([document], _DrawnParts(_each_now, draw_article, ""))[0][0] if shares else sources_of(document)):
        if document.articles[number].shares and source.above:
            one_above = cut_out(document.articles[number - 1], html)
            html = html.replace(one_above, re.sub(r'<section class="entries">.*?</section>', "", one_above, flags=re.DOTALL), 1)
        settled = settle(source).settled
        if settled.stacking:
            text = cut_out(source.article, html)
            html = html.replace(text, said_by(text, settled), 1)
    return html


def at_once(source: ArticleSource, settled: Settled) -> list[NDArray[np.uint8]]:
    """An exercise by a plain layout in the spacings that were chosen, each page broken where it was."""
    stacking = settled.stacking
    assert stacking
    html = said_by(source.html, settled).replace('class="cautions stop"', 'class="stop cautions"')  # one form alone is laid out
    source = replace(source, html=html, article=settled.article)
    name, least, rules = "html article.exercise", stacking.spacings[0].figure, [
        "{0} .columns > * { margin-top: 0; } {0} .one > * + *, {0} .two > * + * { margin-top: var(--gap); }",
        "{0} .one { float: left; } {0} .two { float: right; } {0} .columns::after { content: ''; display: block; clear: both; }",
        "[dir=rtl] article.exercise .one { float: right; } [dir=rtl] article.exercise .two { float: left; }",
    ]
    rules.append(f"{{0}} .figure {{ height: {least:.4f}px; }}")
    for spacing, first in zip(stacking.spacings, (0, *stacking.cuts), strict=True):
        # the children of an article: title, lead, dose, columns, safety, behind, its end
        behind = [f"{{0}} > .{each}" for each in ("safety", "behind")[first - 4 :]] if first else ["{0}[id]"]
        rules.append(f"{', '.join(behind)} {{ --line: {spacing.line:.6f}; --gap: {spacing.gap:.6f}px; line-height: var(--line); }}")
        rules += [f"{behind[0]} {{ break-before: page; }}"] if first else []
    page = f"@page {{ size: {source.width}mm {source.height}mm; margin: 0; }}"
    text = set_tall(source).replace("</head>", f"<style>{page} {' '.join(rules).replace('{0}', name)}</style></head>", 1)
    laid = render_pdf(text, {}, source.article.place)
    assert laid.problems == ()
    return pictures(laid.pdf)


@pytest.mark.parametrize(("steps", "language"), [(2, "en"), (14, "en"), (20, "en"), (26, "en"), (11, "ar")])
def test_same_pages_as_at_once(steps: int, language: str) -> None:
    """Blocks that were set again stand where a layout in the chosen spacing has them, to the pixel."""
    library = small_library(texts_with("exercises/foot-lift.md", more_steps(steps)))
    document = sheet_document(a_setting(replace(library, language=language)), library.exercise["foot-lift"])
    if language == "ar":
        document = replace(document, html=document.html.replace('lang="ar" dir="ltr"', 'lang="ar" dir="rtl"'))
    (source,) = sources_of(document)
    part = settle(source)
    assert part.settled.stacking and part.layouts <= 2
    again, plain = pictures(draw([part.layout]).pdf), at_once(source, part.settled)
    assert len(again) == len(plain)
    for number, (one, other) in enumerate(zip(again, plain, strict=True)):
        # a hair rule may be drawn a row of pixels further; a line of text that stands a pixel further is 0.01 and more
        assert (one != other).mean() < 0.002, (number, (one != other).mean())


def test_heights_are_those_of_the_boxes() -> None:
    """In every spacing the sums say where a page ends, within a hundredth of a pixel."""
    (source,) = sources_of(document_with(9))
    for calm in (0.0, 0.4, 1.0):
        tall = lay_out(set_tall(source), {}, source.article.place)
        stack = stack_of(tall, source.article.anchor, reference("standard"))
        spacing = PageRoom(0, 0, 0, "standard", "en").spacing(calm, 150.0)
        names = [block.name for block in stack.blocks if block.name not in ("lead", "columns")]
        heights = {block.name: stack.height(block, spacing) for block in stack.blocks if block.name in names and block.name}
        (page,) = stack.set_again(Stacking((spacing,), (), (0, 1)), [900.0], lambda *_, **__: None)
        boxes = {block.name: block.box.margin_height() for block in stack.blocks if block.name in heights}
        assert {name: round(height, 2) for name, height in heights.items()} == {name: round(height, 2) for name, height in boxes.items()}
        assert page.height == 900.0


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
    assert bool(links) == (kind not in (SHEET, ROWS))
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


def test_no_article_is_a_mistake_of_the_program() -> None:
    """A page without the element is not passed over."""
    with pytest.raises(ValueError, match="no article 'x'"):
        Stack(SimpleNamespace(children=()), "x", reference("standard"))

"""Sheets at a printer that trims 6 mm, in grey, and as a photocopy of a photocopy: dose, steps and stop rules are read back, the figure tells what moves.

``tests/long/copies.py`` does this with every kind of sheet in every language.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from handouts.build.loading import load
from handouts.build.pipeline import draw
from handouts.build.settings import Settings
from handouts.paper.articles import Document
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.document import sources_of
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import bundle_document, compact_document, sheet_document
from handouts.paper.settle import settle
from handouts.paper.writer.blocks import PLAIN
from handouts.site.context import Edition
from handouts.words.wording import Wording
from tests.bench.library import TODAY
from tests.kept import kept, shared_results
from tests.paper.copies import (
    BLUR_MM,
    contrasts,
    copied,
    filled_share,
    grey_page,
    ink_at_edges,
    kept_share,
    letters_on,
    read_back,
)
from tests.words.demo import ROOT

pytestmark = pytest.mark.paper

SLUG = "stairs-first-two-weeks"
LEAST_READ, WORST_LINE = 0.975, 0.85
"""Share of letters that must be read right on a page, and in each of its lines; what is taken for another is a comma for a full stop, an l for a t."""


@cache
def demo_setting() -> PaperSetting:
    """The demo in English with the figures of one bundle."""
    with shared_results():
        settings = Settings(ROOT / "content", ROOT / "none", TODAY)
        loaded = load(settings)
        assert loaded.library is not None
        wanted = {pick.exercise.slug for pick in loaded.library.bundle[SLUG].picks}
        shown = tuple(each for each in loaded.library.exercises if each.slug in wanted)
        figures, _ = draw(replace(loaded, library=replace(loaded.library, exercises=shown)), settings)
        return make_setting(loaded.library, Wording.of(loaded.library), figures.for_paper(), Edition(version="K7QX2M"))


def made(kind: str) -> Document:
    """A sheet of one exercise, the compact sheet, the booklet, the folded booklet."""
    setting = demo_setting()
    bundle = setting.library.bundle[SLUG]
    if kind == "sheet":
        return sheet_document(setting, setting.library.exercise[bundle.picks[0].exercise.slug])
    if kind == "rows":
        return compact_document(setting, bundle)
    return bundle_document(setting.folded() if kind == "folded" else setting, bundle)


def laid(document: Document) -> bytes:
    """Its PDF."""
    return kept(lay_out_document, document).pdf


@pytest.mark.parametrize(("kind", "page"), [("sheet", 0), ("rows", 0), ("booklet", 0), ("booklet", 1), ("folded", 0)])
def test_copy_of_a_copy(kind: str, page: int) -> None:
    """Nearly every letter is read right, every numeral of a dose too; nothing is lost at the edges; in grey each letter has 4.5 : 1."""
    pdf = laid(made(kind))
    grey = grey_page(pdf, page)
    assert ink_at_edges(grey) == 0
    assert min(contrasts(grey, letters_on(pdf, page))) >= 4.5
    read = read_back(pdf, page, copied(grey))
    assert read.share >= LEAST_READ and read.worst_line >= WORST_LINE, read
    assert read.numerals == 0, read


def test_a_bad_copy_is_noticed() -> None:
    """The measure fails where a person's eye would: blurred by half a millimetre the page is not read."""
    pdf = laid(made("sheet"))
    assert read_back(pdf, 0, copied(grey_page(pdf, 0), blur_mm=4 * BLUR_MM)).share < 0.8


ARROW, CONTOUR, SIGN = (r'<path[^>]*fill="#c8440b"[^>]*/>', ""), (r'stroke="#1d2b36"', 'stroke="none"'), (r'<path fill="#1d2b36" stroke="#ffffff"[^>]*/>', "")
"""How an arrow, a contour and the sign of a mistake are drawn (``templates/styles/figure.css``), and what is put there to see which dots are theirs."""


def without(document: Document, part: tuple[str, str]) -> Document:
    """The document without a part of its figures."""
    html = re.sub(*part, document.html)
    assert html != document.html
    return replace(document, html=html)


def test_figure_tells_what_moves() -> None:
    """Arrows and contours survive the second copy, and what was white stays white."""
    document = made("sheet")
    grey = grey_page(laid(document), 0)
    copy = copied(grey)
    assert kept_share(grey, grey_page(laid(without(document, ARROW)), 0), copy) >= 0.7
    assert kept_share(grey, grey_page(laid(without(document, CONTOUR)), 0), copy) >= 0.7
    assert filled_share(grey, copy) <= 0.01


def test_the_sign_of_a_mistake_survives() -> None:
    """Where the picture of a mistake stands on a sheet, its sign is seen in the second copy."""
    setting = demo_setting()
    sheets = (sheet_document(setting, setting.library.exercise[pick.exercise.slug]) for pick in setting.library.bundle[SLUG].picks)
    document = next(sheet for sheet in sheets if (found := settle(sources_of(sheet)[0]).settled.stacking) and PLAIN in found.left_out)
    grey = grey_page(laid(document), 0)
    assert kept_share(grey, grey_page(laid(without(document, SIGN)), 0), copied(grey)) >= 0.7

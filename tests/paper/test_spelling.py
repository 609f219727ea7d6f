"""The letters that an Arabic font's glyphs stand for, and that a PDF says them in any order of words."""

from __future__ import annotations

from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from handouts.paper.contained_writer import render_pdf
from handouts.paper.writer.spelling import Spelled, glyph_texts
from handouts.problems import Place
from handouts.templating.assets import read_templates
from tests.paper.making import text_of

PLACE = Place("test.md")
ARABIC = read_templates()["fonts/print/noto-sans-arabic-400.ttf"]


def test_shapes_and_ligatures_have_their_letters() -> None:
    """Every letter, its four shapes, and lam with alef as two letters."""
    texts = glyph_texts(ARABIC)
    font = TTFont(BytesIO(ARABIC))
    assert texts[font.getGlyphID(font.getBestCmap()[0x0644])] == "ل"
    said = list(texts.values())
    assert said.count("ل") >= 4
    assert said.count("ع") >= 4
    assert said.count("لا") >= 2


def test_other_fonts_are_left_alone() -> None:
    """A Latin font says what the PDF writer finds."""
    assert glyph_texts(read_templates()["fonts/print/atkinson-400.ttf"]) == {}
    spelled = Spelled({1: "a"})
    spelled[1], spelled[2] = "x", "y"
    assert dict(spelled) == {1: "a", 2: "y"}


@pytest.mark.paper
@pytest.mark.parametrize("words", [("قليلًا", "يعملان", "قدمًا"), ("قدمًا", "يعملان", "قليلًا"), ("يعملان", "قليلًا", "قدمًا")])
def test_no_letter_is_lost(words: tuple[str, ...]) -> None:
    """Whichever word comes first: a vowel sign on a ligature takes nothing from it and nothing from later words."""
    body = "".join(f"<p>{word}</p>" for word in words)
    html = f'<!doctype html><html lang="ar" dir="rtl"><head><meta charset="utf-8"><title>T</title></head><body><h1>عنوان</h1>{body}</body></html>'
    laid = render_pdf(html, {}, PLACE)
    assert laid.problems == ()
    text = text_of(laid.pdf)
    for letter in "قليعمدنا":
        assert text.count(letter) == f"عنوان{''.join(words)}".count(letter), letter

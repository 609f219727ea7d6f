"""What stands under a figure, wherever it is shown: what stripes and dots mean, or that there is no picture yet."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache, partial

import pytest

from handouts.build.figures import STYLE_SHEET, LibraryFigures, draw_figures
from handouts.library.read import read_library
from handouts.model import Library
from handouts.paper.context import make_setting as paper_setting
from handouts.paper.plan import sheet_document
from handouts.site.context import Edition
from handouts.store.memo import Memo
from handouts.templating.assets import read_templates
from handouts.words.wording import Wording
from handouts.workers import Workers
from tests.small_library import texts_with

POSE = "props: {chair: seat}, contacts: [foot.l floor, seat seat], start: {knee.r: 90}, end: {knee.r: 10}, arrow: ankle.r"
STRIPES, DOTS = "Stripes: muscles that work.", "Dots: where you feel a stretch."
NONE = "There is no picture of this exercise yet."


@cache
def the_figures(signs: str) -> tuple[Library, LibraryFigures]:
    """The small library whose 'foot-lift' has a figure with some signs; 'none' has no figure."""
    figure = "" if signs == "none" else f"figure: {{base: sitting, {POSE}{signs}}}\n"
    texts = texts_with("exercises/foot-lift.md", ("figure: {base: sitting}\n", figure))
    library, problems = read_library({path: text.encode() for path, text in texts.items()}, "lib")
    assert library is not None and not problems
    css = read_templates()[STYLE_SHEET].decode()
    figures, problems = draw_figures(library.exercises, {one.slug: "chair" for one in library.exercises}, css, partial(Memo().spread, Workers().map))
    assert problems == ()
    return library, figures


CASES = [(", active: [quads.r]", STRIPES), (", stretched: [calf.r]", DOTS), (", active: [quads.r], stretched: [calf.r]", f"{STRIPES} {DOTS}"), ("", ""), ("none", NONE)]


@pytest.mark.parametrize(("signs", "words"), CASES)
def test_words(signs: str, words: str) -> None:
    """Each sign that is drawn is explained, none that is not."""
    library, figures = the_figures(signs)
    assert figures.figure_note(library.exercise["foot-lift"], "en") == words
    drawn = figures.for_paper().figure_svg(library.exercise["foot-lift"], "en")
    assert ("h.1" in drawn) == (DOTS in words)


@pytest.mark.parametrize("language", ["es", "ar", "fr", "vi", "zh-Hans"])
def test_every_language(language: str) -> None:
    """The words are translated."""
    library, figures = the_figures(CASES[2][0])
    said = figures.figure_note(library.exercise["foot-lift"], language)
    assert said and "Stripes" not in said and "Dots" not in said


@pytest.mark.parametrize(("signs", "words"), CASES)
@pytest.mark.parametrize("size", ["standard", "large"])
def test_sheet(signs: str, words: str, size: str) -> None:
    """Under the figure of a sheet, once; nothing where nothing is to be said."""
    library, figures = the_figures(signs)
    setting = paper_setting(library, Wording("en"), figures.for_paper(), Edition(version="X"))
    html = sheet_document(replace(setting, size=size), library.exercise["foot-lift"]).html
    assert re.findall(r'<span class="figure-note">(.*?)</span>', html) == ([words] if words else [])
    assert html.index('class="figure"') < html.index("figure-note") if words else True



"""Large type whose blocks have no room on a page: steps and cautions are cut where they may be, and no page is left for a line or two."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from handouts.paper.document import ArticleSource, sources_of
from handouts.paper.geometry import PX_IN_MM
from handouts.paper.page_sums import PageRoom
from handouts.paper.plan import plan_documents
from handouts.paper.settle import settle
from handouts.paper.stacking import stack_pages
from handouts.paper.tall import TallArticle, with_alternatives
from handouts.paper.writer.blocks import WORDS_BELOW, WORDS_BESIDE
from handouts.paper.writer.boxes import boxes_in, cut_before, is_line, items_in
from tests.paper.test_document import source_with
from tests.paper.test_stop_lines import a_setting

pytestmark = pytest.mark.paper

LEAST_FILLED = 0.2
"""Of a last page, boxes to tick not counted."""


def filled(page: Any) -> float:
    """How far down a page its last line stands."""
    box = page._page_box
    return max((line.position_y + line.height for line in boxes_in(box) if is_line(line)), default=0.0) / float(box.height)


def source_of(language: str, slug: str) -> ArticleSource:
    """The large sheet of an exercise of the demo."""
    (source,) = sources_of(plan_documents(a_setting(language))[f"{language}/exercises/{slug}/{slug}-letter-large.pdf"]())
    return source


@pytest.mark.parametrize(("language", "slug", "pages"), [("en", "step-up", 3), ("en", "step-down", 3), ("es", "step-down", 4), ("fr", "bridge", 3)])
def test_no_page_for_a_line_or_two(language: str, slug: str, pages: int) -> None:
    """The last page has more than the date of the review; figure and steps begin on the first; one layout does."""
    part = settle(source_of(language, slug))
    made = part.layout.made.pages
    assert (len(made), part.layouts, part.settled.over) == (pages, 1, False)
    assert filled(made[-1]) >= LEAST_FILLED
    assert part.settled.stacking and part.settled.stacking.spacings[0].figure >= 45 * PX_IN_MM


def test_steps_are_cut_between_two() -> None:
    """All steps stand there once, in order, some of them below the figure."""
    part = settle(source_with(20, "large"))
    texts = [" ".join("".join(element.itertext()).split()) for page in part.layout.made.pages
             for box in items_in(page._page_box) if (element := box.element) is not None and "Push through" in "".join(element.itertext())]
    first = len([box for box in items_in(part.layout.made.pages[0]._page_box) if "Push through" in "".join(box.element.itertext())])
    assert part.settled.stacking and len(texts) == 18 and 0 < first < 18


def test_stop_rules_are_one_place() -> None:
    """Of cautions that are cut the first part alone is where the stop rules begin."""
    layout = settle(source_of("es", "step-down")).layout
    anchors = [name for page in layout.made.pages for name in page.anchors if name.endswith("--stop")]
    assert len(anchors) == len(set(anchors))


def test_both_parts_are_as_high_as_the_whole() -> None:
    """Nothing is lost between the parts of a block that is cut."""
    source = source_with(9, "large")
    tall = TallArticle(source, source.article)
    steps = next(block.box for block in tall.stack.blocks if block.name == "steps")
    for item in items_in(steps)[1:]:
        one, other = cut_before(steps, item)
        assert one.height + other.height == pytest.approx(steps.height)
        assert len(items_in(one)) + len(items_in(other)) == len(items_in(steps))


def test_words_of_a_dose_stand_once() -> None:
    """In large type they are laid out beside the figure and below it, and one of both is left out: below where the page is too low."""
    source = source_with(6, "large")
    assert with_alternatives(source.html, listed=False).count('class="dose-words"') == 2
    tall = TallArticle(source, source.article)
    chosen = set[str]()
    for height in range(260, 130, -10):
        room: PageRoom = replace(tall.room, height=height * PX_IN_MM)
        found = stack_pages(tall.stack, room, pages=2)
        chosen |= set(found.left_out) & {WORDS_BELOW, WORDS_BESIDE} if found else set()
        assert not found or len(set(found.left_out) & {WORDS_BELOW, WORDS_BESIDE}) == 1
    assert WORDS_BELOW in chosen
    assert not re.search("dose-words", with_alternatives(source_with(6).html, listed=True))


@pytest.mark.parametrize("slug", ["kneeling-ball-roll", "straight-leg-raise", "wall-calf-stretch", "counter-heel-raise"])
def test_a_figure_is_no_smaller_in_large_type(slug: str) -> None:
    """Text gives way for it, as in standard type, though a lower one would do; ``tests/long/sheet_measures.py`` looks at every sheet."""
    makers = plan_documents(a_setting("en"))
    heights = []
    for size in ("standard", "large"):
        (source,) = sources_of(makers[f"en/exercises/{slug}/{slug}-letter-{size}.pdf"]())
        stacking = settle(source).settled.stacking
        assert stacking
        heights.append(stacking.spacings[0].figure)
    assert heights[1] >= heights[0]

"""Sheets in two languages: set by sums, their pages are those of a plain layout; a heading never ends a page; cautions stay whole."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handouts.paper.contained_writer import draw, render_pdf
from handouts.paper.document import sources_of
from handouts.paper.geometry import PAIR_FIGURES, PX_IN_MM
from handouts.paper.pairs import stack_pairs
from handouts.paper.settle import settle
from handouts.paper.stacking import reference
from handouts.paper.tall import TallArticle, set_tall
from handouts.paper.writer.blocks import HEADING, SAFETY, Spacing
from handouts.paper.writer.boxes import has_class
from tests.paper.test_beside import sheet
from tests.paper.test_stack import pictures

pytestmark = pytest.mark.paper


@pytest.mark.parametrize("language", ["es", "ar"])
def test_same_pages_as_at_once(language: str) -> None:
    """Pairs that were set again stand where a layout in the chosen spacing has them, to the pixel."""
    (source,) = sources_of(sheet(language))
    part = settle(source)
    stacking = part.settled.stacking
    assert stacking and part.layouts == 1
    spacing = stacking.spacings[0]
    name = "html article.beside"
    rules = [
        f"@page {{ size: {source.width}mm {source.height}mm; margin: 0; }}",
        f"{name}[id] {{ --line: {spacing.line:.6f}; --gap: {spacing.gap:.6f}px; line-height: var(--line); }}",
        f"{name} .figure {{ height: {spacing.figure:.4f}px; }}",
        # a table of boxes to tick is as it was laid out; a forced break keeps the margin that a page does not begin with
        f"{name} .ticks {{ line-height: {reference('standard').line}; }}",
        *(f"{name} > :nth-child({cut + 1}) {{ break-before: page; margin-top: 0; }}" for cut in stacking.cuts),
    ]
    plain = render_pdf(set_tall(source).replace("</head>", f"<style>{' '.join(rules)}</style></head>", 1), {}, source.article.place)
    assert plain.problems == ()
    again, wanted = pictures(draw([part.layout]).pdf), pictures(plain.pdf)
    assert len(again) == len(wanted)
    assert all((one != other).mean() < 0.002 for one, other in zip(again, wanted, strict=True))


def test_what_gives_way() -> None:
    """Lines and gaps, then the figure; at last the cautions have a page more, and the rest is calm again.  No heading ends a page."""
    (source,) = sources_of(sheet("es"))
    tall = TallArticle(source, source.article)
    found = list[tuple[int, float, float]]()
    for height in range(240, 60, -2):
        room = replace(tall.room, height=height * PX_IN_MM)
        placed = next((stacking for apart in (False, True) if (stacking := stack_pairs(tall.stack, room, 2, apart=apart))), None)
        if placed:
            spacing: Spacing = placed.spacings[0]
            found.append((len(placed.spacings), spacing.line, round(spacing.figure / PX_IN_MM)))
            assert not any(has_class(tall.stack.blocks[cut - 1].box, HEADING) for cut in placed.cuts)
            assert len(placed.spacings) < 3 or tall.stack.blocks[placed.cuts[-1]].name == SAFETY
    pages = [count for count, *_ in found]
    assert pages == sorted(pages) and {2, 3} <= set(pages)
    assert {figure for _, _, figure in found} == set(PAIR_FIGURES)
    first_apart = pages.index(3)
    assert found[first_apart][1:] > found[first_apart - 1][1:]

"""Several exercises on a page: how high each row is, and where the blocks of the front stand, by sums over their heights.

A row is no higher than a third of a page in standard type, half in large, if its words can; then it gives up its fault.  The front leaves room for as
many rows as it takes to have the fewest pages; then it is set as calmly as that allows.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from handouts.paper.geometry import PX_IN_MM, ROW_AIM, ROW_CALMS, ROW_FIGURE, ROW_FIGURE_LEAST, ROW_MOST, SPARE_MM
from handouts.paper.packing import fill_pages
from handouts.paper.page_sums import CALMS, PageRoom, sum_blocks
from handouts.paper.tall import TallArticle
from handouts.paper.writer.blocks import FAULT, LEAD, LISTED, RUN_ON, Spacing, StackedBlock, Stacking
from handouts.paper.writer.stack import Stack

MOST_CUTS = 3
"""Pages that a front may take beside its first."""


def place_row(tall: TallArticle) -> tuple[Stacking, list[float]]:
    """The spacing of a row, and its height in CSS pixels."""
    room, tries = tall.room, [(figure * PX_IN_MM, calm) for figure in (ROW_FIGURE, ROW_FIGURE_LEAST) for calm in ROW_CALMS[tall.room.size]]
    aim, most = (heights[room.size] * PX_IN_MM for heights in (ROW_AIM, ROW_MOST))
    found = [_row(tall.stack, room, calm, figure) for figure, calm in tries]
    left_out: tuple[str, ...] = ()
    spacing, height = next((each for each in found if each[1] <= aim), min(found, key=lambda each: each[1]))
    if height > most:
        without = [_row(tall.stack, room, calm, figure, (FAULT,)) for figure, calm in tries]
        if fitting := next((each for each in without if each[1] <= most), None):
            (spacing, height), left_out = fitting, (FAULT,)
    return Stacking((spacing,), (), (), left_out), [height]


def _row(stack: Stack, room: PageRoom, calm: float, least: float, left_out: tuple[str, ...] = ()) -> tuple[Spacing, float]:
    """A spacing of a row whose figure is as high as the words beside it, or as ``least``, if it is wide enough; and the row's height."""
    plain = room.spacing(calm, 0.0)
    lead = next(block for block in stack.blocks if block.name == LEAD)
    words, beside = (
        sum_blocks(stack, [block for block in side if block.name not in left_out], plain, first=True) for side in (lead.right, lead.left)
    )
    figure = min(room.highest, max(words - beside, least))
    below = sum_blocks(stack, [block for block in stack.blocks if block is not lead], plain, first=False)
    return room.spacing(calm, figure), max(words, beside + figure) + _around(lead) + below


def _around(block: StackedBlock) -> float:
    """Margins, borders and padding above and below a block."""
    return float(block.box.margin_height() - block.box.height)


def _page_height(stack: Stack, blocks: Sequence[StackedBlock], spacing: Spacing, left_out: tuple[str, ...]) -> float:
    """The height of blocks one below the other, of which one may be two columns."""
    total = 0.0
    for number, block in enumerate(blocks):
        if block.name == LEAD:
            gap = spacing.gap if block.gap and number else 0.0
            own = _around(block) - (block.box.margin_top if block.gap else 0.0)
            total += gap + own + max(sum_blocks(stack, side, spacing, left_out, first=True) for side in (block.left, block.right))
        else:
            total += sum_blocks(stack, [block], spacing, left_out, first=not number)
    return total


def place_front(tall: TallArticle, rows: Sequence[float]) -> tuple[Stacking, list[float]]:
    """The spacing of a front's pages, where they end, and their heights in CSS pixels.  ``rows`` in millimetres.

    Each stop rule begins a line where that costs no page.
    """
    if not tall.listed:
        return _place_front(tall, rows, ())[:2]
    stacking, heights, pages = _place_front(tall, rows, (LISTED,))
    listed, more, count = _place_front(tall, rows, (RUN_ON,))
    return (listed, more) if count <= pages and len(more) <= len(heights) else (stacking, heights)


def _place_front(tall: TallArticle, rows: Sequence[float], without: tuple[str, ...]) -> tuple[Stacking, list[float], int]:
    """The same without what is left out, and all pages, those of rows too."""
    stack, room = tall.stack, tall.room
    blocks = stack.blocks
    hole = next(number for number, block in enumerate(blocks) if block.height.figure)
    height = room.height - SPARE_MM * PX_IN_MM
    found = []
    for count in range(MOST_CUTS):
        for cuts in combinations([place for place in range(1, len(blocks) - 1) if place != hole + 1], count):
            pages = [blocks[start:stop] for start, stop in zip((0, *cuts), (*cuts, len(blocks)), strict=True)]
            at = sum(cut <= hole for cut in cuts)
            for calm in CALMS:
                spacing = room.spacing(calm, 0.0)
                left = [height - _page_height(stack, page, spacing, without) for page in pages]
                if min(left) >= 0:
                    rooms = [left[at], left[-1]] if at < count else [left[at]]
                    first, further = fill_pages(rows, [each / PX_IN_MM for each in rooms], height / PX_IN_MM)
                    holes = [left[at] if on == at and first[0] else 0.0 for on in range(len(pages))]
                    found.append(((count + len(further), count, -calm), cuts, [room.spacing(calm, hole) for hole in holes]))
    if not found:
        cuts = tuple(place for place in range(1, len(blocks) - 1) if place != hole + 1)
        count = len(cuts) + 1
        return Stacking(tuple(room.spacing(0.0, 0.0) for _ in range(count)), cuts, (), without), [room.height] * count, count + len(rows)
    (fewest, *_), cuts, spacings = min(found, key=lambda each: each[0])
    return Stacking(tuple(spacings), cuts, (), without), [room.height] * len(spacings), 1 + fewest

"""A sheet in two languages on its pages: where each pair of paragraphs goes, by sums over their heights.

What does not keep to its pages gives up, in this order: room between lines and parts; height of the figure.  Where that is not enough, the
cautions have a page more to themselves and the rest is set calmly again.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from handouts.paper.geometry import PAIR_FIGURES, PX_IN_MM, SPARE_MM
from handouts.paper.page_sums import CALMS, PageRoom, sum_blocks
from handouts.paper.writer.blocks import HEADING, SAFETY, Spacing, StackedBlock, Stacking
from handouts.paper.writer.boxes import has_class
from handouts.paper.writer.stack import Stack


def stack_pairs(stack: Stack, room: PageRoom, pages: int, *, apart: bool) -> Stacking | None:
    """The places of the blocks on so many pages; with the cautions ``apart``, on one more.  None where they do not fit."""
    blocks, height = stack.blocks, room.height - SPARE_MM * PX_IN_MM
    end = next(number for number, block in enumerate(blocks) if block.name == SAFETY) if apart else len(blocks)
    for figure, calm in product(PAIR_FIGURES, CALMS):
        spacing = room.spacing(calm, figure * PX_IN_MM)
        cuts = _fill(stack, blocks[:end], spacing, height)
        if len(cuts) >= pages or (apart and sum_blocks(stack, blocks[end:], spacing, first=True) > height):
            continue
        cuts += [end] if apart else []
        return Stacking((spacing,) * (len(cuts) + 1), tuple(cuts))
    return None


def _fill(stack: Stack, blocks: Sequence[StackedBlock], spacing: Spacing, height: float) -> list[int]:
    """The blocks with which further pages begin; a heading never ends one."""
    cuts, start, number = list[int](), 0, 1
    while number < len(blocks):
        number += 1
        if sum_blocks(stack, blocks[start:number], spacing, first=True) > height:
            start = number - 1
            while start - 1 > (cuts[-1] if cuts else 0) and has_class(blocks[start - 1].box, HEADING):
                start -= 1
            cuts.append(start)
    return cuts

"""Where the blocks of an exercise in large type go: two pages or more, and what is cut where a block has no room on one."""


from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, partial
from itertools import combinations, product

from handouts.paper.geometry import (
    PX_IN_MM,
    SPARE_MM,
)
from handouts.paper.page_sums import (
    CALMS,
    GIVES_WAY,
    NEAR,
    SMALL_THINGS,
    PageRoom,
    SetPage,
    back_first,
    find_calmest,
    in_columns,
    least_figures,
    left_outs,
    removable_in,
    sum_blocks,
)
from handouts.paper.writer.blocks import (
    PICTURED,
    SAFETY,
    WORDS_BELOW,
    WORDS_BESIDE,
    StackedBlock,
    Stacking,
)
from handouts.paper.writer.boxes import has_class, items_in
from handouts.paper.writer.stack import Stack

STEPS_BLOCK, CAUTIONS = "steps", "cautions"
"""Classes of the steps, and of a group of cautions in the ruled block."""


def stack_large(stack: Stack, room: PageRoom, pages: int, without: tuple[str, ...]) -> Stacking | None:
    """Two pages or more, all but the first about as full as one another; figure, dose and steps are on the first, or those that were cut for it.

    Where two pages face each other, the steps may stand whole on the second rather than break.  What does not fit below the steps goes to
    the next page, the last block first: what is easier and harder, when one is ready, faults, what to feel, cues.  The figure is as high as
    can be, up to what is wanted: text gives way for it, as in standard type.
    """
    steps = next(number for number, block in enumerate(stack.blocks) if block.name == STEPS_BLOCK)
    facing = room.halves and pages == 2 and not room.above
    outs = left_outs(stack, pages > 2 or room.above > 0, without)
    own = room.height - SPARE_MM * PX_IN_MM - room.above
    tightest = cache(lambda first, left_out: in_columns(stack, room, stack.blocks[:first], own, CALMS[-1], left_out))

    def find(low: float, ahead: int) -> Stacking | None:
        for left_out in outs:
            if not (found := _large_pages(stack, room, pages, low, left_out, ahead, tightest)):
                continue
            for name in back_first(left_out):
                # what came before may have gained nothing
                more = tuple(each for each in found.left_out if each != name)
                found = _large_pages(stack, room, pages, low, more, ahead, tightest) or found
            return found
        return None

    for ahead, low in product((steps + 1, steps) if facing else (steps + 1,), dict.fromkeys((room.wanted, *least_figures(room)))):
        if found := find(low, ahead):
            higher = _highest(partial(find, ahead=ahead), low, room.wanted) if low < room.wanted and not room.halves else None
            return higher or found
    return None


def _highest(find: Callable[[float], Stacking | None], low: float, high: float) -> Stacking | None:
    """The pages with the highest figure that has any, to ``NEAR``, between a height that has some and one that has none; None for the former."""
    best: Stacking | None = None
    while high - low > NEAR:
        middle = (low + high) / 2
        if higher := find(middle):
            low, best = middle, higher
        else:
            high = middle
    return best


def _large_pages(
    stack: Stack, room: PageRoom, pages: int, low: float, left_out: tuple[str, ...], ahead: int,
    tightest: Callable[[int, tuple[str, ...]], SetPage | None],
) -> Stacking | None:
    """Pages of large type without some texts, on the first ``ahead`` blocks, and as many more as have room there.

    ``tightest`` gives the first page in the tightest spacing from the number of its blocks and what is left out.
    """
    blocks = stack.blocks
    safety = max((number for number, block in enumerate(blocks) if block.name == SAFETY), default=len(blocks) - 1)
    height = room.height - SPARE_MM * PX_IN_MM
    own, tight = height - room.above, room.spacing(CALMS[-1], 0.0)
    for first in range(safety, ahead - 1, -1):
        least = tightest(first, left_out)
        cuts = _even_cuts(stack, room, first, safety, pages, left_out) if least and least.figure >= low else ()
        parts = [blocks[start:stop] for start, stop in zip(cuts, (*cuts[1:], len(blocks)), strict=True)] if cuts else []
        rooms = [height - (room.free if part is parts[-1] else 0.0) for part in parts]
        if not parts or any(sum_blocks(stack, part, tight, left_out, first=True) > each for part, each in zip(parts, rooms, strict=True)):
            continue
        calms = [find_calmest(stack, room, part, each, left_out) for part, each in zip(parts, rooms, strict=True)]
        fronts = (in_columns(stack, room, blocks[:first], own, calm, left_out) for calm in CALMS)
        front = next(page for page in fronts if page and page.figure >= low)
        return Stacking((room.spacing(front.calm, front.figure), *(room.spacing(calm, 0.0) for calm in calms)), cuts, (), left_out)
    return None


def _even_cuts(stack: Stack, room: PageRoom, first: int, last: int, pages: int, left_out: Sequence[str]) -> tuple[int, ...]:
    """The blocks, up to the ``last`` that may, with which the pages after the first begin: the fullest of them is as little full as can be."""
    calm, blocks = room.spacing(1.0, 0.0), stack.blocks

    def fullest(cuts: tuple[int, ...]) -> float:
        ends = (*cuts[1:], len(blocks))
        free = (*(0.0 for _ in cuts[1:]), room.free)
        return max(sum_blocks(stack, blocks[start:end], calm, left_out, first=True) + left for start, end, left in zip(cuts, ends, free, strict=True))

    return min(((first, *further) for further in combinations(range(first + 1, last + 1), pages - 2)), key=fullest, default=())


def cut_blocks(stack: Stack, room: PageRoom) -> None:
    """Cuts what has no room on a page of large type: steps below a figure of the least height, as late as can be; cautions below the stop rules."""
    number = next(number for number, block in enumerate(stack.blocks) if block.name == STEPS_BLOCK)
    height, small = room.height - SPARE_MM * PX_IN_MM, (*sum(GIVES_WAY[:SMALL_THINGS], ()), *_spare_words(stack), PICTURED)

    def below_figure(block: StackedBlock) -> bool:
        page = in_columns(stack, room, [*stack.blocks[:number], block], height - room.above, 0.0, small)
        return page is not None and page.figure >= least_figures(room)[-1]

    if not below_figure(stack.blocks[number]):
        stack.cut(number, items_in(stack.blocks[number].box)[1:], below_figure)
    number = next((number for number, block in enumerate(stack.blocks) if block.name == SAFETY), len(stack.blocks))
    if sum_blocks(stack, stack.blocks[number:], room.spacing(0.0, 0.0), small, first=True) > height - room.free:
        groups = [child for child in stack.blocks[number].box.children if has_class(child, CAUTIONS)]
        stack.cut(number, groups[1:], lambda block: sum_blocks(stack, [block], room.spacing(0.0, 0.0), first=True) <= height)


def _spare_words(stack: Stack) -> tuple[str, ...]:
    """The words of a dose that take room beside the figure, where they can stand below."""
    return (WORDS_BESIDE,) if {WORDS_BESIDE, WORDS_BELOW} <= removable_in(stack) else ()

"""Where the blocks of an exercise go on its pages: chosen by sums over their heights, nothing is laid out for it.

The figure leads: it is as wide as its column, or 55 hundredths of the page.  For that, and for a page, text gives way in this order:
room between lines and parts; the line above the title and the date of the review; the third fault, then the second; what it is good for;
what is easier and harder; cues but for the first two; when one is ready for the next.  What gains the figure little stays.  Where a page
is not enough, the figure is lower, down to ``FIGURE_LEAST``; then there is one page more, for everything.  Dose, steps, two cues, one
fault, what to feel, cautions, boxes to tick and the size of letters never give way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import accumulate, combinations, product

from handouts.paper.geometry import (
    BETWEEN,
    FIGURE,
    FIGURE_HALVES,
    FIGURE_LEAST,
    FOLD_SCALE,
    GAPS_MM,
    LARGE,
    LITTLE,
    PX_IN_MM,
    SPARE_MM,
    lines_of,
)
from handouts.paper.writer.stack import (
    COLUMNS,
    CUES,
    FAULTS,
    KICKER,
    LEAD,
    READY,
    REVIEW,
    WAYS,
    WHY,
    Spacing,
    Stack,
    StackedBlock,
    Stacking,
    every_block,
)

CALMS = tuple(1 - step / 12 for step in range(13))
"""Spacings that are tried, from the calmest to the tightest."""
OUT_OF_ORDER_MM = 1.0
"""What the columns must gain for each block that stands before one that comes earlier."""
GIVES_WAY = (
    (KICKER,), (REVIEW,), (f"{FAULTS} 3",), (f"{FAULTS} 2",), (WHY,), (WAYS,), (f"{CUES} 6", f"{CUES} 5"), (f"{CUES} 4",), (f"{CUES} 3",), (READY,)
)  # fmt: skip
"""What is left out for the figure and for a page, one after the other."""
SMALL_THINGS = 2
"""How many of them where there is a page more anyway."""
NEAR = 4.0
"""CSS pixels by which a figure may be lower so that a text comes back."""
RAGGED = 1.04
"""How much more lines take than the sum says where they break anew; measured on the demo's steps."""
SAFETY, NOTES, STEPS_BLOCK = "safety", "behind", "steps"
"""Classes of the ruled block, of the notes below it, and of the steps."""


@dataclass(frozen=True, slots=True)
class PageRoom:
    """What an exercise has on its pages, in CSS pixels."""

    height: float
    free: float
    """What its last page leaves free at its foot."""
    highest: float
    """The height at which the figure is as wide as its column."""
    size: str
    language: str
    wanted: float = 0.0
    """The height at which it is as wide as it should be: text gives way for it."""
    above: float = 0.0
    """What stands above it on its first page; only small things are left out for that."""
    halves: bool = False
    """Whether its pages are scaled to standard type, and may be set as tightly."""

    def spacing(self, calm: float, figure: float) -> Spacing:
        """From the tightest, 0, to the calmest, 1."""
        (low, high), (least, most) = lines_of(self.size, self.language), GAPS_MM[self.size]
        if self.halves:
            low, least = lines_of("standard", self.language)[0], GAPS_MM["standard"][0] / FOLD_SCALE
        return Spacing(low + (high - low) * calm, (least + (most - least) * calm) * PX_IN_MM, figure)


def reference(size: str) -> Spacing:
    """The spacing in which an exercise is laid out, with no figure: odd, so that what follows it is told from what does not."""
    return Spacing(1.173 if size != LARGE else 1.273, (1.37 if size != LARGE else 3.13) * PX_IN_MM, 0.0)


def stack_pages(stack: Stack, room: PageRoom, *, pages: int) -> Stacking | None:
    """The best places for the blocks of an exercise on so many pages; None where they do not fit."""
    if any(block.name == COLUMNS for block in stack.blocks):
        return _stack_columns(stack, room, pages)
    return _stack_large(stack, room, pages)


def sum_blocks(stack: Stack, blocks: Sequence[StackedBlock], spacing: Spacing, left_out: Sequence[str] = (), *, first: bool) -> float:
    """The height of blocks one below the other; the ``first`` of a page or column has no gap before it."""
    total = sum(stack.height(block, spacing, left_out) for block in blocks)
    if first and blocks and blocks[0].gap:
        total -= spacing.gap
    return total


@dataclass(frozen=True, slots=True)
class SetPage:
    """How a page with its figure is set: its spacing, the blocks of the first of two columns, what is left out of it."""

    calm: float
    figure: float
    first: tuple[int, ...]
    left_out: tuple[str, ...] = ()


def _stack_columns(stack: Stack, room: PageRoom, pages: int) -> Stacking | None:
    """One page, or two, on the second of which the notes stand, or the cautions too."""
    blocks = stack.blocks
    ends = [number for number, block in enumerate(blocks) if block.name in (NOTES, SAFETY)][::-1] if pages > 1 else [len(blocks)]
    height = room.height - room.above - SPARE_MM * PX_IN_MM - (room.free if pages == 1 else 0.0)
    for low, end in product(_lows(room), ends):
        left_outs = _left_outs(stack, pages > 1 or room.above > 0)
        page = choose_page(left_outs, low, room.wanted, partial(_in_columns, stack, room, blocks[:end], height))
        if page:
            behind = [room.spacing(_calmest(stack, room, blocks[end:], room.height - room.free), 0.0)] if pages > 1 else []
            return Stacking((room.spacing(page.calm, page.figure), *behind), (end,) * (pages - 1), page.first, page.left_out)
    return None


def choose_page(
    left_outs: Iterable[tuple[str, ...]], low: float, wanted: float, lay: Callable[[float, tuple[str, ...]], SetPage | None]
) -> SetPage | None:
    """The page with the most text whose figure is as high as is wanted, or little lower than it could be; then the calmest.

    None where every figure is lower than ``low``.
    """
    found = list[list[SetPage]]()
    for left_out in left_outs:
        pages = [page for calm in CALMS if (page := lay(calm, left_out)) and page.figure >= low]
        found.append(pages)
        if any(page.figure >= wanted for page in pages):
            break
    best = max((page.figure for pages in found for page in pages), default=0.0)
    enough = min(wanted, best * LITTLE)
    chosen = next((page for pages in found for page in pages if page.figure >= enough), None)
    if not chosen:
        return None
    for name in reversed(chosen.left_out):
        # what came before may have gained nothing
        more = lay(chosen.calm, tuple(each for each in chosen.left_out if each != name))
        chosen = more if more and more.figure > chosen.figure - NEAR else chosen
    return chosen


def _best(low: float, pages: Iterable[SetPage | None]) -> SetPage | None:
    """The first whose figure is high enough."""
    return next((page for page in pages if page and page.figure >= low), None)


def _in_columns(
    stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, calm: float, left_out: tuple[str, ...]
) -> SetPage | None:
    """A page with that spacing; None where its words do not fit."""
    spacing, used, steps, note = room.spacing(calm, 0.0), 0.0, 0.0, 0.0
    first: tuple[int, ...] = ()
    for number, block in enumerate(blocks):
        used += spacing.gap if number and block.gap else 0.0
        if block.name == COLUMNS:
            high, first = _balance([sum_blocks(stack, [each], spacing, left_out, first=True) for each in block.left], spacing.gap)
            used += high
        elif block.name == LEAD:
            note, steps = (sum_blocks(stack, side, spacing, left_out, first=True) for side in (block.left, block.right))
        else:
            used += sum_blocks(stack, [block], spacing, left_out, first=True)
    figure = min(room.highest, height - used - note)
    if steps > height - used or figure < 0:
        return None
    return SetPage(calm, figure, first, left_out)


def _balance(heights: Sequence[float], gap: float) -> tuple[float, tuple[int, ...]]:
    """The blocks of the first of two columns so that the higher one is low, and its height; blocks keep their order where that costs little."""
    places, found = range(len(heights)), []
    for count in range(1, len(heights) + 1):
        for first in combinations(places, count):
            if first[0] == 0:
                ends = [sum(heights[place] + gap for place in places if (place in first) == side) - gap for side in (True, False)]
                apart = sum(place not in first for place in places[: first[-1]])
                found.append((max(ends) + apart * OUT_OF_ORDER_MM * PX_IN_MM, max(ends), first))
    return min(found)[1:] if found else (0.0, ())


def share_that_fits(stack: Stack, room: PageRoom, width: float, share: float) -> float:
    """What the column of the figure may have of the width so that the steps alone have room beside it; told from a layout with another ``share``.

    ``width`` is that of the page in millimetres.  Lines break anew, so it is a little less than the sum says.
    """
    spacing, left_out = room.spacing(0.0, 0.0), sum(GIVES_WAY, ())
    right, half = (width - BETWEEN) * (1 - share), (width - BETWEEN) / 2
    used, steps = 0.0, 0.0
    columns = list[float]()
    for number, block in enumerate(stack.blocks):
        used += spacing.gap if number and block.gap else 0.0
        if block.name == LEAD:
            steps, *moved = (sum_blocks(stack, [each], spacing, left_out, first=True) for each in block.right)
            columns += [each * right / half for each in moved]
        elif block.name == COLUMNS:
            columns += [sum_blocks(stack, [each], spacing, left_out, first=True) for each in block.left]
        else:
            used += sum_blocks(stack, [block], spacing, left_out, first=True)
    left = room.height - room.above - SPARE_MM * PX_IN_MM - room.free - used - _balance(columns, spacing.gap)[0]
    return 1 - RAGGED * right * steps / left / (width - BETWEEN) if left > 0 else 0.0


def _lows(room: PageRoom) -> list[float]:
    """The least height of the figure, and what it gives up where the page would not do otherwise."""
    least = FIGURE_HALVES if room.halves else (FIGURE[room.size], FIGURE_LEAST[room.size])
    return [min(low * PX_IN_MM, room.highest) for low in least]


def _left_outs(stack: Stack, small: bool) -> list[tuple[str, ...]]:
    """What is left out, more and more; what is not there is not left out.  ``small`` where only small things are."""
    there = _removable(stack)
    sets = accumulate(GIVES_WAY[: SMALL_THINGS if small else None], lambda before, more: (*before, *more), initial=tuple[str, ...]())
    return list(dict.fromkeys(tuple(name for name in names if name in there) for names in sets))


def _removable(stack: Stack) -> set[str]:
    return {name for block in stack.blocks for each in every_block(block) for name in each.removable}


def _stack_large(stack: Stack, room: PageRoom, pages: int) -> Stacking | None:
    """Two pages, or three, the last two as full as one another; figure, dose and steps are on the first.

    Where two pages face each other, the steps may stand whole on the second rather than break.  What does not fit below the steps goes to
    the next page, the last block first: what is easier and harder, when one is ready, faults, what to feel, cues.
    """
    steps = next(number for number, block in enumerate(stack.blocks) if block.name == STEPS_BLOCK)
    facing = room.halves and pages == 2 and not room.above
    for ahead, low in product((steps + 1, steps) if facing else (steps + 1,), dict.fromkeys((room.wanted, *_lows(room)))):
        for left_out in _left_outs(stack, pages > 2 or room.above > 0):
            found = _large_pages(stack, room, pages, low, left_out, ahead)
            if not found:
                continue
            for name in reversed(left_out):
                # what came before may have gained nothing
                found = _large_pages(stack, room, pages, low, tuple(each for each in found.left_out if each != name), ahead) or found
            return found
    return None


def _large_pages(stack: Stack, room: PageRoom, pages: int, low: float, left_out: tuple[str, ...], ahead: int) -> Stacking | None:
    """Pages of large type without some texts, on the first ``ahead`` blocks, and as many more as have room there."""
    blocks = stack.blocks
    safety = next((number for number, block in enumerate(blocks) if block.name == SAFETY), len(blocks) - 1)
    height = room.height - SPARE_MM * PX_IN_MM
    for first in range(safety, ahead - 1, -1):
        cuts = (first,) if pages == 2 else (first, _even_cut(stack, room, blocks, first, safety, left_out))
        parts = [blocks[start:stop] for start, stop in zip(cuts, (*cuts[1:], len(blocks)), strict=True)]
        rooms = [height - (room.free if part is parts[-1] else 0.0) for part in parts]
        calms = [_calmest(stack, room, part, each, left_out) for part, each in zip(parts, rooms, strict=True)]
        own = height - room.above
        front = _best(low, [_in_columns(stack, room, blocks[:first], own, calm, left_out) for calm in CALMS]) if min(calms) >= 0 else None
        if front:
            return Stacking((room.spacing(front.calm, front.figure), *(room.spacing(calm, 0.0) for calm in calms)), cuts, (), left_out)
    return None


def _even_cut(stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], first: int, last: int, left_out: Sequence[str]) -> int:
    """The block, up to the ``last`` that may, with which a third page begins so that the second is as full as that: no page for a line or two."""
    calm = room.spacing(1.0, 0.0)

    def apart(cut: int) -> float:
        return abs(sum_blocks(stack, blocks[first:cut], calm, left_out, first=True) - sum_blocks(stack, blocks[cut:], calm, left_out, first=True))

    return min(range(min(first + 1, last), last + 1), key=apart)


def _calmest(stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, left_out: Sequence[str] = ()) -> float:
    """The calmest spacing in which blocks have room; less than 0 where they have not."""
    return next((calm for calm in CALMS if sum_blocks(stack, blocks, room.spacing(calm, 0.0), left_out, first=True) <= height), -1.0)

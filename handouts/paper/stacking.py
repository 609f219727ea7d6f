"""Where the blocks of an exercise go on its pages: chosen by sums over their heights, nothing is laid out for it.

What gives way, in this order: room between lines and parts, and height of the figure down to ``LEAST``; the line above
the title and the date of the review; whom to ask first, where the document says so elsewhere; the third fault, then the
second.  Then there is one page more, for all faults.
Steps, cues, cautions, boxes to tick and the size of letters never give way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, product

from handouts.paper.geometry import (
    FIGURE,
    FIGURE_HALVES,
    FIGURE_LEAST,
    FOLD_SCALE,
    GAPS_MM,
    LARGE,
    PX_IN_MM,
    SPARE_MM,
    lines_of,
)
from handouts.paper.writer.stack import COLUMNS, KICKER, LEAD, NOTE, REVIEW, Spacing, Stack, StackedBlock, Stacking

CALMS = tuple(1 - step / 12 for step in range(13))
"""Spacings that are tried, from the calmest to the tightest."""
CALM_MM = 30.0
"""Millimetres of a figure's height that the calmest spacing is worth against the tightest."""
OUT_OF_ORDER_MM = 1.0
"""What the columns must gain for each block that stands before one that comes earlier."""
SMALL_THINGS = ((), (KICKER,), (KICKER, REVIEW))
FAULTS_TOO = (*SMALL_THINGS, (KICKER, REVIEW, "mistakes 3"), (KICKER, REVIEW, "mistakes 3", "mistakes 2"))
"""What is left out where an exercise would take one page more: the line above the title, who read the text and when, then faults, the third first."""
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
    above: float = 0.0
    """What stands above it on its first page; no fault is left out for that."""
    said: bool = False
    """Whether the document says elsewhere whom to ask, and whose plan comes first."""
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


def _stack_columns(stack: Stack, room: PageRoom, pages: int) -> Stacking | None:
    """One page, or two, on the second of which the notes stand, or the cautions too."""
    blocks = stack.blocks
    ends = [number for number, block in enumerate(blocks) if block.name in (NOTES, SAFETY)][::-1] if pages > 1 else [len(blocks)]
    height = room.height - room.above - SPARE_MM * PX_IN_MM - (room.free if pages == 1 else 0.0)
    for end, (low, left_out) in product(ends, _tries(stack, room, FAULTS_TOO if pages == 1 and not room.above else SMALL_THINGS)):
        found = [_in_columns(stack, room, blocks[:end], height, calm, left_out) for calm in CALMS]
        best = max((each for each in found if each and each[1].figure >= low), default=None, key=lambda each: each[0])
        if best:
            _, spacing, first = best
            behind = [room.spacing(_calmest(stack, room, blocks[end:], room.height - room.free), 0.0)] if pages > 1 else []
            return Stacking((spacing, *behind), (end,) * (pages - 1), first, left_out)
    return None


def _in_columns(
    stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, calm: float, left_out: tuple[str, ...]
) -> tuple[float, Spacing, tuple[int, ...]] | None:
    """How good a page is with that spacing, and how many blocks stand in its first column; None where its words do not fit."""
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
    return figure / PX_IN_MM + CALM_MM * calm, room.spacing(calm, figure), first


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


def steps_height(stack: Stack, room: PageRoom) -> float:
    """The height of the steps beside the figure in the tightest spacing, in CSS pixels."""
    lead = next(block for block in stack.blocks if block.name == LEAD)
    return sum_blocks(stack, lead.right, room.spacing(0.0, 0.0), first=True)


def _tries(stack: Stack, room: PageRoom, leaving: Sequence[tuple[str, ...]]) -> list[tuple[float, tuple[str, ...]]]:
    """The least height of the figure, and what is left out, one after the other; what is not there is not left out."""
    there = {name for block in stack.blocks for each in (block, *block.left) for name in each.removable}
    least = FIGURE_HALVES if room.halves else (FIGURE[room.size], FIGURE_LEAST[room.size])
    lows = [min(low * PX_IN_MM, room.highest) for low in least]
    leaving = (*leaving[:3], (*leaving[2], NOTE), *((*names, NOTE) for names in leaving[3:])) if room.said else leaving
    sets = dict.fromkeys(tuple(name for name in names if name in there) for names in leaving)
    first, *rest = sets
    return [(lows[0], first), *((low, names) for names in (rest or [first]) for low in lows)]


def _stack_large(stack: Stack, room: PageRoom, pages: int) -> Stacking | None:
    """Two pages, or three, on the last of which the cautions stand; the figure and the steps are on the first."""
    blocks = stack.blocks
    ahead = next(number for number, block in enumerate(blocks) if block.name == STEPS_BLOCK) + 1
    safety = next((number for number, block in enumerate(blocks) if block.name == SAFETY), len(blocks) - 1)
    height = room.height - SPARE_MM * PX_IN_MM
    for low, left_out in _tries(stack, room, FAULTS_TOO if pages == 2 and not room.above else SMALL_THINGS):
        for first in range(ahead, safety + 1):
            cuts = (first,) if pages == 2 else (first, safety)
            parts = [blocks[start:stop] for start, stop in zip(cuts, (*cuts[1:], len(blocks)), strict=True)]
            rooms = [height - (room.free if part is parts[-1] else 0.0) - (room.above if part is parts[0] else 0.0) for part in parts]
            calms = [_calmest(stack, room, part, each, left_out) for part, each in zip(parts, rooms, strict=True)]
            front = _best_front(stack, room, blocks[:first], height - room.above, low, left_out) if min(calms) >= 0 else None
            if front:
                return Stacking((front, *(room.spacing(calm, 0.0) for calm in calms)), cuts, (), left_out)
    return None


def _best_front(
    stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, low: float, left_out: Sequence[str]
) -> Spacing | None:
    """The best spacing of a page with the figure over its whole width; None where the figure would be too low."""
    found = []
    for calm in CALMS:
        figure = min(room.highest, height - sum_blocks(stack, blocks, room.spacing(calm, 0.0), left_out, first=True))
        if figure >= low:
            found.append((figure / PX_IN_MM + CALM_MM * calm, room.spacing(calm, figure)))
    return max(found, default=(0.0, None), key=lambda each: each[0])[1]


def _calmest(stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, left_out: Sequence[str] = ()) -> float:
    """The calmest spacing in which blocks have room; less than 0 where they have not."""
    return next((calm for calm in CALMS if sum_blocks(stack, blocks, room.spacing(calm, 0.0), left_out, first=True) <= height), -1.0)

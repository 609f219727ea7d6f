"""Where the blocks of an exercise go on its pages: chosen by sums over their heights, nothing is laid out for it.

What gives way, in this order: room between lines and parts, and height of the figure down to ``LEAST``; blocks of the right column
stand below the left one; then the page is too short.  Text, boxes to tick and the size of letters never give way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from handouts.paper.geometry import FIGURE, FIGURE_LEAST, GAPS_MM, LARGE, LINES, LINES_WIDE, PX_IN_MM, WIDE_LINES
from handouts.paper.writer.stack import COLUMNS, KICKER, Spacing, Stack, StackedBlock, Stacking

CALMS = tuple(1 - step / 12 for step in range(13))
"""Spacings that are tried, from the calmest to the tightest."""
CALM_MM = 30.0
"""Millimetres of a figure's height that the calmest spacing is worth against the tightest."""
MOVED_MM = 2.0
"""Millimetres of a figure's height that a block is worth that stays in its column."""
SPARE_MM = 1.0
"""Room that is left at the foot of a page."""
FAULTS_TOO = ((), (KICKER,), (KICKER, "mistakes 3"), (KICKER, "mistakes 3", "mistakes 2"))
"""What is left out where an exercise would take one page more: first the line above the title, then faults, the commonest last."""
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

    def spacing(self, calm: float, figure: float) -> Spacing:
        """From the tightest, 0, to the calmest, 1."""
        low, high = (LINES_WIDE if self.language.partition("-")[0] in WIDE_LINES else LINES)[self.size]
        least, most = GAPS_MM[self.size]
        return Spacing(low + (high - low) * calm, (least + (most - least) * calm) * PX_IN_MM, figure)


def reference(size: str) -> Spacing:
    """The spacing in which an exercise is laid out, with no figure: odd, so that what follows it is told from what does not."""
    return Spacing(1.173 if size != LARGE else 1.273, (1.37 if size != LARGE else 3.13) * PX_IN_MM, 0.0)


def stack_pages(stack: Stack, room: PageRoom, *, pages: int) -> Stacking | None:
    """The best places for the blocks of an exercise on so many pages; None where they do not fit."""
    blocks = stack.blocks
    column = next((number for number, block in enumerate(blocks) if block.name == COLUMNS), None)
    return _stack_large(stack, room, max(2, pages)) if column is None else _stack_columns(stack, room, column, pages)


def _sum(stack: Stack, blocks: Sequence[StackedBlock], spacing: Spacing, left_out: Sequence[str] = (), *, first: bool) -> float:
    """The height of blocks one below the other; the ``first`` of a page or column has no gap before it."""
    total = sum(stack.height(block, spacing, left_out) for block in blocks)
    if first and blocks and blocks[0].gap:
        total -= spacing.gap
    return total


def _stack_columns(stack: Stack, room: PageRoom, column: int, pages: int) -> Stacking | None:
    """One page, or two, on the second of which the notes stand, or the cautions too."""
    blocks = stack.blocks
    ends = [number for number, block in enumerate(blocks) if block.name in (NOTES, SAFETY)][::-1] if pages > 1 else [len(blocks)]
    height = room.height - SPARE_MM * PX_IN_MM - (room.free if pages == 1 else 0.0)
    tries = _tries(stack, room, FAULTS_TOO if pages == 1 else ((), (KICKER,)))
    for end, (low, left_out) in product(ends, tries):
        found = [
            _in_columns(stack, room, column, end, height, calm, moved, left_out)
            for calm in CALMS
            for moved in range(len(blocks[column].right))
        ]
        best = max((each for each in found if each and each[1].figure >= low), default=None, key=lambda each: each[0])
        if best:
            _, spacing, moved = best
            behind = [room.spacing(_calmest(stack, room, blocks[end:], room.height - room.free), 0.0)] if pages > 1 else []
            return Stacking((spacing, *behind), (end,) * (pages - 1), moved, left_out)
    return None


def column_heights(stack: Stack, room: PageRoom) -> tuple[float, float]:
    """The heights of the words of both columns in the tightest spacing, without what may be left out."""
    columns, spacing, left_out = next(block for block in stack.blocks if block.name == COLUMNS), room.spacing(0.0, 0.0), FAULTS_TOO[-1]
    return _sum(stack, columns.left, spacing, left_out, first=True), _sum(stack, columns.right, spacing, left_out, first=True)


def _tries(stack: Stack, room: PageRoom, leaving: Sequence[tuple[str, ...]]) -> list[tuple[float, tuple[str, ...]]]:
    """The least height of the figure, and what is left out, one after the other; what is not there is not left out."""
    there = {name for block in stack.blocks for each in (block, *block.right) for name in each.removable}
    lows = [min(low * PX_IN_MM, room.highest) for low in (FIGURE[room.size], FIGURE_LEAST[room.size])]
    sets = dict.fromkeys(tuple(name for name in names if name in there) for names in leaving)
    first, *rest = sets
    return [(lows[0], first), *((low, names) for names in (rest or [first]) for low in lows)]


def _in_columns(
    stack: Stack, room: PageRoom, column: int, end: int, height: float, calm: float, moved: int, left_out: tuple[str, ...]
) -> tuple[float, Spacing, int] | None:
    """How good a page is with that spacing and that many blocks moved below the left column; None where its words do not fit."""
    blocks, columns, spacing = stack.blocks, stack.blocks[column], room.spacing(calm, 0.0)
    around = _sum(stack, [*blocks[:column], *blocks[column + 1 : end]], spacing, left_out, first=True) + (spacing.gap if columns.gap else 0.0)
    left = _sum(stack, columns.left, spacing, left_out, first=True) + _sum(stack, columns.right[:moved], spacing, left_out, first=False)
    left += spacing.gap if moved and not columns.right[0].gap else 0.0
    right = _sum(stack, columns.right[moved:], spacing, left_out, first=True)
    figure = min(room.highest, height - around - left)
    if right > height - around or figure < 0:
        return None
    return figure / PX_IN_MM + CALM_MM * calm - MOVED_MM * moved, room.spacing(calm, figure), moved


def _stack_large(stack: Stack, room: PageRoom, pages: int) -> Stacking | None:
    """Two pages, or three, on the last of which the cautions stand; the figure and the steps are on the first."""
    blocks = stack.blocks
    ahead = next(number for number, block in enumerate(blocks) if block.name == STEPS_BLOCK) + 1
    safety = next(number for number, block in enumerate(blocks) if block.name == SAFETY)
    height = room.height - SPARE_MM * PX_IN_MM
    for low, left_out in _tries(stack, room, FAULTS_TOO if pages == 2 else ((), (KICKER,))):
        for first in range(ahead, safety + 1):
            cuts = (first,) if pages == 2 else (first, safety)
            parts = [blocks[start:stop] for start, stop in zip(cuts, (*cuts[1:], len(blocks)), strict=True)]
            rooms = [height - (room.free if part is parts[-1] else 0.0) for part in parts]
            calms = [_calmest(stack, room, part, each, left_out) for part, each in zip(parts, rooms, strict=True)]
            front = _best_front(stack, room, blocks[:first], height, low, left_out) if min(calms) >= 0 else None
            if front:
                return Stacking((front, *(room.spacing(calm, 0.0) for calm in calms)), cuts, 0, left_out)
    return None


def _best_front(
    stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, low: float, left_out: Sequence[str]
) -> Spacing | None:
    """The best spacing of a page with the figure over its whole width; None where the figure would be too low."""
    found = []
    for calm in CALMS:
        figure = min(room.highest, height - _sum(stack, blocks, room.spacing(calm, 0.0), left_out, first=True))
        if figure >= low:
            found.append((figure / PX_IN_MM + CALM_MM * calm, room.spacing(calm, figure)))
    return max(found, default=(0.0, None), key=lambda each: each[0])[1]


def _calmest(stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, left_out: Sequence[str] = ()) -> float:
    """The calmest spacing in which blocks have room; less than 0 where they have not."""
    return next((calm for calm in CALMS if _sum(stack, blocks, room.spacing(calm, 0.0), left_out, first=True) <= height), -1.0)

"""The room of an exercise on its pages, and the heights of its blocks there: what the choices of ``stacking.py`` are made of."""


from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, combinations

from handouts.paper.geometry import (
    FIGURE,
    FIGURE_HALVES,
    FIGURE_LEAST,
    FOLD_SCALE,
    GAPS_MM,
    PX_IN_MM,
    lines_of,
)
from handouts.paper.writer.blocks import (
    ALTERNATIVES,
    COLUMNS,
    CUES,
    FAULTS,
    KICKER,
    LEAD,
    NOTES,
    READY,
    REVIEW,
    WAYS,
    WHY,
    Spacing,
    StackedBlock,
    every_block,
)
from handouts.paper.writer.stack import Stack

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


def sum_blocks(stack: Stack, blocks: Sequence[StackedBlock], spacing: Spacing, left_out: Sequence[str] = (), *, first: bool) -> float:
    """The height of blocks one below the other; the ``first`` of a page or column has no gap before it."""
    blocks = [block for block in blocks if not block.is_gone(left_out)] if left_out else blocks
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


def in_columns(
    stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, calm: float, left_out: tuple[str, ...]
) -> SetPage | None:
    """A page with that spacing; None where its words do not fit."""
    spacing, used, steps, note = room.spacing(calm, 0.0), 0.0, 0.0, 0.0
    first: tuple[int, ...] = ()
    for number, block in enumerate(blocks):
        used += spacing.gap if number and block.gap else 0.0
        if block.name == COLUMNS:
            standing = [(place, each) for place, each in enumerate(block.left) if not each.is_gone(left_out)]
            high, first = balance({place: sum_blocks(stack, [each], spacing, left_out, first=True) for place, each in standing}, spacing.gap)
            used += high
        elif block.name == LEAD:
            note, steps = (sum_blocks(stack, side, spacing, left_out, first=True) for side in (block.left, block.right))
        else:
            used += sum_blocks(stack, [block], spacing, left_out, first=True)
    figure = min(room.highest, height - used - note)
    if steps > height - used or figure < 0:
        return None
    return SetPage(calm, figure, first, left_out)


@lru_cache(maxsize=256)
def _halves(count: int) -> tuple[tuple[tuple[int, ...], int], ...]:
    """How so many blocks may stand in two columns: those of the first, and how many of the others come before its last."""
    return tuple(
        ((0, *more), (0, *more)[-1] - len(more))
        for size in range(count)
        for more in combinations(range(1, count), size)
    )


def balance(heights: Mapping[int, float], gap: float) -> tuple[float, tuple[int, ...]]:
    """The blocks of the first of two columns so that the higher one is low, and its height; blocks keep their order where that costs little.

    ``heights`` by the place of each.
    """
    places, own = tuple(heights), [height + gap for height in heights.values()]
    if not places:
        return 0.0, ()
    whole, step, best = sum(own), OUT_OF_ORDER_MM * PX_IN_MM, (float("inf"), 0.0, tuple[int, ...]())
    for first, apart in _halves(len(own)):
        here = sum([own[each] for each in first])
        high = max(here, whole - here) - gap
        if high + apart * step < best[0]:
            best = high + apart * step, high, first
    return best[1], tuple(places[each] for each in best[2])


def find_calmest(stack: Stack, room: PageRoom, blocks: Sequence[StackedBlock], height: float, left_out: Sequence[str] = ()) -> float:
    """The calmest spacing in which blocks have room; less than 0 where they have not."""
    return next((calm for calm in CALMS if sum_blocks(stack, blocks, room.spacing(calm, 0.0), left_out, first=True) <= height), -1.0)


def least_figures(room: PageRoom) -> list[float]:
    """The least height of the figure, and what it gives up where the page would not do otherwise."""
    least = FIGURE_HALVES if room.halves else (FIGURE[room.size], FIGURE_LEAST[room.size])
    return [min(low * PX_IN_MM, room.highest) for low in least]


def left_outs(stack: Stack, small: bool, without: tuple[str, ...]) -> list[tuple[str, ...]]:
    """What is left out beside ``without``, more and more; what is not there is not left out.  ``small`` where only small things are."""
    there = removable_in(stack)
    sets = accumulate(GIVES_WAY[: SMALL_THINGS if small else None], lambda before, more: (*before, *more), initial=tuple[str, ...]())
    return list(dict.fromkeys((*without, *(name for name in names if name in there)) for names in sets))


def removable_in(stack: Stack) -> set[str]:
    return {name for block in stack.blocks for each in every_block(block) for name in each.removable}


def back_first(left_out: Sequence[str]) -> list[str]:
    """What may come back, the last that was left out first."""
    return [name for name in reversed(left_out) if name not in ALTERNATIVES and name != NOTES]

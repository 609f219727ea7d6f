"""Where the blocks of an exercise go on its pages: chosen by sums over their heights, nothing is laid out for it.

The figure leads: it is as wide as its column, or 55 hundredths of the page.  For that, and for a page, text gives way in this order:
room between lines and parts; the line above the title and the date of the review; the third fault, then the second; what it is good for;
what is easier and harder; cues but for the first two; when one is ready for the next.  What gains the figure little stays.  Where a page
is not enough, the figure is lower, down to ``FIGURE_LEAST``; then there is one page more, for everything.  Dose, steps, two cues, one
fault, what to feel, cautions, boxes to tick and the size of letters never give way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from itertools import product

from handouts.paper.geometry import (
    BETWEEN,
    LARGE,
    LITTLE,
    PX_IN_MM,
    SPARE_MM,
)
from handouts.paper.large_pages import stack_large
from handouts.paper.page_sums import (
    CALMS,
    GIVES_WAY,
    NEAR,
    PageRoom,
    SetPage,
    back_first,
    balance,
    find_calmest,
    in_columns,
    least_figures,
    left_outs,
    removable_in,
    sum_blocks,
)
from handouts.paper.writer.blocks import (
    COLUMNS,
    FAULTS,
    LEAD,
    LISTED,
    NOTES,
    PICTURED,
    PLAIN,
    RUN_ON,
    SAFETY,
    WORDS_BELOW,
    WORDS_BESIDE,
    Spacing,
    Stacking,
)
from handouts.paper.writer.boxes import count_lines
from handouts.paper.writer.stack import Stack

SHARES = 8
"""Widths of the figure's column that are tried, beside its own."""


def reference(size: str) -> Spacing:
    """The spacing in which an exercise is laid out, with no figure: odd, so that what follows it is told from what does not."""
    return Spacing(1.173 if size != LARGE else 1.273, (1.37 if size != LARGE else 3.13) * PX_IN_MM, 0.0)


def stack_pages(stack: Stack, room: PageRoom, *, pages: int, without: tuple[str, ...] = ()) -> Stacking | None:
    """The best places for the blocks of an exercise on so many pages, ``without`` some texts; None where they do not fit.

    The picture of a mistake stands where it costs no page and no mistake; each stop rule begins a line where that costs no text, and the figure
    little; the words of a dose stand beside the figure where they have room there.
    """
    stack_them = _stack_columns if any(block.name == COLUMNS for block in stack.blocks) else stack_large
    there = removable_in(stack)
    run_on = (LISTED,) if LISTED in there else ()
    pictures = ((PLAIN,), (PICTURED,)) if PICTURED in there else ((),)
    words = ((WORDS_BELOW,), (WORDS_BESIDE,)) if {WORDS_BESIDE, WORDS_BELOW} <= there else ((),)
    ways = [(*run_on, *which, *picture) for which, picture in product(words, pictures)]
    chosen: Stacking | None = None
    for way in ways:
        found = stack_them(stack, room, pages, (*without, *way))
        if found and (not chosen or _faults_gone(found) < _faults_gone(chosen)):
            chosen = found
        if chosen and not _faults_gone(chosen):
            break
    if not (chosen and run_on) or set(chosen.given_up) - set(without) or chosen.spacings[0].line <= room.spacing(0.0, 0.0).line:
        return chosen
    listed = stack_them(stack, room, pages, tuple(RUN_ON if name == LISTED else name for name in chosen.left_out))
    fits = listed and listed.given_up == chosen.given_up and listed.spacings[0].figure >= LITTLE * chosen.spacings[0].figure
    return listed if fits else chosen


def _faults_gone(stacking: Stacking) -> int:
    return sum(name.startswith(FAULTS) for name in stacking.left_out)


def _stack_columns(stack: Stack, room: PageRoom, pages: int, without: tuple[str, ...]) -> Stacking | None:
    """One page, or two, on the second of which the notes stand, or the cautions too; ``without`` one of two alternatives."""
    blocks = stack.blocks
    ends = [number for number, block in enumerate(blocks) if block.name in (NOTES, SAFETY)][::-1] if pages > 1 else [len(blocks)]
    height = room.height - room.above - SPARE_MM * PX_IN_MM - (room.free if pages == 1 else 0.0)
    for low, end in product(least_figures(room), ends):
        outs = left_outs(stack, pages > 1 or room.above > 0, without)
        page = choose_page(outs, low, room.wanted, partial(in_columns, stack, room, blocks[:end], height))
        if page:
            behind = [room.spacing(find_calmest(stack, room, blocks[end:], room.height - room.free, without), 0.0)] if pages > 1 else []
            return Stacking((room.spacing(page.calm, page.figure), *behind), (end,) * (pages - 1), page.first, page.left_out)
    return None


def choose_page(
    outs: Iterable[tuple[str, ...]], low: float, wanted: float, lay: Callable[[float, tuple[str, ...]], SetPage | None]
) -> SetPage | None:
    """The page with the most text whose figure is as high as is wanted, or little lower than it could be; then the calmest.

    None where every figure is lower than ``low``.
    """
    found = list[tuple[str, ...]]()
    best = -1.0
    for left_out in outs:
        tight = lay(CALMS[-1], left_out)
        found += [left_out] if tight else []
        best = max(best, tight.figure if tight else -1.0)
        if best >= wanted:
            break
    if best < low:
        return None
    enough = max(low, min(wanted, best * LITTLE))
    chosen = next((page for left_out in found for calm in CALMS if (page := lay(calm, left_out)) and page.figure >= enough), None)
    if not chosen:
        return None
    for name in back_first(chosen.left_out):
        # what came before may have gained nothing
        more = lay(chosen.calm, tuple(each for each in chosen.left_out if each != name))
        chosen = more if more and more.figure > chosen.figure - NEAR else chosen
    return chosen


def share_that_fits(stack: Stack, room: PageRoom, width: float, share: float, least: float) -> float:
    """The most that the column of the figure may have of the width so that the steps alone have room beside it; 0 where it were less than ``least``.

    Told from a layout with another ``share``; ``width`` is that of the page in millimetres.  Lines break anew, so it is not exact.
    """
    spacing, left_out = room.spacing(0.0, 0.0), sum(GIVES_WAY, (LISTED, *((PICTURED,) if PICTURED in removable_in(stack) else ())))
    whole = (width - BETWEEN) * PX_IN_MM
    used, columns = 0.0, list[float]()
    for number, block in enumerate(stack.blocks):
        used += spacing.gap if number and block.gap else 0.0
        if block.name == LEAD:
            steps, *moved = (each for each in block.right if not each.is_gone(left_out))
            columns += [sum_blocks(stack, [each], spacing, left_out, first=True) * (1 - share) * 2 for each in moved]
        elif block.name == COLUMNS:
            columns += [sum_blocks(stack, [each], spacing, left_out, first=True) for each in block.left if not each.is_gone(left_out)]
        else:
            used += sum_blocks(stack, [block], spacing, left_out, first=True)
    left = room.height - room.above - SPARE_MM * PX_IN_MM - room.free - used - balance(dict(enumerate(columns)), spacing.gap)[0]
    own = sum_blocks(stack, [steps], spacing, first=True)
    shares = (share - (share - least) * part / SHARES for part in range(SHARES + 1))
    return next((each for each in shares if own + count_lines(steps.box, (share - each) * whole) * spacing.line <= left), 0.0)

"""The blocks of an article as they were laid out on one tall page, measured and set again: nothing is laid out twice.

The breaks of lines do not hang on the height of a line, the gap between parts, the height of the figure or the column
that a block stands in, where columns are equally wide.  So one layout tells the height of every block in each of these
settings, and its boxes are moved to where a layout in the chosen setting has them, to the pixel
(``tests/paper/test_stack.py`` compares both).  Knows the writer's boxes by what they have, never its modules.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from handouts.paper.writer.blocks import (
    COLUMNS,
    FIGURE,
    LEAD,
    PAIR,
    Spacing,
    StackedBlock,
    Stacking,
    every_block,
)
from handouts.paper.writer.boxes import (
    boxes_in,
    class_of,
    cut_before,
    is_block,
    is_line,
    row_in,
    way_to,
)
from handouts.paper.writer.measure import BlockMeasure

Background = Callable[..., None]
"""The writer's function that places the background of a box."""
PARTS = ("front", "back")
"""Classes of parts of an article whose blocks count as its own."""


class Stack(BlockMeasure):
    """An article on one tall page, laid out with a known spacing."""

    def __init__(self, page: Any, anchor: str, laid: Spacing) -> None:
        super().__init__(laid)
        self._left_out = list[Any]()
        self._way = way_to(page, anchor)
        if not self._way:
            raise ValueError(f"no article '{anchor}'")
        self._parts = [(part, child) for part in self._containers() for child in part.children]
        self.blocks = [self.block(child) for _, child in self._parts]

    def _containers(self) -> list[Any]:
        article = self._way[-1]
        return [child for child in article.children if class_of(child) in PARTS] or [article]

    def cut(self, number: int, before: Sequence[Any], has_room: Callable[[StackedBlock], bool]) -> None:
        """Makes two of a block, cut ``before`` one of these boxes in it: as late as the first of both has room."""
        part, box = self._parts[number]
        for each in reversed(before):
            pieces = cut_before(box, each)
            blocks = [self.block(piece) for piece in pieces]
            if has_room(blocks[0]):
                self._parts[number : number + 1] = [(part, piece) for piece in pieces]
                self.blocks[number : number + 1] = blocks
                return

    def height(self, block: StackedBlock, spacing: Spacing, left_out: Sequence[str] = ()) -> float:
        """The height of a block in a spacing, without what is left out of it."""
        base, lines, gaps, least = self._without(block, tuple(left_out))
        own = self._own(base, lines, gaps, spacing)
        own += sum(max(self._own(each.base, each.lines, each.gaps, spacing) for each in row) for row in block.height.rows)
        return max(least, own) + (spacing.figure if block.height.figure else 0.0)

    def _own(self, base: float, lines: float, gaps: int, spacing: Spacing) -> float:
        return base + lines * (spacing.line - self._laid.line) + gaps * (spacing.gap - self._laid.gap)

    def _without(self, block: StackedBlock, left_out: tuple[str, ...]) -> tuple[float, float, int, float]:
        """The height of a block without what is left out, in parts: as laid out, by line and gap, and the least."""
        if left_out not in block.known:
            gone = [block.removable[name][1] for name in left_out if name in block.removable]
            whole = block.height
            block.known[left_out] = (0.0, 0.0, 0, 0.0) if block.is_gone(left_out) else (
                whole.base - sum(each.base for each in gone), whole.lines - sum(each.lines for each in gone),
                whole.gaps - sum(each.gaps for each in gone), whole.least,
            )  # fmt: skip
        return block.known[left_out]

    def set_again(self, stacking: Stacking, heights: Sequence[float], lay_background: Background, above: float = 0.0) -> list[Any]:
        """The boxes of the pages, as high as is said, with the blocks where the stacking has them; those of the first below what stands ``above``."""
        cuts = [0, *stacking.cuts, len(self._parts)]
        self._left_out = [
            box
            for block in self.blocks
            for each in every_block(block)
            for name, (box, _) in each.removable.items()
            if name in stacking.left_out
        ]
        pages = []
        for number, (first, last) in enumerate(zip(cuts, cuts[1:], strict=False)):
            page = self._copy_page([each for each in self._parts[first:last] if not any(each[1] is gone for gone in self._left_out)], heights[number])
            spacing, start = stacking.spacings[number], 0.0 if number else above
            end = start
            for _, child in self._parts[first:last]:
                if any(child is each for each in self._left_out):
                    continue
                top = end if end > start else start - self._margin(child, spacing)
                if class_of(child) == COLUMNS:
                    self._set_columns(child, stacking.first, top, spacing)
                elif class_of(child) == LEAD:
                    self._set_lead(child, top, spacing)
                else:
                    self._place(child, top, spacing)
                end = top + child.margin_height()
            for box in boxes_in(page):
                if getattr(box, "background", None):
                    lay_background(page, box, None, layout_children=False)
            pages.append(page)
        return pages

    def _margin(self, box: Any, spacing: Spacing) -> float:
        return spacing.gap if self.has_gap(box) else box.margin_top

    def _copy_page(self, parts: list[tuple[Any, Any]], height: float) -> Any:
        """The boxes from the page down to the parts, with these alone in them."""
        inner: list[Any] = []
        for part, child in parts:
            if not inner or inner[-1][0] is not part:
                inner.append((part, []))
            inner[-1][1].append(child)
        article = self._way[-1]
        if len(inner) == 1 and inner[0][0] is article:
            box = article.copy_with_children(inner[0][1])
        else:
            box = article.copy_with_children([part.copy_with_children(children) for part, children in inner])
        for outer in self._way[-2::-1]:
            box.height = height
            box = outer.copy_with_children([box])
        box.margin_bottom = 0
        box.height = height
        return box

    def _set_lead(self, lead: Any, top: float, spacing: Spacing) -> None:
        """The figure and the steps beside it."""
        self._place_margins(lead, top, spacing)
        start, ends = lead.content_box_y(), list[float]()
        for side in (child for child in lead.children if child.is_floated()):
            side.position_y = start
            side.children = [child for child in side.children if not any(child is gone for gone in self._left_out)]
            ends.append(self._pile(side.children, start, spacing))
            side.height = ends[-1] - start
        self._end_at(lead, start, max(ends))

    def _set_columns(self, columns: Any, first: tuple[int, ...], top: float, spacing: Spacing) -> None:
        """Blocks in two columns, which begin at the edges in the direction of reading."""
        self._place_margins(columns, top, spacing)
        start, ends = columns.content_box_y(), list[float]()
        inner, width = columns.content_box_x(), columns.width
        standing = [(place, box) for place, box in enumerate(columns.children) if not any(box is gone for gone in self._left_out)]
        here, there = ([box for place, box in standing if (place in first) == side] for side in (True, False))
        columns.children = [*here, *there]
        for number, blocks in enumerate((here, there)):
            at_right = bool(number) == (columns.style["direction"] == "ltr")
            for box in blocks:
                box.translate((inner + width - box.width if at_right else inner) - box.content_box_x(), 0)
            ends.append(self._pile(blocks, start, spacing))
        self._end_at(columns, start, max(ends))

    def _pile(self, boxes: Sequence[Any], start: float, spacing: Spacing) -> float:
        """Boxes one below the other, the first without a gap; where they end."""
        end = start
        for number, box in enumerate(boxes):
            at = end if number else start - self._margin(box, spacing)
            self._place(box, at, spacing)
            end = at + box.margin_height()
        return end

    def _end_at(self, box: Any, start: float, end: float) -> None:
        for child in box.children:
            if str(child.element_tag).endswith("::after"):
                child.translate(0, end - child.position_y)
        box.height = end - start

    def _place_margins(self, box: Any, top: float, spacing: Spacing) -> None:
        if self.has_gap(box):
            box.margin_top = spacing.gap
        box.position_y = top

    def _place(self, box: Any, top: float, spacing: Spacing) -> None:
        """A box with its margin's edge at a height, and all in it where the spacing has it."""
        if is_line(box):
            box.translate(0, top - box.position_y)
            if self.is_own(box):
                more = (spacing.line - self._laid.line) * box.style["font_size"]
                for child in box.children:
                    child.translate(0, more / 2)
                box.height += more
            return
        if class_of(box) == PAIR and not is_block(box):
            self._place_pair(box, top, spacing)
            return
        if not is_block(box):
            box.translate(0, top - box.position_y)
            return
        old_start = box.content_box_y()
        self._place_margins(box, top, spacing)
        start = box.content_box_y()
        if class_of(box) == FIGURE and box.element_tag == "div":
            more = spacing.figure - box.height
            box.height += more
            for child in box.children:
                child.translate(0, start - old_start)
            for child in boxes_in(box):
                if child.is_absolutely_positioned():
                    child.height += more
            return
        self._place_children(box, old_start, spacing)

    def _place_pair(self, box: Any, top: float, spacing: Spacing) -> None:
        """A paragraph in two languages: the row is as high as the higher of both."""
        old_start, (table, *groups, row) = box.content_box_y(), row_in(box)
        self._place_margins(box, top, spacing)
        table.translate(0, box.content_box_y() - old_start)
        for cell in row.children:
            self._place_children(cell, cell.content_box_y(), spacing)
            cell.padding_bottom = cell.style["padding_bottom"].value
        high = max(cell.border_height() for cell in row.children)
        for cell in row.children:
            cell.padding_bottom += high - cell.border_height()
        for each in (box, table, *groups):
            each.height += high - row.height
        row.height = high

    def _place_children(self, box: Any, old_start: float, spacing: Spacing) -> None:
        """What is in a box that has been moved, where the spacing has it; ``old_start`` is where it began."""
        start = box.content_box_y()
        old_end, end, beside, gone = old_start, start, start, list[Any]()
        for child in box.children:
            if any(child is each for each in self._left_out):
                old_end, gone = child.position_y + child.margin_height(), [*gone, child]
            elif child.is_absolutely_positioned():
                child.translate(0, start - old_start)
            elif child.is_floated():
                self._place(child, start + child.position_y - old_start, spacing)
                beside = max(beside, child.position_y + child.margin_height())
            else:
                before, height = child.position_y, child.margin_height()
                clears = child.style["clear"] != "none" and beside > start
                at = max(end, beside) if clears else end + before - old_end
                self._place(child, at, spacing)
                old_end, end = before + height, at + child.margin_height()
        if gone:
            box.children = [child for child in box.children if not any(child is each for each in gone)]
        box.height += (end - start) - (old_end - old_start)

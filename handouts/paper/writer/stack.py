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
    CUES,
    DOSE_WORDS,
    FAULT,
    FAULTS,
    FIGURE,
    KICKER,
    LEAD,
    LEFT,
    LISTED,
    NOTES,
    PICTURED,
    PLAIN,
    READY,
    REVIEW,
    RUN_ON,
    SAFETY,
    STOP,
    WAYS,
    WHY,
    WORDS_BELOW,
    WORDS_BESIDE,
    BlockHeight,
    Spacing,
    StackedBlock,
    Stacking,
    every_block,
)
from handouts.paper.writer.boxes import (
    boxes_in,
    children_of,
    class_of,
    cut_before,
    flowing_in,
    has_class,
    is_block,
    is_line,
    way_to,
)

Background = Callable[..., None]
"""The writer's function that places the background of a box."""
PARTS = ("front", "back")
"""Classes of parts of an article whose blocks count as its own."""
NEAR = 0.02
"""CSS pixels by which two heights may differ and be the same."""


class Stack:
    """An article on one tall page, laid out with a known spacing."""

    def __init__(self, page: Any, anchor: str, laid: Spacing) -> None:
        self._laid, self._left_out = laid, list[Any]()
        self._heights = dict[tuple[int, tuple[str, ...]], tuple[float, float, int, float]]()
        self._way = way_to(page, anchor)
        if not self._way:
            raise ValueError(f"no article '{anchor}'")
        self._parts = [(part, child) for part in self._containers() for child in part.children]
        self.blocks = [self._block(child) for _, child in self._parts]

    def _containers(self) -> list[Any]:
        article = self._way[-1]
        return [child for child in article.children if class_of(child) in PARTS] or [article]

    def _block(self, box: Any) -> StackedBlock:
        block = StackedBlock(class_of(box), box, self.measure(box), self._has_gap(box))
        small = (KICKER, WHY, REVIEW)
        block.removable = {name: (child, self.measure(child)) for child in children_of(box) if (name := class_of(child)) in small}
        if block.name in (REVIEW, FAULT, WAYS, READY):
            block.removable = {block.name: (box, block.height)}
        if block.name in (NOTES, DOSE_WORDS):
            block.removable[WORDS_BELOW if block.name == DOSE_WORDS else NOTES] = (box, block.height)
        for child in children_of(box):
            if class_of(child) == DOSE_WORDS:
                block.removable[WORDS_BESIDE] = (child, self.measure(child))
        if block.name in (CUES, FAULTS):
            items = [item for child in children_of(box) for item in children_of(child) if item.element_tag == "li"]
            block.removable = {f"{block.name} {number}": (item, self.measure(item)) for number, item in enumerate(items, 1)}
        if block.name == FAULTS:
            block.removable[PICTURED if has_class(box, PICTURED) else PLAIN] = (box, block.height)
        if block.name == SAFETY:
            stops = [child for child in children_of(box) if has_class(child, STOP)]
            block.removable |= {LISTED if has_class(child, LISTED) else RUN_ON: (child, self.measure(child)) for child in stops}
        if block.name == COLUMNS:
            block.left = [self._block(child) for child in box.children]
        if block.name == LEAD:
            for side in box.children:
                if side.is_floated():
                    into = block.left if class_of(side) == LEFT else block.right
                    into += [self._block(child) for child in side.children]
        return block

    def cut(self, number: int, before: Sequence[Any], has_room: Callable[[StackedBlock], bool]) -> None:
        """Makes two of a block, cut ``before`` one of these boxes in it: as late as the first of both has room."""
        part, box = self._parts[number]
        for each in reversed(before):
            pieces = cut_before(box, each)
            blocks = [self._block(piece) for piece in pieces]
            if has_room(blocks[0]):
                self._parts[number : number + 1] = [(part, piece) for piece in pieces]
                self.blocks[number : number + 1] = blocks
                return

    def measure(self, box: Any) -> BlockHeight:
        """The height of a box in every spacing."""
        laid = self._laid
        if is_line(box):
            size = box.style["font_size"]
            own = abs(box.height - laid.line * size) < NEAR
            return BlockHeight(box.height, size if own else 0.0, 0)
        height = box.margin_height()
        if class_of(box) == FIGURE and box.element_tag == "div":
            return BlockHeight(height - box.height, 0.0, int(self._has_gap(box)), figure=True)
        lines, gaps, beside, beside_lines, least = 0.0, int(self._has_gap(box)), 0.0, 0.0, 0.0
        for child in children_of(box):
            if child.is_absolutely_positioned():
                continue
            if child.is_floated():
                found = self.measure(child)
                beside, beside_lines = max(beside, child.position_y - box.position_y + found.base), max(beside_lines, found.lines)
                continue
            if beside and child.style["clear"] != "none":
                if abs(child.position_y - box.position_y - beside) < NEAR and not lines:
                    lines += beside_lines
                elif lines:
                    least = beside
            found = self.measure(child)
            lines, gaps = lines + found.lines, gaps + found.gaps
        if least and abs(least - height) < NEAR:
            # what stands beside it is higher: its own words end above
            ends = (child.position_y + child.margin_height() for child in flowing_in(box) if child.margin_height())
            height = max(ends, default=0.0) - box.position_y
        return BlockHeight(height, lines, gaps, least)

    def _has_gap(self, box: Any) -> bool:
        return bool(abs(box.margin_top - self._laid.gap) < NEAR and box.margin_top > 0)

    def height(self, block: StackedBlock, spacing: Spacing, left_out: Sequence[str] = ()) -> float:
        """The height of a block in a spacing, without what is left out of it."""
        base, lines, gaps, least = self._without(block, tuple(left_out))
        own = base + lines * (spacing.line - self._laid.line) + gaps * (spacing.gap - self._laid.gap)
        return max(least, own) + (spacing.figure if block.height.figure else 0.0)

    def _without(self, block: StackedBlock, left_out: tuple[str, ...]) -> tuple[float, float, int, float]:
        """The height of a block without what is left out, in parts: as laid out, by line and gap, and the least."""
        key = id(block), left_out
        if key not in self._heights:
            gone = [block.removable[name][1] for name in left_out if name in block.removable]
            whole = block.height
            self._heights[key] = (0.0, 0.0, 0, 0.0) if block.is_gone(left_out) else (
                whole.base - sum(each.base for each in gone), whole.lines - sum(each.lines for each in gone),
                whole.gaps - sum(each.gaps for each in gone), whole.least,
            )  # fmt: skip
        return self._heights[key]

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
        return spacing.gap if self._has_gap(box) else box.margin_top

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
        if self._has_gap(box):
            box.margin_top = spacing.gap
        box.position_y = top

    def _place(self, box: Any, top: float, spacing: Spacing) -> None:
        """A box with its margin's edge at a height, and all in it where the spacing has it."""
        laid = self._laid
        if is_line(box):
            box.translate(0, top - box.position_y)
            size = box.style["font_size"]
            if abs(box.height - laid.line * size) < NEAR:
                more = (spacing.line - laid.line) * size
                for child in box.children:
                    child.translate(0, more / 2)
                box.height += more
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

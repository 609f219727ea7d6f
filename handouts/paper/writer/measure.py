"""How high the blocks of an article are that was laid out on one tall page, in every spacing."""

from __future__ import annotations

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
    PAIR,
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
)
from handouts.paper.writer.boxes import (
    children_of,
    class_of,
    flowing_in,
    has_class,
    is_line,
    row_in,
)

NEAR = 0.02
"""CSS pixels by which two heights may differ and be the same."""
MIXED = 0.02
"""What a line may be higher, by the size of its letters, where it has letters of two faces, as in Arabic; other heights of lines differ by more."""


class BlockMeasure:
    """Measures boxes that were laid out with a known spacing."""

    def __init__(self, laid: Spacing) -> None:
        self._laid = laid

    def block(self, box: Any) -> StackedBlock:
        """A block with its height, what may be left out of it, and the blocks of its sides."""
        block = StackedBlock(class_of(box), box, self.measure(box), self.has_gap(box))
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
        block.whole = next((name for name, (removed, _) in block.removable.items() if removed is box), "")
        if block.name == COLUMNS:
            block.left = [self.block(child) for child in box.children]
        if block.name == LEAD:
            for side in box.children:
                if side.is_floated():
                    into = block.left if class_of(side) == LEFT else block.right
                    into += [self.block(child) for child in side.children]
        return block

    def measure(self, box: Any) -> BlockHeight:
        """The height of a box in every spacing."""
        if is_line(box):
            return BlockHeight(box.height, box.style["font_size"] if self.is_own(box) else 0.0, 0)
        height = box.margin_height()
        if class_of(box) == PAIR:
            row = row_in(box)[-1]
            return BlockHeight(height - row.height, 0.0, int(self.has_gap(box)), rows=(tuple(map(self._measure_cell, row.children)),))
        if class_of(box) == FIGURE and box.element_tag == "div":
            return BlockHeight(height - box.height, 0.0, int(self.has_gap(box)), figure=True)
        lines, gaps, beside, beside_lines, least = 0.0, int(self.has_gap(box)), 0.0, 0.0, 0.0
        rows, figure = list[tuple[BlockHeight, ...]](), False
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
            lines, gaps, figure = lines + found.lines, gaps + found.gaps, figure or found.figure
            rows += found.rows
        if least and abs(least - height) < NEAR:
            # what stands beside it is higher: its own words end above
            ends = (child.position_y + child.margin_height() for child in flowing_in(box) if child.margin_height())
            height = max(ends, default=0.0) - box.position_y
        return BlockHeight(height - sum(max(cell.base for cell in row) for row in rows), lines, gaps, least, figure, tuple(rows))

    def _measure_cell(self, cell: Any) -> BlockHeight:
        """The height of one of two languages, as if it stood alone."""
        found = [self.measure(child) for child in cell.children]
        own = cell.border_height() - cell.padding_bottom + cell.style["padding_bottom"].value
        return BlockHeight(own, sum(each.lines for each in found), sum(each.gaps for each in found))

    def is_own(self, line: Any) -> bool:
        """Whether a line is as high as the spacing says, and what two faces in it need more."""
        size = line.style["font_size"]
        return bool(-NEAR < line.height - self._laid.line * size < MIXED * size)

    def has_gap(self, box: Any) -> bool:
        """Whether a gap stands before a box."""
        return bool(abs(box.margin_top - self._laid.gap) < NEAR and box.margin_top > 0)

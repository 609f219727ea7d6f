"""What the blocks of an article are called, how high each is in every spacing, and where they go: values alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

FIGURE = "figure"
"""Class of the block that holds the figure."""
KICKER, WHY, REVIEW = "kicker", "why", "review"
"""Classes of the line above the title, of what it is good for, and of who has read the text when."""
CUES, FAULTS, FAULT, WAYS, READY = "cues", "mistakes", "fault", "ways", "ready"
"""Classes of what to think of, of what goes wrong, of the one fault of a row, of what is easier and harder, and of when one is ready for the next."""
LEAD, LEFT, RIGHT = "lead", "left", "right"
"""Classes of the row of the figure and the steps, and of both sides of it."""
PICTURED, PLAIN = "pictured", "not pictured"
"""Names of what goes wrong with the picture of the first mistake, and without: one of both is left out."""
LISTED, RUN_ON = "listed", "run on"
"""Names of the stop rules with a line each, and of those that run on: one of both is left out."""
WORDS_BESIDE, WORDS_BELOW, DOSE_WORDS = "words beside", "words below", "dose-words"
"""Names of the words of a dose beside the figure, and below it; and their class."""
ALTERNATIVES = frozenset((PICTURED, PLAIN, LISTED, RUN_ON, WORDS_BESIDE, WORDS_BELOW))
SAFETY, STOP = "safety", "stop"
"""Class of the ruled block, and further class of the stop rules in it."""
NOTES = "behind"
"""Class of the notes below the ruled block."""
PAIR, HEADING = "pair", "heading"
"""Class of a paragraph in two languages, and further class of one that is a heading."""
COLUMNS = "columns"
"""Class of what stands in two columns, equally wide; it is laid out as one."""
@dataclass(frozen=True, slots=True)
class Spacing:
    """How calmly blocks are set: height of a line by that of its letters, gap between parts in CSS pixels, height of the figure in CSS pixels."""

    line: float
    gap: float
    figure: float


@dataclass(frozen=True, slots=True)
class BlockHeight:
    """The height of a block in every spacing, in CSS pixels, margins included."""

    base: float
    """As it was laid out."""
    lines: float
    """How much it grows for each unit of the height of a line."""
    gaps: int
    """Gaps in it, the one before it included."""
    least: float = 0.0
    """What stands beside it, and holds it open."""
    figure: bool = False
    """Whether it is as high as the figure."""
    rows: tuple[tuple[BlockHeight, ...], ...] = ()
    """What stands side by side in it, row by row: of each the highest counts."""


@dataclass(slots=True)
class StackedBlock:
    """A block of an article: its class, its box, its height; the blocks of its columns, where it is two of them."""

    name: str
    box: Any
    height: BlockHeight
    gap: bool = False
    """Whether a gap stands before it."""
    removable: dict[str, tuple[Any, BlockHeight]] = field(default_factory=dict)
    """What may be left out of it, by its name."""
    left: list[StackedBlock] = field(default_factory=list)
    """The blocks of its left side; of columns, all."""
    right: list[StackedBlock] = field(default_factory=list)

    whole: str = ""
    """The name by which it is left out whole."""
    known: dict[tuple[str, ...], tuple[float, float, int, float]] = field(default_factory=dict)
    """Its height without some texts, in parts, where that was asked for."""

    def is_gone(self, left_out: Sequence[str]) -> bool:
        """Whether it is left out whole."""
        return self.whole in left_out


@dataclass(frozen=True, slots=True)
class Stacking:
    """Where the blocks of an article go: the spacing of each page and the first block of each page but the first."""

    spacings: tuple[Spacing, ...]
    cuts: tuple[int, ...]
    first: tuple[int, ...] = ()
    """The blocks that stand in the first of two columns, by their place."""
    left_out: tuple[str, ...] = ()
    """Names of what is left out, of two alternatives always one."""

    @property
    def given_up(self) -> tuple[str, ...]:
        """Texts that are left out, and do not stand there in another form."""
        return tuple(name for name in self.left_out if name not in ALTERNATIVES)


def every_block(block: StackedBlock) -> tuple[StackedBlock, ...]:
    """A block, and those of its sides."""
    return (block, *block.left, *block.right)

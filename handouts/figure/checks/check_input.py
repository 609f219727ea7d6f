"""What each check of a figure is given: the spec, the body, the solved motion and what is drawn.

Never checks anything itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from handouts.figure.body.body import Body
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose.motion import SolvedMotion, sections_of
from handouts.figure.pose.spec import FigureSpec

SIDE_WORDS = {"r": "right ", "l": "left ", "": ""}
"""A side as it stands before the name of a part."""


@dataclass(frozen=True, eq=False, slots=True)
class CheckInput:
    """What a check may look at."""

    spec: FigureSpec
    body: Body
    motion: SolvedMotion
    shown_muscles: frozenset[str]
    furniture: tuple[tuple[int, tuple[PartOutline, ...]], ...] = ()
    """For each picture the number of its frame and the boxes that furniture is drawn of."""

    drawn: frozenset[str] = frozenset()
    """Props of which a part is in a picture."""

    first: int = 0
    """How many pictures stand before these, on another base."""

    @property
    def sections(self) -> tuple[CheckInput, ...]:
        """What is to be checked for each base by itself."""
        found = []
        for spec, motion, first in sections_of(self.spec, self.motion):
            low = first * self.motion.step
            furniture = tuple((number - low, parts) for number, parts in self.furniture if 0 <= number - low < len(motion.frames))
            found.append(replace(self, spec=spec, motion=motion, furniture=furniture, first=first))
        return tuple(found)

    def frame_name(self, number: int) -> str:
        """How a frame is named to the author."""
        pictures = self.motion.pictures
        return f"picture {self.first + pictures.index(number) + 1}" if number in pictures else "the movement between the pictures"

"""What the builders of props share: the setting they look at, and the tones they use.

Never builds a part.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts.figure.body.body import Body
from handouts.figure.body.kinematics import local_point
from handouts.figure.body.sites import POINTS, Plane
from handouts.figure.draw.settle import IN_HAND
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose.motion import SolvedMotion
from handouts.figure.pose.solver import Solved
from handouts.figure.pose.spec import FigureSpec, PropUse

Array = NDArray[np.floating[Any]]
WOOD, MAT, CLOTH, BAND = ("prop", "prop-side"), ("mat", "mat-side"), "cloth", "band"
"""Tones: a pair for the top and the sides of a box."""


@dataclass(frozen=True, eq=False, slots=True)
class PropScene:
    """What a prop builder may look at: the frame drawn, and the whole motion for a place that fits all of it."""

    spec: FigureSpec
    body: Body
    motion: SolvedMotion
    frame: Solved
    view: Array

    def lump(self, name: str, frame: Solved | None = None) -> Array:
        """World centre of an ellipsoid."""
        place: Array = (frame or self.frame).centres[self.body.lumps[name]]
        return place

    def level(self, word: str) -> float:
        """How high what is called so lies, metres: what stands in the place of a 'mat' or a 'seat'."""
        surface = self.motion.world.surfaces[word]
        return surface.offset if isinstance(surface, Plane) else 0.0

    def point(self, name: str, side: str, frame: Solved | None = None) -> Array:
        """World place of a named point."""
        segment, offset = POINTS[name]
        z = 1 if side == "r" else -1
        return local_point(
            self.body,
            (frame or self.frame).placed,
            segment + side if segment.endswith(".") else segment,
            (offset[0], offset[1], offset[2] * z),
        )

    def grip(self, side: str) -> Array:
        """The middle of a closed hand."""
        x, y, z = IN_HAND
        return local_point(self.body, self.frame.placed, f"hand.{side}", (x, y, z if side == "r" else -z))

    def toward_trunk(self, side: str) -> Array:
        """The directions of an upper arm as columns: ahead, up along it, and toward the trunk, however the arm is turned about itself."""
        placed, numbers = self.frame.placed, self.body.numbers
        along, trunk = placed.rotations[numbers[f"uarm.{side}"]][:, 1], placed.rotations[numbers["sp3"]][:, 1]
        away = placed.origins[numbers["sp3"]] - self.point("elbow", side)
        away = away - trunk * (away @ trunk)
        inward = away - along * (away @ along)
        inward /= np.linalg.norm(inward) + 1e-9
        return np.column_stack([np.cross(along, inward), along, inward])


Builder = Callable[[PropScene, PropUse], list[PartOutline]]

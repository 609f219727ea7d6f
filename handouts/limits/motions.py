"""The joint motions that a bound may name, and how large one is in a frame.

Names are the figure engine's clinical ones; four more stand for both directions of the trunk and the neck.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from handouts.figure.body.joints import AXES, variable

Frame = Mapping[str, float]
"""Signed angles of one moment in degrees by variable (``hip.r.flex``); one that is left out is 0."""


@dataclass(frozen=True, slots=True)
class ClinicalMotion:
    """A clinical motion: its joint, its axis, and the signs that count (+1 the first motion, -1 the second)."""

    name: str
    joint: str
    axis: str
    signs: tuple[float, ...]
    sided: bool

    def degrees(self, frame: Frame, side: str) -> float:
        """How far the motion goes in a frame; below 0 where the joint stands in the opposite motion."""
        angle = frame.get(variable(self.joint, side if self.sided else "", self.axis), 0.0)
        return max(sign * angle for sign in self.signs)


def _motions() -> dict[str, ClinicalMotion]:
    found = {}
    for axis in AXES:
        found[axis.positive] = ClinicalMotion(axis.positive, axis.joint, axis.axis, (1.0,), axis.sided)
        found[axis.negative] = ClinicalMotion(axis.negative, axis.joint, axis.axis, (-1.0,), axis.sided)
        both = axis.positive.removesuffix(" to the right")
        if both != axis.positive:
            found[both] = ClinicalMotion(both, axis.joint, axis.axis, (1.0, -1.0), axis.sided)
    return dict(sorted(found.items()))


MOTIONS: Mapping[str, ClinicalMotion] = _motions()
"""Every motion by its clinical name."""

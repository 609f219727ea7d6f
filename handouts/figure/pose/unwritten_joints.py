"""Joints that nobody wrote and that leave their base position: how far each may go, and which went further.

A joint in contact follows what it touches: an ankle the floor, an arm what its hand holds.  Hips and knees follow
less, and a limb that touches nothing stays where the base position has it.  Never solves and never says a problem.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from handouts.figure.body.angles import Angles, angles_of
from handouts.figure.body.joints import INDEX, VARIABLE_AXES, VARIABLES
from handouts.figure.body.sites import ARM_SITES
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.contacts import expand, rests_of
from handouts.figure.pose.goals import freed
from handouts.figure.pose.spec import FigureSpec

FOLLOWS = {
    "hip.flex": 25.0, "hip.abd": 18.0, "hip.ir": 18.0, "knee.flex": 25.0, "ankle.df": 45.0, "ankle.inv": 25.0,
    "trunk.flex": 15.0, "trunk.side": 15.0, "trunk.turn": 15.0, "neck.flex": 15.0, "neck.side": 15.0, "neck.turn": 15.0,
}  # fmt: skip
"""Degrees by which a joint that is not written may leave its base position; set by eye: further, it shows as another
pose.  Toes and fingers follow what they touch, within their range."""
FREE_ARM = 20.0
"""The same for each joint of an arm that neither holds nor rests on anything; one that does follows it."""


@dataclass(frozen=True, slots=True)
class Stray:
    """A variable that left its base position: its index, its angle and that of the base, degrees."""

    index: int
    degrees: float
    base: float


def _bounds(spec: FigureSpec, at_end: bool) -> Angles:
    """How far each variable may leave its base position in a picture, degrees."""
    contacts = expand(spec.end_contacts if at_end else spec.contacts)
    contacts += rests_of(spec, BASES[spec.base], expand(spec.contacts))  # as the solver has it: what rests, rests all the way
    busy = {side for site, side, _ in contacts if site in ARM_SITES}
    found = np.full(len(VARIABLES), np.inf)
    for name, number in INDEX.items():
        axis = VARIABLE_AXES[number]
        if axis.joint in ("shoulder", "elbow", "forearm", "wrist"):
            if name.split(".")[1] not in busy:
                found[number] = FREE_ARM
        else:
            found[number] = FOLLOWS.get(f"{axis.joint}.{axis.axis}", np.inf)
    return found


def strays_of(spec: FigureSpec, angles: Angles, at_end: bool) -> tuple[Stray, ...]:
    """The variables (v,) of a picture that nobody wrote and that are further from the base position than they may be."""
    base = angles_of(BASES[spec.base].pose)
    bounds = _bounds(spec, at_end)
    for angle in (*spec.start, *(spec.end if at_end else ())):
        bounds[INDEX[angle.variable]] = np.inf
    for name in freed(spec, at_end=at_end):
        bounds[INDEX[name]] = np.inf
    return tuple(
        Stray(int(index), float(angles[index]), float(base[index]))
        for index in np.flatnonzero(np.abs(angles - base) > bounds)
    )

"""How far the joints of a figure may bend: the normal ranges, and more for an ankle that carries weight.

Never solves and never says a problem.
"""

from __future__ import annotations

from handouts.figure.body.angles import HIGH, Angles
from handouts.figure.body.joints import INDEX, SIDES
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.contacts import expand
from handouts.figure.pose.spec import FigureSpec

BEARING_ANKLE = 40.0
"""Degrees of dorsiflexion with the weight of the body on a flat foot: healthy adults in the weight-bearing lunge test
(Bennell and others 1998; from memory).  The AAOS range of 20 is that of a foot without weight."""
_GROUND = frozenset({"floor", "mat", "step", "slope", "pillow"})


def highest_of(spec: FigureSpec) -> Angles:
    """The upper end of the range of each variable (v,) in degrees.

    Only an ankle that is written past its range gets more, where its whole foot stands under a body that is upright on
    it in a picture: the solver takes no more than that by itself.
    """
    found = HIGH.copy()
    if not BASES[spec.base].balanced:
        return found
    standing = {
        side
        for site, side, target in expand((*spec.contacts, *spec.end_contacts))
        if site == "foot" and target in _GROUND
    }
    for side in SIDES:
        index = INDEX[f"ankle.{side}.df"]
        written = [angle.degrees for angle in (*spec.start, *spec.end) if INDEX[angle.variable] == index]
        if side in standing and written:
            found[index] = min(BEARING_ANKLE, max(HIGH[index], *written))
    return found

"""How firmly a pose is held: the softness of each joint, of the pelvis's tilt, and of the balance.

Never says what an angle should be.
"""

from __future__ import annotations

import numpy as np

from handouts.figure.body.angles import Angles
from handouts.figure.body.joints import INDEX, VARIABLES
from handouts.figure.body.sites import ARM_SITES, BODY_TARGETS, LEG_SITES
from handouts.figure.pose.bases import Base
from handouts.figure.pose.contacts import Touching
from handouts.figure.pose.spec import FigureSpec, PoseAngle

_STIFF = 0.05
"""Degrees that the shoulder blades, the tilt of the pelvis and the glide of the head may give: they are as they are written."""
_AS_WRITTEN = frozenset({"neck.glide", "pelvis.tilt", "blade.r.up", "blade.r.fwd", "blade.l.up", "blade.l.fwd"})


def softness_of(
    spec: FigureSpec, base: Base, contacts: list[Touching], typed: tuple[PoseAngle, ...] | None = None
) -> Angles:
    """How far each angle may give, degrees; ``typed`` are the angles that are kept firmly (None: of both pictures)."""
    arms = {side for site, side, _ in contacts if site in ARM_SITES}
    legs = {side for site, side, _ in contacts if site in LEG_SITES}
    if any(use.name in ("weighted-ball", "stick", "roll") and "hands" in use.words for use in spec.props):
        held = 4.0
    else:
        held = 1.0
    authored = {angle.variable for angle in ((*spec.start, *spec.end) if typed is None else typed)}
    free = {
        "neck": (1.5, 1.5),
        "trunk": (2.0, 2.0),
        "pelvis": (_STIFF, _STIFF),
        "blade": (_STIFF, _STIFF),
        "shoulder": (30.0, held),
        "elbow": (30.0, held),
        "forearm": (30.0, 1.0),
        "wrist": (12.0, 1.0),
        "fingers": (4.0, 0.5),
        "ankle": (14.0, 2.0),
        "toes": (40.0, 1.0),
        "hip": (5.0, 1.0),
        "knee": (5.0, 1.0),
    }
    found = np.empty(len(VARIABLES))
    for name, number in INDEX.items():
        joint, side = name.split(".")[0], name.split(".")[1]
        busy = side in (arms if joint in ("shoulder", "elbow", "forearm", "wrist", "fingers") else legs)
        soft = free[joint][0 if busy else 1]
        if busy or joint in ("trunk",):
            soft = base.soft.get(joint, soft)
        if name in authored:
            soft = min(soft, 6.0 if joint in ("shoulder", "elbow", "wrist", "forearm") and side in arms else 2.0)
            if joint in ("hip", "knee", "ankle") and busy:
                soft = max(soft, min(base.soft.get(joint, 2.0), 6.0))
        found[number] = min(soft, _STIFF) if name in _AS_WRITTEN else soft
    return found


def balance_of(spec: FigureSpec, base: Base, contacts: list[Touching], at_end: bool) -> tuple[float, bool]:
    """How near the middle of its support the centre of mass should be, and whether it must be over it.

    Metres; 0 asks for nothing.
    """
    asked = spec.balance in ("yes", "end" if at_end else "start")
    leaning = any(target in ("wall", "doorway", "ball") for _, _, target in contacts)
    held = any(site in ARM_SITES and target not in BODY_TARGETS for site, _, target in contacts)
    if asked:
        return 0.03, True
    if not base.balanced or leaning or spec.balance == "no" or spec.lean:
        return 0.0, False
    if held or (spec.balance and not asked):
        return 0.12, False
    return 0.06, True


def hold_of(spec: FigureSpec, base: Base, contacts: list[Touching]) -> tuple[float, float, float]:
    """How firmly the pelvis keeps its tilt: loosely forward where typed hips set it against standing legs."""
    legs = {side for site, side, _ in contacts if site in LEG_SITES or site == "seat"}
    hips = {
        angle.variable.split(".")[1]
        for angle in (*spec.start, *spec.end)
        if angle.variable.endswith("flex") and angle.variable.startswith("hip")
    }
    if not base.lying and legs & hips and base.name != "all-fours":
        return base.hold[0], base.hold[1], 40.0
    return base.hold

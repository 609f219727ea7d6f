"""Goals instead of angles: what a part of the body reaches, and what stays together; the solver finds the angles.

Says which joints are free for it, and what must meet; never solves.
"""

from __future__ import annotations

import numpy as np

from handouts.figure.body.angles import Angles
from handouts.figure.body.body import Body
from handouts.figure.body.joints import INDEX, SIDES, VARIABLES
from handouts.figure.body.kinematics import rotation_about
from handouts.figure.body.sites import ARM_POINTS, LEG_SITES, POINTS
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.contacts import expand
from handouts.figure.pose.residuals import Meet, State
from handouts.figure.pose.spec import FigureSpec, Named

_LUMPS: dict[str, tuple[str, ...]] = {
    "hip": ("sec1",), "pelvis": ("sec1",), "hip-joint": ("th0",), "waist": ("sec3",), "chest": ("sec6", "sec7", "sec8", "pec.r", "pec.l"),
    "head": ("skull", "brow"), "nose": ("nose",), "chin": ("chin",),
    "shoulder": ("ua0",), "knee": ("patella",), "ankle": ("sh4", "collar"), "heel": ("heel",), "toes": ("toe",), "foot": ("mid", "ball"),
    "elbow": ("ua4", "fa0"), "hand": ("fi1", "fi2", "palm"), "wrist": ("wr",), "thigh": ("th2", "th3"),
}  # fmt: skip
"""The ellipsoids by which a point meets another (of a limb without the side); the nearest ones touch."""
MEETING: dict[str, tuple[tuple[str, ...], ...]] = {"feet": (("heel",), ("ball",)), "knees": (("patella", "th4"),), "hands": (("palm", "fi1"),)}
"""Parts that can stay together: of each group the nearest ellipsoids of both sides touch."""
_LEGS, _HEAD = ("toes", "foot", "heel", "ankle", "knee", "thigh"), ("head", "nose", "chin")
# How far a joint that serves a goal may give, degrees; set by eye, so that arms go first, then hips and trunk.
_ARM = {"shoulder": 30.0, "elbow": 30.0, "forearm": 30.0, "wrist": 12.0}
_LEG = {"hip.flex": 20.0, "hip.abd": 8.0, "hip.ir": 8.0, "knee": 20.0, "ankle": 10.0}
_BEND = {"trunk.flex": 12.0, "trunk.side": 4.0, "trunk.turn": 4.0, "hip.flex": 15.0}
_NECK = {"neck.flex": 8.0, "neck.side": 2.0, "neck.turn": 2.0}
_FEET = {"hip.abd": 8.0, "hip.ir": 8.0}


def lumps_of(body: Body, point: Named) -> tuple[int, ...]:
    """The ellipsoids of a point."""
    side = f".{point.side or 'r'}" if POINTS[point.name][0].endswith(".") else ""
    return tuple(body.lumps[f"{name}{side}" if name.rpartition(".")[0] == "" else name] for name in _LUMPS[point.name])


def meets_of(spec: FigureSpec, body: Body, *, at_end: bool) -> tuple[Meet, ...]:
    """What must meet in a picture: what stays together always, what is reached at the end."""
    found = [
        Meet(f"{part} together", tuple(body.lumps[f"{name}.r"] for name in group), tuple(body.lumps[f"{name}.l"] for name in group))
        for part in spec.together
        for group in MEETING[part]
    ]
    if at_end:
        found += [
            Meet(f"{one.point} {one.target}", lumps_of(body, one.point), lumps_of(body, one.target))
            for one in spec.reach
            if one.target.name in POINTS
        ]
    return tuple(found)


def _free(given: dict[str, float], sides: tuple[str, ...]) -> dict[str, float]:
    found = {}
    for name in VARIABLES:
        parts = name.split(".")
        joint, side, axis = (parts[0], parts[1], parts[2]) if len(parts) == 3 else (parts[0], "", parts[1])
        soft = given.get(f"{joint}.{axis}", given.get(joint))
        if soft is not None and (not side or side in sides):
            found[name] = soft
    return found


def freed(spec: FigureSpec, *, at_end: bool) -> dict[str, float]:
    """The joints that serve a goal in a picture and that nobody wrote: degrees by which each may give, by variable."""
    found: dict[str, float] = {}
    if "feet" in spec.together or "knees" in spec.together:
        found |= _free(_FEET, SIDES)
    if "hands" in spec.together:
        found |= _free(_ARM, SIDES)
    carrying = {side for site, side, _ in expand(spec.end_contacts) if site in LEG_SITES}
    for one in spec.reach if at_end else ():
        names = (one.point.name, one.target.name)
        for end in (one.point, one.target):
            sides = (end.side,) if end.side else ()
            if end.name in ARM_POINTS and end.name in POINTS:
                found |= _free(_ARM, sides)
            elif end.name in _LEGS:
                found |= _free({key: soft for key, soft in _LEG.items() if key.startswith("hip") or not set(sides) & carrying}, sides)
            elif end.name in _HEAD:
                found |= _free(_NECK, ())
        if any(name in (*ARM_POINTS, *_HEAD) for name in names) and not all(name in (*ARM_POINTS, *_HEAD, "chest") for name in names):
            found = _free(_BEND, SIDES) | found
    typed = {angle.variable for angle in (*spec.start, *spec.end)}
    return {name: soft for name, soft in found.items() if name not in typed}


def with_goals(spec: FigureSpec, softness: Angles, *, at_end: bool) -> Angles:
    """How far each angle may give (v,), with the joints that serve a goal freed."""
    found = softness.copy()
    for name, soft in freed(spec, at_end=at_end).items():
        found[INDEX[name]] = max(found[INDEX[name]], soft)
    return found


def turns_freely(spec: FigureSpec) -> bool:
    """Whether the pelvis may tilt forward for a goal, as where one bends down to one's feet."""
    return any(name.startswith("hip") and name.endswith("flex") for name in freed(spec, at_end=True))


_BENT = {"hip.flex": 45.0, "trunk.flex": 20.0, "shoulder.flex": 40.0, "elbow.flex": 20.0, "knee.flex": 20.0}
"""Degrees by which a first guess is bent: from a straight limb no small turn brings its end nearer."""


def bent_guess(spec: FigureSpec, state: State) -> State:
    """A second first guess for the end of a movement: what is freed for a goal bent, the pelvis tilted with the hips where it may."""
    angles = state.angles.copy()
    for name in freed(spec, at_end=True):
        joint, axis = name.split(".")[0], name.split(".")[-1]
        angles[INDEX[name]] += _BENT.get(f"{joint}.{axis}", 0.0)
    turn = state.turn @ rotation_about(2, -_BENT["hip.flex"]) if turns_freely(spec) and not BASES[spec.base].lying else state.turn
    return State(turn, state.position, angles)


def goal_variables(spec: FigureSpec) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """Numbers of the variables that the solver finds for the end of a movement."""
    return np.array([INDEX[name] for name in freed(spec, at_end=True)], dtype=np.int64)

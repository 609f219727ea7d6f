"""Mats, walls, doorways, steps and slopes, which are as large as the solved motion needs.

Sizes come from ``handouts.figure.pose.surroundings``, metres.
"""

from __future__ import annotations

import math

import numpy as np

from handouts.figure.body.joints import SIDES
from handouts.figure.body.sites import Plane
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose import surroundings as sizes
from handouts.figure.pose.spec import PropUse
from handouts.figure.props.scene import MAT, WOOD, Builder, PropScene
from handouts.figure.props.solids import box, wedge


def _mat(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    ends = [setting.motion.frames[number] for number in setting.motion.pictures]
    low = np.vstack([frame.centres[frame.centres[:, 1] < 0.32] for frame in ends])
    x0, x1 = float(low[:, 0].min()) - 0.08, float(low[:, 0].max()) + 0.08
    z = float(np.median(ends[0].centres[:, 2])) if setting.motion.base.name.startswith("side") else 0.0
    return [
        box(
            setting.view,
            "mat",
            ((x0 + x1) / 2, sizes.MAT_THICK / 2, z),
            (x1 - x0, sizes.MAT_THICK, 0.62),
            tones=MAT,
            layer=-5,
        )
    ]


def _wall(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    plane = setting.motion.world.surfaces["wall"]
    assert isinstance(plane, Plane)
    tops = [frame.centres[:, 1].max() for frame in (setting.motion.frames[0], setting.motion.frames[-1])]
    across = 2 if plane.normal[0] else 0
    middle = 0.0 if plane.normal[0] else float(np.median(setting.motion.frames[0].centres[:, 0]))
    thick, high, long = 0.06, max(1.70, float(max(tops)) + 0.06), max(0.80, 2 * _reach_along(setting, plane, across, middle) + 0.16)
    face = plane.normal[0] * plane.offset + plane.normal[2] * plane.offset
    if plane.normal[0]:
        x = face - plane.normal[0] * thick / 2
        return [box(setting.view, "wall", (x, high / 2, 0.0), (thick, high, long), tones=WOOD, layer=-6)]
    return [
        box(
            setting.view,
            "wall",
            (middle, high / 2, face - plane.normal[2] * thick / 2),
            (long, high, thick),
            tones=WOOD,
            layer=-6,
        )
    ]


_AT_WALL = 0.12
"""Metres from a wall within which a part of the body is at it: the wall is as wide as they need."""


def _reach_along(setting: PropScene, plane: Plane, across: int, middle: float) -> float:
    """How far from the middle of a wall something of the body is at it, in any picture."""
    centres = np.vstack([setting.motion.frames[number].centres for number in setting.motion.pictures])
    at_it = centres[centres @ np.array(plane.normal) - plane.offset < _AT_WALL]
    return float(np.abs(at_it[:, across] - middle).max()) if len(at_it) else 0.0


def _doorway(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    plane = setting.motion.world.surfaces["doorway"]
    assert isinstance(plane, Plane)
    face = plane.normal[0] * plane.offset
    hands = [abs(float(setting.lump(f"fa2.{side}", setting.motion.frames[0])[2])) for side in SIDES]
    post, high, half = 0.09, 1.95, max(sizes.DOOR_HALF_WIDTH, *hands)
    found = [
        box(setting.view, f"jamb{side}", (face + 0.05, high / 2, side * half), (0.10, high, post), tones=WOOD)
        for side in (-1, 1)
    ]
    return [
        *found,
        box(setting.view, "lintel", (face + 0.05, high + 0.045, 0), (0.10, 0.09, 2 * half + post), tones=WOOD),
    ]


def _step(setting: PropScene, use: PropUse) -> list[PartOutline]:
    first, high = setting.motion.frames[0], sizes.step_height(use.words)
    on_it = [contact for contact in setting.spec.contacts if contact.target == "step"]
    sides = {side for contact in on_it for side in (contact.site.side or "rl")} or {"r"}
    feet = [setting.lump(f"{name}.{side}", first) for side in sorted(sides) for name in ("soleh", "soleb")]
    xs = [float(foot[0]) for foot in feet] or [0.2]
    x = (min(xs) + max(xs)) / 2
    if on_it and all(contact.site.name in ("toes", "ball") for contact in on_it):
        x = max(xs) - 0.045 + sizes.STEP_DEPTH / 2
    elif "under" in use.words:
        x = max(xs) + 0.06 - sizes.STEP_DEPTH / 2
    return [box(setting.view, "step", (x, high / 2, 0), (sizes.STEP_DEPTH, high, sizes.STEP_WIDTH), tones=WOOD)]


def _slope(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    low = np.vstack([frame.centres[:, 0] for frame in (setting.motion.frames[0], setting.motion.frames[-1])])
    x0, x1 = float(low.min()) - 0.16, float(low.max()) + 0.16
    return [wedge(setting.view, "slope", (x0, x1), math.tan(math.radians(sizes.SLOPE)), 0.34, tones=WOOD)]


FURNITURE: dict[str, Builder] = {
    "mat": _mat, "wall": _wall, "doorway": _doorway, "step": _step, "slope": _slope,
}  # fmt: skip

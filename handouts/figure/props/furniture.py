"""Mats, chairs, tables, walls, steps and rails, placed to fit the solved motion.

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
from handouts.figure.props.solids import box, tube, wedge


def _mat(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    ends = (setting.motion.frames[0], setting.motion.frames[-1])
    low = np.vstack([frame.centres[frame.centres[:, 1] < 0.32] for frame in ends])
    x0, x1 = float(low[:, 0].min()) - 0.08, float(low[:, 0].max()) + 0.08
    z = float(np.median(ends[0].centres[:, 2])) if setting.spec.base.startswith("side") else 0.0
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


def _chair_at(setting: PropScene, x: float, z: float, facing: int, turned: bool = False) -> list[PartOutline]:
    """A chair with its seat centre at (x, z); ``facing`` 1 when a sitter looks along X; ``turned`` looks along Z."""
    view, wide, leg, seat = setting.view, sizes.CHAIR_WIDTH, 0.034, sizes.SEAT_HEIGHT
    top = sizes.CHAIR_BACK_HEIGHT
    half = wide / 2 - leg / 2
    found = []

    def at(dx: float, dz: float) -> tuple[float, float]:
        return (x + dz, z + dx) if turned else (x + dx, z + dz)

    for one in (-1, 1):
        for two in (-1, 1):
            px, pz = at(one * half, two * half)
            found.append(box(view, f"leg{one}{two}", (px, (seat - 0.04) / 2, pz), (leg, seat - 0.04, leg), tones=WOOD))
            if one * facing < 0:
                found.append(box(view, f"post{two}", (px, (seat + top) / 2, pz), (leg, top - seat, leg), tones=WOOD))
    found.append(box(view, "seat", (x, seat - 0.02, z), (wide, 0.04, wide), tones=WOOD))
    rx, rz = at(-facing * half, 0.0)
    size = (wide - 2 * leg, 0.14, leg * 0.8) if turned else (leg * 0.8, 0.14, wide - 2 * leg)
    found.append(box(view, "rail", (rx, top - 0.08, rz), size, tones=WOOD))
    return found


def _chair(setting: PropScene, use: PropUse) -> list[PartOutline]:
    first = setting.motion.frames[0]
    if "support" in use.words or "front" in use.words:
        front = setting.motion.world.handholds["chair"]["r"][0]
        return _chair_at(setting, front + sizes.CHAIR_WIDTH / 2 - 0.017, 0.0, 1)
    if any(word.startswith("beside") for word in use.words):
        z = 0.61 if "beside-right" in use.words else -0.61
        return _chair_at(setting, 0.05, z, -1 if z < 0 else 1, turned=True)
    if "behind" in use.words:
        return _chair_at(setting, float(first.centres[:, 0].min()) - 0.24, 0.0, 1)
    seats = [setting.lump(f"glute.{side}", first) for side in SIDES]
    return _chair_at(setting, float(np.mean([seat[0] for seat in seats])) + 0.06, 0.0, 1)


def _stool(setting: PropScene, use: PropUse) -> list[PartOutline]:
    """A stool below the seat, or where the feet are nearest to its height."""
    first = setting.motion.frames[0]
    if "sit" in use.words:
        seats = [setting.lump(f"glute.{side}", first) for side in SIDES]
        place = np.mean(seats, axis=0) + np.array([0.04, 0.0, 0.0])
    else:
        place = min(
            (setting.lump(f"soleh.{side}", frame) for side in SIDES for frame in setting.motion.frames),
            key=lambda at: abs(at[1] - sizes.STOOL_HEIGHT),
        )
    return [
        box(
            setting.view,
            "stool",
            (float(place[0]), sizes.STOOL_HEIGHT / 2, float(place[2])),
            (0.38, sizes.STOOL_HEIGHT, 0.40),
            tones=WOOD,
        )
    ]


def _counter(setting: PropScene, use: PropUse) -> list[PartOutline]:
    place = setting.motion.world.handholds["counter"]["r"]
    top, deep, wide = sizes.COUNTER_HEIGHT, 0.46, 0.90 if "left" in use.words or "right" in use.words else 0.70
    if "left" in use.words or "right" in use.words:
        out = 1 if place[2] > 0 else -1
        z = place[2] - out * 0.07
        low, slab = (0.05, z + out * (deep / 2 + 0.03)), (0.05, z + out * deep / 2)
        return [
            box(
                setting.view,
                "cupboard",
                (low[0], (top - 0.04) / 2, low[1]),
                (wide - 0.06, top - 0.04, deep - 0.06),
                tones=WOOD,
            ),
            box(setting.view, "top", (slab[0], top - 0.02, slab[1]), (wide, 0.04, deep), tones=WOOD),
        ]
    x = place[0] - 0.07
    return [
        box(
            setting.view,
            "cupboard",
            (x + deep / 2 + 0.03, (top - 0.04) / 2, 0),
            (deep - 0.06, top - 0.04, wide - 0.06),
            tones=WOOD,
        ),
        box(setting.view, "top", (x + deep / 2, top - 0.02, 0), (deep, 0.04, wide), tones=WOOD),
    ]


def _table(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    x = setting.motion.world.handholds["table"]["r"][0] - 0.10
    top, deep, wide, leg = sizes.TABLE_HEIGHT, 0.52, 0.80, 0.045
    found = [
        box(
            setting.view,
            f"leg{one}{two}",
            (x + deep / 2 + one * (deep / 2 - leg), (top - 0.04) / 2, two * (wide / 2 - leg)),
            (leg, top - 0.04, leg),
            tones=WOOD,
        )
        for one in (-1, 1)
        for two in (-1, 1)
    ]
    return [*found, box(setting.view, "top", (x + deep / 2, top - 0.02, 0), (deep, 0.04, wide), tones=WOOD)]


def _wall(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    plane = setting.motion.world.surfaces["wall"]
    assert isinstance(plane, Plane)
    tops = [frame.centres[:, 1].max() for frame in (setting.motion.frames[0], setting.motion.frames[-1])]
    thick, high, long = 0.06, max(1.70, float(max(tops)) + 0.06), 0.80
    face = plane.normal[0] * plane.offset + plane.normal[2] * plane.offset
    if plane.normal[0]:
        x = face - plane.normal[0] * thick / 2
        return [box(setting.view, "wall", (x, high / 2, 0.0), (thick, high, long), tones=WOOD, layer=-6)]
    middle = float(np.median(setting.motion.frames[0].centres[:, 0]))
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


def _rail(setting: PropScene, use: PropUse) -> list[PartOutline]:
    place = setting.motion.world.handholds["rail"]["r"]
    across = (0, 0, 0.42) if "left" not in use.words and "right" not in use.words else (0.50, 0, 0)
    middle = np.array([place[0], sizes.RAIL_HEIGHT, 0.0 if across[2] else place[2]])
    ends = [middle - np.array(across), middle + np.array(across)]
    posts = [
        tube(
            setting.view,
            f"rail post{number}",
            np.array([[end[0], 0.0, end[2]], end]),
            0.016,
            "prop-side",
            flat_ends=False,
        )
        for number, end in enumerate(middle + np.array(across) * share for share in (-0.8, 0.8))
    ]
    return [*posts, tube(setting.view, "rail top", np.array(ends), 0.021, "prop-side", flat_ends=False)]


def _slope(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    low = np.vstack([frame.centres[:, 0] for frame in (setting.motion.frames[0], setting.motion.frames[-1])])
    x0, x1 = float(low.min()) - 0.16, float(low.max()) + 0.16
    return [wedge(setting.view, "slope", (x0, x1), math.tan(math.radians(sizes.SLOPE)), 0.34, tones=WOOD)]


FURNITURE: dict[str, Builder] = {
    "mat": _mat, "chair": _chair, "stool": _stool, "counter": _counter, "table": _table, "wall": _wall,
    "doorway": _doorway, "step": _step, "rail": _rail, "slope": _slope,
}  # fmt: skip

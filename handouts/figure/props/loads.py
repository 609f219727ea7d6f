"""Balls, sticks, rolls and pillows, which follow the body.

Sizes come from ``handouts.figure.pose.surroundings``, metres.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from handouts.figure.body.joints import SIDES
from handouts.figure.body.kinematics import local_point
from handouts.figure.body.sites import POINTS, Sphere
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose import surroundings as sizes
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.spec import PropUse
from handouts.figure.props.scene import CLOTH, Array, Builder, PropScene
from handouts.figure.props.solids import ball, cylinder, ellipsoid_part, tube


def _exercise_ball(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    number = next(n for n, frame in enumerate(setting.motion.frames) if frame is setting.frame)
    surface = setting.motion.worlds[number].surfaces["ball"]
    assert isinstance(surface, Sphere)
    return [ball(setting.view, "ball", np.array(surface.centre), surface.radius, "ball")]


def _weighted_ball(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    hands = [local_point(setting.body, setting.frame.placed, f"hand.{side}", (0.0, -0.050, 0.0)) for side in SIDES]
    return [ball(setting.view, "weighted ball", (hands[0] + hands[1]) / 2, sizes.WEIGHTED_BALL, "cloth")]


def _between_knees(setting: PropScene, name: str, round_it: tuple[float, float], along: float, rim: float) -> PartOutline:
    """Something soft between the knees: ``round_it`` its half sizes across, ``along`` its place on the thigh, ``rim`` its least half width."""
    knees = [setting.point("knee", side) for side in SIDES]
    thigh = setting.frame.placed.rotations[setting.body.numbers["thigh.r"]]
    half = max(rim, float(np.linalg.norm(knees[0] - knees[1])) / 2 - rim)
    return ellipsoid_part(
        setting.view, name, (knees[0] + knees[1]) / 2 + thigh[:, 1] * along, thigh * np.array([*round_it, half]), CLOTH
    )


_BOTH = {"knees": "knee", "ankles": "ankle"}
_BEHIND = frozenset({"hip", "pelvis", "chest", "shoulder"})
"""Points of an upright trunk: what lies at them lies behind the back."""
_IN_HAND = 0.15
"""Length of a roll that is squeezed in a hand, metres; it is thinner than others."""
_BETWEEN_ARM = frozenset({"elbow", "wrist"})
"""Points of an upright person's arm: what lies at them lies between arm and trunk."""


def _roll_at(setting: PropScene, name: str, side: str) -> tuple[Array, Array, float]:
    """Middle, direction and length of a roll at a point: on what the body lies on, behind its back, at its side, or in its hand."""
    first, across = setting.motion.frames[0], np.array([0.0, 0.0, 1.0])
    body = BASES[setting.spec.base]
    at = setting.point(name, side, first)
    on_mat = "mat" in body.props
    if name == "hand" and not on_mat:
        return setting.grip(side), setting.frame.placed.rotations[setting.body.numbers[f"hand.{side}"]][:, 0], _IN_HAND
    if name == "knee" and body.name == "sitting":
        return np.array([at[0] - 0.06, setting.level("seat") + sizes.ROLL, at[2]]), across, 0.26
    if name in _BEHIND and not body.lying:
        turn = first.placed.rotations[setting.body.numbers["sp1" if name in ("hip", "pelvis") else "sp6"]]
        return at - turn[:, 0] * (0.075 * setting.body.stature + sizes.ROLL) + turn[:, 1] * 0.06, across, 0.30
    if name in _BETWEEN_ARM and not on_mat:
        turn = setting.toward_trunk(side)
        return setting.point(name, side) + turn[:, 2] * (0.03 * setting.body.stature + sizes.ROLL * 0.6), turn[:, 0], 0.20
    back = 0.0 if name != "ankle" else 0.03
    return np.array([at[0] - back, setting.level("mat") + sizes.ROLL, at[2]]), across, 0.26


def _roll(setting: PropScene, use: PropUse) -> list[PartOutline]:
    found = []
    if "between-knees" in use.words:
        found.append(_between_knees(setting, "roll", (0.075, 0.075), 0.03, 0.03))
    for word in use.words:
        name, _, side = _BOTH.get(word, word).partition(".")
        if name not in POINTS:
            continue
        for one in (side,) if side else SIDES if POINTS[name][0].endswith(".") else ("",):
            at, along, long = _roll_at(setting, name, one)
            radius = sizes.ROLL if long > _IN_HAND else 0.6 * sizes.ROLL
            found.append(cylinder(setting.view, f"roll {name}{one}", at, along, length=long, radius=radius, tone=CLOTH))
    return found


def _stick(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    hands = np.array([setting.grip(side) for side in SIDES])
    away = (hands[0] - hands[1]) / (np.linalg.norm(hands[0] - hands[1]) + 1e-9)
    bar = tube(setting.view, "stick", np.array([hands[1] - away * 0.16, hands[0] + away * 0.16]), 0.012, "stick")
    return [replace(bar, held="rl")]


_ON_FLOOR = {"foot": "mid", "heel": "heel", "ankle": "sh2", "knee": "th4"}
"""Points that a pillow on the floor may lie under, and the ellipsoid above it."""


def _pillow(setting: PropScene, use: PropUse) -> list[PartOutline]:
    """Pillows between the knees, under feet, ankles or knees, and under the head, which is where one lies without a word."""
    found = []
    first = setting.motion.frames[0]
    floor = setting.level("mat")
    if "knees" in use.words:
        found.append(_between_knees(setting, "pillow", (0.09, 0.13), 0.06, 0.035))
    for word in use.words:
        name, _, side = word.partition(".")
        for one in ((side,) if side else SIDES) if name in _ON_FLOOR else ():
            at = setting.lump(f"{_ON_FLOOR[name]}.{one}", first)
            middle = np.array([at[0], floor + sizes.PILLOW / 2, at[2]])
            half = np.diag([0.21, sizes.PILLOW / 2 + 0.012, 0.15])
            found.append(ellipsoid_part(setting.view, f"pillow{word}{one}", middle, half, CLOTH))
    if not found or "head" in use.words:
        head = setting.lump("skull", first)
        high = (float(head[1]) - 0.075 - floor) / 2
        middle = np.array([head[0] - 0.01, floor + max(0.03, high), head[2]])
        half = np.diag([0.20, max(0.035, high + 0.01), 0.26])
        found.append(ellipsoid_part(setting.view, "pillow head" if found else "pillow", middle, half, CLOTH))
    return found


LOADS: dict[str, Builder] = {
    "exercise-ball": _exercise_ball, "weighted-ball": _weighted_ball, "roll": _roll, "stick": _stick, "pillow": _pillow,
}  # fmt: skip

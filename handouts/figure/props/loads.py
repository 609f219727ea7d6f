"""Balls, weights, sticks, rolls and pillows.

Sizes come from ``handouts.figure.pose.surroundings``, metres.
"""

from __future__ import annotations

import numpy as np

from handouts.figure.body.joints import SIDES
from handouts.figure.body.kinematics import local_point
from handouts.figure.body.sites import Sphere
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose import surroundings as sizes
from handouts.figure.pose.spec import PropUse
from handouts.figure.props.bands import cuff
from handouts.figure.props.scene import CLOTH, Builder, PropScene
from handouts.figure.props.solids import ball, cylinder, ellipsoid_part, tube


def _exercise_ball(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    number = next(n for n, frame in enumerate(setting.motion.frames) if frame is setting.frame)
    surface = setting.motion.worlds[number].surfaces["ball"]
    assert isinstance(surface, Sphere)
    return [ball(setting.view, "ball", np.array(surface.centre), surface.radius, "ball")]


def _weighted_ball(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    hands = [local_point(setting.body, setting.frame.placed, f"hand.{side}", (0.0, -0.050, 0.0)) for side in SIDES]
    return [ball(setting.view, "weighted ball", (hands[0] + hands[1]) / 2, sizes.WEIGHTED_BALL, "cloth")]


def _weight(setting: PropScene, use: PropUse) -> list[PartOutline]:
    found = []
    for side in SIDES:
        if not {"hands", "hand", f"hand.{side}"}.isdisjoint(use.words):
            along = setting.frame.placed.rotations[setting.body.numbers[f"hand.{side}"]][:, 0]
            grip = setting.grip(side)
            found.append(
                tube(setting.view, f"bar{side}", np.array([grip - along * 0.07, grip + along * 0.07]), 0.014, "sole")
            )
            for end in (-1, 1):
                found.append(
                    cylinder(
                        setting.view,
                        f"disc{side}{end}",
                        grip + along * 0.07 * end,
                        along,
                        length=0.035,
                        radius=0.038,
                        tone="sole",
                    )
                )
    return found


def _ankle_weight(setting: PropScene, use: PropUse) -> list[PartOutline]:
    return [
        cuff(setting, "sh4", side, CLOTH, wider=1.20, high=0.045)
        for side in SIDES
        if not {"ankles", "ankle", f"ankle.{side}"}.isdisjoint(use.words)
    ]


def _between_knees(setting: PropScene, name: str, round_it: tuple[float, float], along: float, rim: float) -> PartOutline:
    """Something soft between the knees: ``round_it`` its half sizes across, ``along`` its place on the thigh, ``rim`` its least half width."""
    knees = [setting.point("knee", side) for side in SIDES]
    thigh = setting.frame.placed.rotations[setting.body.numbers["thigh.r"]]
    half = max(rim, float(np.linalg.norm(knees[0] - knees[1])) / 2 - rim)
    return ellipsoid_part(
        setting.view, name, (knees[0] + knees[1]) / 2 + thigh[:, 1] * along, thigh * np.array([*round_it, half]), CLOTH
    )


_UNDER_JOINT = (("knee", "shank", frozenset({"knees", "knee"})), ("ankle", "foot", frozenset({"ankle"})))
"""What a roll lies under: the point, the segment that begins at it, and the words for both sides."""


def _roll(setting: PropScene, use: PropUse) -> list[PartOutline]:
    found = []
    if "between-knees" in use.words:
        found.append(_between_knees(setting, "roll", (0.075, 0.075), 0.03, 0.03))
    first = setting.motion.frames[0]
    floor = sizes.MAT_THICK if setting.spec.prop("mat") else 0.0
    for name, segment, both in _UNDER_JOINT:
        for side in SIDES:
            if (both | {f"{name}.{side}"}).isdisjoint(use.words):
                continue
            joint = first.placed.origins[setting.body.numbers[f"{segment}.{side}"]]
            at = np.array([joint[0] - (0.0 if name == "knee" else 0.03), floor + sizes.ROLL, joint[2]])
            if name == "knee" and setting.spec.base == "sitting":
                at = np.array([joint[0] - 0.06, sizes.SEAT_HEIGHT + sizes.ROLL, joint[2]])
            across = np.array([0.0, 0.0, 1.0])
            label = f"roll {name}{side}" if use.words != (f"{name}.{side}",) else f"roll{side}"
            found.append(cylinder(setting.view, label, at, across, length=0.26, radius=sizes.ROLL, tone=CLOTH))
    return found


def _stick(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    hands = np.array([setting.grip(side) for side in SIDES])
    away = (hands[0] - hands[1]) / (np.linalg.norm(hands[0] - hands[1]) + 1e-9)
    return [tube(setting.view, "stick", np.array([hands[1] - away * 0.16, hands[0] + away * 0.16]), 0.012, "stick")]


_ON_FLOOR = {"foot": "mid", "heel": "heel", "ankle": "sh3", "knee": "th4"}
"""Points that a pillow on the floor may lie under, and the ellipsoid above it."""


def _pillow(setting: PropScene, use: PropUse) -> list[PartOutline]:
    """Pillows between the knees, under feet, ankles or knees, and under the head, which is where one lies without a word."""
    found = []
    first = setting.motion.frames[0]
    floor = sizes.MAT_THICK if setting.spec.prop("mat") else 0.0
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
    "exercise-ball": _exercise_ball, "weighted-ball": _weighted_ball, "weight": _weight,
    "ankle-weight": _ankle_weight, "roll": _roll, "stick": _stick, "pillow": _pillow,
}  # fmt: skip

"""Balls, weights, sticks, rolls and pillows.

Sizes come from ``handouts.figure.pose.world``, metres.
"""

from __future__ import annotations

import numpy as np

from handouts.figure.body.joints import SIDES
from handouts.figure.body.kinematics import local_point
from handouts.figure.body.sites import Sphere
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.pose import world as sizes
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
        if "hands" in use.words or "hand" in use.words or f"hand.{side}" in use.words:
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
        if "ankles" in use.words or "ankle" in use.words or f"ankle.{side}" in use.words
    ]


def _roll(setting: PropScene, use: PropUse) -> list[PartOutline]:
    if "between-knees" in use.words:
        knees = [setting.point("knee", side) for side in SIDES]
        thigh = setting.frame.placed.rotations[setting.body.numbers["thigh.r"]]
        axes = thigh * np.array([0.075, 0.075, max(0.03, float(np.linalg.norm(knees[0] - knees[1])) / 2 - 0.03)])
        return [ellipsoid_part(setting.view, "roll", (knees[0] + knees[1]) / 2 + thigh[:, 1] * 0.03, axes, CLOTH)]
    found = []
    for side in SIDES:
        if f"knee.{side}" in use.words or f"ankle.{side}" in use.words:
            name = "knee" if f"knee.{side}" in use.words else "ankle"
            first = setting.motion.frames[0]
            joint = first.placed.origins[setting.body.numbers[f"{'shank' if name == 'knee' else 'foot'}.{side}"]]
            floor = sizes.MAT_THICK if setting.spec.prop("mat") else 0.0
            at = np.array([joint[0] - (0.0 if name == "knee" else 0.03), floor + sizes.ROLL, joint[2]])
            if name == "knee" and setting.spec.base == "sitting":
                at = np.array([joint[0] - 0.06, sizes.SEAT_HEIGHT + sizes.ROLL, joint[2]])
            found.append(
                cylinder(
                    setting.view,
                    f"roll{side}",
                    at,
                    np.array([0.0, 0.0, 1.0]),
                    length=0.26,
                    radius=sizes.ROLL,
                    tone=CLOTH,
                )
            )
    return found


def _stick(setting: PropScene, _use: PropUse) -> list[PartOutline]:
    hands = np.array([setting.grip(side) for side in SIDES])
    away = (hands[0] - hands[1]) / (np.linalg.norm(hands[0] - hands[1]) + 1e-9)
    return [tube(setting.view, "stick", np.array([hands[1] - away * 0.16, hands[0] + away * 0.16]), 0.012, "stick")]


def _pillow(setting: PropScene, use: PropUse) -> list[PartOutline]:
    if "knees" in use.words:
        knees = [setting.point("knee", side) for side in SIDES]
        thigh = setting.frame.placed.rotations[setting.body.numbers["thigh.r"]]
        half = max(0.035, float(np.linalg.norm(knees[0] - knees[1])) / 2 - 0.035)
        return [
            ellipsoid_part(
                setting.view,
                "pillow",
                (knees[0] + knees[1]) / 2 + thigh[:, 1] * 0.06,
                thigh * np.array([0.09, 0.13, half]),
                CLOTH,
            )
        ]
    floor = sizes.MAT_THICK if setting.spec.prop("mat") else 0.0
    found = []
    for word in use.words:
        name, _, side = word.partition(".")
        if name in ("foot", "ankle", "knee", "heel"):
            lump = {"foot": "mid", "heel": "heel", "ankle": "sh3", "knee": "th4"}[name]
            for one in (side,) if side else SIDES:
                at = setting.lump(f"{lump}.{one}", setting.motion.frames[0])
                found.append(
                    ellipsoid_part(
                        setting.view,
                        f"pillow{word}{one}",
                        np.array([at[0], floor + sizes.PILLOW / 2, at[2]]),
                        np.diag([0.21, sizes.PILLOW / 2 + 0.012, 0.15]),
                        CLOTH,
                    )
                )
    if found:
        return found
    head = setting.lump("skull", setting.motion.frames[0])
    top = float(head[1]) - 0.075
    middle = np.array([head[0] - 0.01, floor + max(0.03, (top - floor) / 2), head[2]])
    return [
        ellipsoid_part(
            setting.view, "pillow", middle, np.diag([0.20, max(0.035, (top - floor) / 2 + 0.01), 0.26]), CLOTH
        )
    ]


LOADS: dict[str, Builder] = {
    "exercise-ball": _exercise_ball, "weighted-ball": _weighted_ball, "weight": _weight,
    "ankle-weight": _ankle_weight, "roll": _roll, "stick": _stick, "pillow": _pillow,
}  # fmt: skip

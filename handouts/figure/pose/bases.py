"""Base positions: a full pose with its resting contacts and how firmly the solver holds it.

Angles here are a drawing's resting pose, never a dose or an instruction.  World frame: X to the right of
the picture in a side view, Y up, Z toward a viewer who sees the right side.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

_RELAXED = {"shoulder.abd": 9, "elbow.flex": 14, "hip.ir": -6, "fingers.curl": 20, "shoulder.flex": 2,
            "forearm.pro": 20}  # fmt: skip


Turn = tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]
"""A rotation matrix, row by row."""


@dataclass(frozen=True, slots=True)
class Base:
    """A base position.

    ``turn`` is the pelvis rotation (3, 3); ``height`` of the hip centres as a fraction of stature;
    ``hold`` the softness in degrees of the pelvis about X, Y, Z; ``soft`` the softness of joints in degrees.
    """

    name: str
    turn: Turn
    height: float
    angles: Mapping[str, float]
    hold: tuple[float, float, float]
    contacts: tuple[str, ...]
    rests: tuple[str, ...] = ()
    props: tuple[str, ...] = ()
    soft: Mapping[str, float] = field(default_factory=dict)
    lying: bool = False
    balanced: bool = False

    @property
    def pose(self) -> Mapping[str, float]:
        """The full pose in degrees; a name without a side means both sides."""
        return {**_RELAXED, **self.angles}


def _about_z(degrees: float) -> Turn:
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    return (cosine, -sine, 0.0), (sine, cosine, 0.0), (0.0, 0.0, 1.0)


_UPRIGHT: Turn = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
_ON_BACK = _about_z(90)
_ON_FRONT = _about_z(-90)
_ON_LEFT: Turn = ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
_ON_RIGHT: Turn = ((0.0, -1.0, 0.0), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0))
_ARMS_DOWN = {"shoulder.abd": 14, "shoulder.flex": -4, "elbow.flex": 10, "forearm.pro": 76}
_SIDE_ARMS = {"shoulder.{d}.flex": 165, "elbow.{d}.flex": 24, "shoulder.{d}.abd": 0, "forearm.{d}.pro": 20,
              "shoulder.{u}.flex": 46, "elbow.{u}.flex": 84, "shoulder.{u}.ir": -14, "forearm.{u}.pro": 66,
              "shoulder.{u}.abd": -2, "hip.ir": 0}  # fmt: skip


def _side_lying(name: str, down: str, turn: Turn) -> Base:
    up = "r" if down == "l" else "l"
    angles = {key.format(d=down, u=up): float(value) for key, value in _SIDE_ARMS.items()}
    angles["neck.side"] = -8.0 if down == "l" else 8.0
    return Base(name, turn, 0.16, angles, (5, 5, 5), (f"side.{down} mat", f"heel.{down} mat"),
                (f"hand.{up} mat", f"elbow.{down} mat", f"hand.{down} mat"),
                ("mat",), lying=True)  # fmt: skip


_SEATED = {"hip.flex": 86, "knee.flex": 88, "hip.abd": 4, "shoulder.flex": 22, "elbow.flex": 62, "forearm.pro": 70,
           "shoulder.abd": 8, "hip.ir": 0}  # fmt: skip

BASES: dict[str, Base] = {
    base.name: base
    for base in (
        Base("standing", _UPRIGHT, 0.53, {}, (5, 2, 6), ("foot floor",), balanced=True),
        Base("sitting", _UPRIGHT, 0.52, _SEATED, (2, 2, 8), ("foot floor", "seat seat"),
             ("grip.r own-thigh", "grip.l own-thigh"), ("chair",),
             {"hip": 6, "knee": 10}),
        Base("long-sitting", _UPRIGHT, 0.07,
             {"hip.flex": 82, "knee.flex": 2, "ankle.df": -12, "hip.abd": 3, "hip.ir": -4, "shoulder.flex": -24,
              "elbow.flex": 6, "wrist.flex": -60, "shoulder.abd": 14, "forearm.pro": 60},
             (2, 2, 10), ("pelvis mat", "heel mat"), (), ("mat",), {"hip": 5}),
        Base("reclined", _about_z(40), 0.10,
             {"hip.flex": 44, "knee.flex": 8, "ankle.df": -14, "hip.abd": 3, "hip.ir": -6, "shoulder.flex": 4, "shoulder.abd": 12,
              "elbow.flex": 34, "forearm.pro": 70},
             (2, 2, 6), ("pelvis mat", "upper-back backrest", "heel mat"), ("hand mat",), ("bed",), {"hip": 6}, lying=True),
        Base("supine", _ON_BACK, 0.09,
             {**_ARMS_DOWN, "ankle.df": -16, "hip.abd": 3, "neck.flex": 6, "hip.ir": -8},
             (1, 1, 30), ("back mat", "heel mat"), ("hand mat",), ("mat",), lying=True),
        Base("crook-lying", _ON_BACK, 0.09,
             {**_ARMS_DOWN, "hip.flex": 50, "knee.flex": 98, "hip.abd": 2, "hip.ir": 0, "neck.flex": 6},
             (1, 1, 30), ("back mat", "foot mat"), ("hand mat",), ("mat",), {"hip": 9, "knee": 16, "trunk": 4},
             lying=True),
        Base("prone", _ON_FRONT, 0.10,
             {"ankle.df": -48, "toes.ext": -20, "hip.abd": 3, "shoulder.flex": 6, "shoulder.abd": 80,
              "shoulder.ir": -80, "elbow.flex": 92, "forearm.pro": 80, "neck.flex": -4},
             (1, 1, 8), ("front mat", "foot-top mat"), ("hand mat", "elbow mat", "head mat"), ("mat",), lying=True),
        _side_lying("side-lying", "l", _ON_LEFT),
        _side_lying("side-lying-right", "r", _ON_RIGHT),
        Base("all-fours", _ON_FRONT, 0.29,
             {"hip.flex": 90, "knee.flex": 88, "ankle.df": -45, "shoulder.flex": 88, "shoulder.abd": 2,
              "elbow.flex": 4, "forearm.pro": 80, "wrist.flex": -70, "fingers.curl": 2, "neck.flex": -12,
              "hip.ir": 0},
             (5, 2, 6), ("shin mat", "palm mat"), (), ("mat",), {"elbow": 2.5, "shoulder": 12, "ankle": 30,
              "toes": 30, "hip": 4, "knee": 8}),
        Base("kneeling", _UPRIGHT, 0.29,
             {"hip.flex": 2, "knee.flex": 88, "ankle.df": -40, "hip.abd": 3, "hip.ir": 0},
             (2, 2, 8), ("shin mat",), (), ("mat",), {"hip": 6, "knee": 8, "ankle": 30}, balanced=True),
        Base("half-kneeling", _UPRIGHT, 0.30,
             {"hip.l.flex": 88, "knee.l.flex": 92, "hip.r.flex": -4, "knee.r.flex": 92, "ankle.r.df": -40,
              "hip.ir": 0},
             (1.5, 2, 8), ("foot.l mat", "knee.r mat", "foot-top.r mat"), (), ("mat",),
             {"hip": 6, "knee": 8, "ankle": 30}, balanced=True),
    )
}  # fmt: skip
"""All base positions by name."""

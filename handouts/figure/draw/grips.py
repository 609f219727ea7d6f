"""What hands do: five grips as joints of thumb and fingers, and how a hand lies on a surface or round a bar.

Coordinates of a hand, in its own lengths: ``d`` from the wrist to the finger tips, ``r`` to the thumb's side, ``p`` out
of the palm.  Proportions are measured on drawings of hands, no source.  Never draws.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating[Any]]
Bends = tuple[float, float, float]
LENGTH = 0.112
"""Length of a drawn hand, fractions of stature: a little more than the 0.108 of Winter's table, to be read when small."""
PALM_HALF = 0.085
"""Half the thickness of the palm."""
KNUCKLES = ((0.47, 0.150), (0.495, 0.050), (0.475, -0.050), (0.435, -0.145))
"""d and r of the knuckles, index to little finger."""
FINGERS = (0.425, 0.465, 0.435, 0.345)
"""Lengths of the fingers from the knuckle."""
BONES = (0.46, 0.30, 0.24)
"""Shares of the three bones of a finger."""
THICK = (0.058, 0.054, 0.050, 0.044)
"""Radii at knuckle, second joint, third joint and tip."""
THUMB_THICK = (0.085, 0.074, 0.062, 0.050)
"""Radii along the thumb."""
PALM = ((-0.02, 0.075, 0.0, 0.075), (-0.02, -0.075, 0.0, 0.075), (0.14, 0.13, 0.02, 0.085), (0.16, -0.145, 0.02, 0.075),
        (0.43, -0.150, 0.0, 0.062), (0.465, 0.150, 0.0, 0.066), (0.485, 0.05, 0.0, 0.066), (0.47, -0.05, 0.0, 0.066))  # fmt: skip
"""Spheres of the palm: d, r, p and radius."""
STRETCHED: dict[str, tuple[tuple[Bends, ...], tuple[float, ...], tuple[tuple[float, float, float], ...]]] = {
    "flat": (((2, 3, 2),) * 4, (7, 1.5, -4, -10),
             ((0.10, 0.10, 0.01), (0.27, 0.235, 0.01), (0.42, 0.33, 0.015), (0.54, 0.375, 0.02))),
    "open": (((14, 20, 14), (19, 24, 16), (24, 28, 18), (28, 30, 18)), (3, 0.5, -2, -5),
             ((0.10, 0.11, 0.04), (0.28, 0.22, 0.11), (0.43, 0.25, 0.17), (0.55, 0.235, 0.20))),
    "drape": (((18, 14, 8), (20, 16, 8), (22, 16, 8), (24, 16, 8)), (7, 1.5, -4, -9),
              ((0.10, 0.10, 0.04), (0.26, 0.23, 0.09), (0.40, 0.31, 0.13), (0.51, 0.35, 0.16))),
}  # fmt: skip
"""Grips that hold nothing: bend of three joints of each finger and its spread, degrees; the thumb's joints (d, r, p)."""
CLOSED = frozenset({"fist", "hook"})
"""Grips round something: with the thumb over the fingers, and with the thumb the other way round."""
IN_FIST = (0.54, 0.15)
"""d and p of a thin bar's middle inside a fist."""
_THIN = 0.145
"""Least radius at which the fingers of a fist run round a bar, to the middle of a finger."""
_MOST_ROUND = np.radians(262)
"""How far round a bar a finger goes."""


@dataclass(frozen=True, eq=False, slots=True)
class Grasp:
    """What a hand does: a grip, the frame (columns r, d, p in the world), the wrist, the held thing's radius; metres."""

    grip: str
    frame: Array
    wrist: Array
    radius: float = 0.0


def _bent(number: int, bends: Bends, spread: float) -> Array:
    d, r = KNUCKLES[number]
    points, turn, out = [np.array([d, r, 0.0])], 0.0, np.radians(spread)
    for share, bend in zip(BONES, bends, strict=True):
        turn += np.radians(bend)
        step = FINGERS[number] * share * np.array([np.cos(turn) * np.cos(out), np.sin(out), np.sin(turn)])
        points.append(points[-1] + step)
    return np.array(points)


def _wrapped(number: int, radius: float) -> Array:
    """A finger round a bar: its joints lie on a circle about the bar."""
    d, r = KNUCKLES[number]
    round_it = max(radius + THICK[1], _THIN)
    middle = np.array([d + 0.055 - 0.02 * (number == 3), max(round_it * 0.98, 0.12)])
    start = np.arctan2(-middle[1], d - middle[0])
    turns = start + np.cumsum([0.0, *(np.array(BONES) * 0.50 * FINGERS[number] / 0.45 / round_it)])
    turns = np.minimum(turns, start + _MOST_ROUND)
    places = middle + round_it * np.column_stack([np.cos(turns), np.sin(turns)])
    places[0] = (d, 0.0)
    return np.column_stack([places[:, 0], np.full(4, r), places[:, 1]])


def _thumb_over(radius: float) -> Array:
    grow = max(0.0, radius - 0.08)
    return np.array([[0.09, 0.115, 0.06], [0.27, 0.19, 0.19 + grow], [0.44, 0.170, 0.33 + grow * 1.6],
                     [0.565, 0.085, 0.355 + grow * 1.7]])  # fmt: skip


def _thumb_opposite(radius: float) -> Array:
    round_it = radius + THUMB_THICK[2]
    turns = np.radians([-20, -52, -84])
    d, p = 0.50 + round_it * np.sin(turns), radius - round_it * np.cos(turns) + 0.05
    return np.vstack([[0.10, 0.12, 0.05], np.column_stack([d, np.array([0.20, 0.23, 0.24]), p])])


def joints_of(grip: str, radius: float) -> tuple[list[Array], Array]:
    """Joints of the four fingers, (4, 3) each, and of the thumb (4, 3), as d, r, p; ``radius`` in lengths of the hand."""
    if grip in CLOSED:
        thumb = _thumb_over(radius) if grip == "fist" else _thumb_opposite(radius)
        return [_wrapped(number, radius) for number in range(4)], thumb
    bends, spreads, joints = STRETCHED[grip]
    return [_bent(number, bends[number], spreads[number]) for number in range(4)], np.array(joints)


def on_surface(outward: Array, along: Array, side: str, palm_down: bool = True) -> Array:
    """Columns r, d, p of a hand that lies on a surface: ``outward`` out of it, fingers along ``along``."""
    d = along - outward * (along @ outward)
    d /= np.linalg.norm(d)
    p = -outward if palm_down else outward
    return np.column_stack([np.cross(d, p) * (1 if side == "r" else -1), d, p])


def round_bar(
    solved: Array, middle: Array, axis: Array, radius: float, *, side: str, grip: str, length: float, thumb: Array
) -> Grasp:
    """A hand closed round a bar through ``middle`` along ``axis``, turned no more than needed from the solved one.

    ``thumb`` says to which end of the bar the thumb points.
    """
    r = axis / np.linalg.norm(axis)
    r = -r if r @ thumb < 0 else r
    d = solved[:, 1] - r * (r @ solved[:, 1])
    d /= np.linalg.norm(d)
    p = np.cross(r, d) * (1 if side == "r" else -1)
    if grip == "hook":
        back = d * 0.52 * length + p * (radius + PALM_HALF * length * 0.8)
    else:
        back = d * IN_FIST[0] * length + p * max(IN_FIST[1] * length, radius + PALM_HALF * length)
    return Grasp(grip, np.column_stack([r, d, p]), middle - back, radius)

"""Muscle regions as the camera sees them: projected row by row, each row cut to the half that faces the viewer.

So a calf shows at the back edge of a shank that is seen from the side, and wraps round it as the limb is round.
Never decides what covers them; ``handouts.figure.draw.paint`` does.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from handouts.figure.body.body import Body
from handouts.figure.body.muscles import Muscle
from handouts.figure.body.shape import (
    FOREARM_STATIONS,
    SHANK_STATIONS,
    THIGH_STATIONS,
    TRUNK_SECTIONS,
    UPPER_ARM_STATIONS,
)
from handouts.figure.draw.camera import CM
from handouts.figure.draw.rounding import closing, opening, outer
from handouts.figure.pose.solver import Solved

Array = NDArray[np.floating[Any]]
_LIMBS = {"thigh": ("th", THIGH_STATIONS), "shank": ("sh", SHANK_STATIONS), "uarm": ("ua", UPPER_ARM_STATIONS), "farm": ("fa", FOREARM_STATIONS)}
_ROWS = 22
_GROW = 1.06
"""How far a region lies over the ellipsoids: flesh between them is fuller than a straight line."""
_LEAST_WIDE, _LEAST_ROWS = 6.0, 4
"""A row that shows fewer degrees, and a region that shows fewer rows, is not seen."""


@dataclass(frozen=True, eq=False, slots=True)
class SeenPatch:
    """A region as seen: its shape, and its two long edges (n, 2), along which lines can run."""

    shape: BaseGeometry
    left: Array
    right: Array


def _sections(body: Body, frame: Solved, segment: str, side: str) -> tuple[Array, Array, Array, Array]:
    """Where cross-sections of a segment are, their centres (n, 3), and half axes to the front and to the outside (n, 3)."""
    z = 1 if side == "r" else -1
    if segment == "glute":
        number = body.lumps[f"glute.{side}"]
        axes, centre = frame.axes[number], frame.centres[number]
        along = np.linspace(-0.97, 0.97, 15)
        wide = np.sqrt(1 - along**2)[:, None]
        return along, centre + axes[:, 1] * along[:, None], axes[:, 0] * wide, axes[:, 2] * z * wide
    if segment == "trunk":
        names = [f"sec{number}" for number in range(len(TRUNK_SECTIONS))]
        along = np.array([section.height for section in TRUNK_SECTIONS])
    elif segment == "neck":
        names, along = ["neck0", "neck1", "neck2"], np.array([0.0, 0.6, 1.0])
    elif segment == "foot":
        names, along = [f"{name}.{side}" for name in ("heel", "mid", "ball")], np.array([0.0, 0.55, 1.0])
    else:
        short, stations = _LIMBS[segment]
        names = [f"{short}{number}.{side}" for number in range(len(stations))]
        along = np.array([station[0] for station in stations])
    numbers = [body.lumps[name] for name in names]
    axes = frame.axes[numbers]
    return along, frame.centres[numbers], axes[:, :, 1 if segment == "foot" else 0], axes[:, :, 2] * z


def _rows_at(places: Array, along: Array, values: Array) -> Array:
    """Values (m, 3) at places along a segment, running on straight past its ends."""
    found: Array = np.column_stack([np.interp(places, along, values[:, axis]) for axis in range(3)])
    for end, one, two in ((places < along[0], 0, 1), (places > along[-1], -1, -2)):
        step = (values[one] - values[two]) / (along[one] - along[two])
        found[end] = values[one] + (places[end] - along[one])[:, None] * step
    return found


def seen_patch(body: Body, frame: Solved, view: Array, muscle: Muscle, side: str, *, behind: bool = False) -> SeenPatch | None:
    """A region under a camera matrix, or as seen through the body from there (``behind``); None where it faces away."""
    rows = np.array(sorted(muscle.rows))
    places = np.linspace(rows[0, 0], rows[-1, 0], _ROWS)
    low, high = (np.interp(places, rows[:, 0], rows[:, column]) for column in (1, 2))
    along, centres, fronts, outs = _sections(body, frame, muscle.segment, side)
    middle = _rows_at(places, along, centres)
    inner = np.clip(places, along[0], along[-1])
    front, out = _rows_at(inner, along, fronts), _rows_at(inner, along, outs)
    toward = view[2] / np.linalg.norm(view[2]) * (-1 if behind else 1)
    facing = np.degrees(np.arctan2((out @ toward) / (out * out).sum(axis=1), (front @ toward) / (front * front).sum(axis=1)))
    facing += 360 * np.round(((low + high) / 2 - facing) / 360)
    first, last = np.maximum(low, facing - 90), np.minimum(high, facing + 90)
    kept = last - first > _LEAST_WIDE
    if kept.sum() < _LEAST_ROWS:
        return None

    def edge(angles: Array) -> Array:
        turn = np.radians(angles)[:, None]
        made = (middle + _GROW * (front * np.cos(turn) + out * np.sin(turn))) @ view[:2].T
        found: Array = made[kept]
        return found

    left, right = edge(first), edge(last)
    shape = outer(opening(closing(Polygon(np.vstack([left, right[::-1]])).buffer(0), 1.2 * CM), 0.9 * CM))
    return None if shape.is_empty else SeenPatch(shape, left, right)

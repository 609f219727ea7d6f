"""The arrow along the true path of a moving point, and the ghost of the start pose.

The arrow follows the solved path; it leaves the body only where it would hide it, and then stays beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from handouts.figure.draw.camera import CM
from handouts.figure.draw.curves import corner_path, line_path
from handouts.figure.draw.style import DrawnPath

Array = NDArray[np.floating[Any]]
_HEAD = 5.2 * CM
_MOST_LIMBS = 2
"""More moving limbs than these leave no ghost, which would clutter."""
_LEAST, _MOST_SHIFT = 13.0 * CM, 16.0 * CM


@dataclass(frozen=True, eq=False, slots=True)
class Arrow:
    """Marks of an arrow and the area it covers."""

    marks: tuple[DrawnPath, ...]
    area: BaseGeometry


def _smooth(path: Array) -> Array:
    """A smooth curve (n, 2) near the solved places, from the first to the last: a quartic in time."""
    time, dense = np.linspace(0, 1, len(path)), np.linspace(0, 1, 33)
    weight = np.ones(len(path))
    weight[[0, -1]] = 10.0
    degree = min(4, len(path) - 1)
    return np.column_stack([np.polyval(np.polyfit(time, path[:, axis], degree, w=weight), dense) for axis in (0, 1)])


def _length(path: Array) -> float:
    return float(np.hypot(*np.diff(path, axis=0).T).sum())


def _beside(path: Array, body: BaseGeometry) -> Array:
    """The path moved sideways just far enough to be seen beside the body."""
    chord = path[-1] - path[0]
    chord = chord / (np.linalg.norm(chord) + 1e-9)
    across = np.array([-chord[1], chord[0]])
    best, least = path, np.inf
    for shift in np.arange(0.0, _MOST_SHIFT + 1, 1.5 * CM):
        for way in (1.0, -1.0):
            moved = path + across * shift * way
            covered = LineString(moved).buffer(2.2 * CM).intersection(body).area / (4.4 * CM * _length(moved))
            cost = covered * 14 * CM + shift * 0.9
            if cost < least - 1e-6:
                best, least = moved, cost
    return best


def arrow_of(path: Array, body: BaseGeometry, central: bool) -> Arrow | None:
    """The arrow for a point's flat path (n, 2); ``central`` for points of the trunk, which would be hidden."""
    smooth = _smooth(path)
    length = _length(smooth)
    if length < 0.8 * CM:
        return None
    if length < _LEAST:
        middle = smooth.mean(axis=0)
        smooth = middle + (smooth - middle) * (_LEAST / length)
        central = True
    line = _beside(smooth, body) if central else smooth
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    at = np.linspace(0.0, along[-1], max(12, int(along[-1] / 4)))
    line = np.column_stack([np.interp(at, along, line[:, 0]), np.interp(at, along, line[:, 1])])
    tip = line[-1]
    far = np.hypot(*(line - tip).T)
    back = line[int(np.flatnonzero(far > _HEAD * 1.1)[-1])] if (far > _HEAD * 1.1).any() else line[0]
    way = (tip - back) / (np.linalg.norm(tip - back) + 1e-9)
    side = np.array([-way[1], way[0]])
    head = np.array(
        [
            tip,
            tip - way * _HEAD + side * _HEAD * 0.52,
            tip - way * _HEAD * 0.76,
            tip - way * _HEAD - side * _HEAD * 0.52,
        ]
    )
    stem = line[far > _HEAD * 0.78]
    if len(stem) < 2:
        stem = np.array([line[0], tip - way * _HEAD * 0.7])
    stem_path, head_path = line_path(stem, 0.8), corner_path(head)
    marks = (
        DrawnPath("halo", stem_path),
        DrawnPath("halo-head", head_path),
        DrawnPath("arrow", stem_path),
        DrawnPath("arrow-head", head_path),
    )
    return Arrow(marks, unary_union([LineString(line).buffer(1.4 * CM), Polygon(head)]))


def ghost_of(
    before: dict[str, Polygon], after: dict[str, Polygon], trunk: frozenset[str], holds: bool
) -> BaseGeometry | None:
    """The outline of the limbs that moved, in the start pose; None where it would clutter.

    Arms that hold something (``holds``) leave no ghost, for the thing would be missing from it.
    """
    moved = [
        name
        for name, shape in before.items()
        if name in after and shape.centroid.distance(after[name].centroid) > 5.0 * CM
    ]
    moved = [name for name in moved if name not in ("neck", "head", "hair")]
    if holds:
        moved = [name for name in moved if name.split(".")[0] not in ("sleeve", "uarm", "farm", "hand")]
    limbs = {(name.split(".")[0] in ("sleeve", "uarm", "farm", "hand"), name[-1]) for name in moved}
    if not moved or len(limbs) > _MOST_LIMBS or any(name in trunk for name in moved):
        return None
    shape = unary_union([before[name] for name in moved]).buffer(0.6 * CM).buffer(-0.6 * CM)
    body = unary_union(list(after.values()))
    if shape.difference(body).area < 0.25 * shape.area or shape.area > 0.55 * body.area:
        return None
    return shape

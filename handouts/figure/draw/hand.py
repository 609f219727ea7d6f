"""A hand as the camera sees it: the outline of palm, thumb and fingers, and the lines on it.

Drawing units.  Never says what a hand does (``handouts.figure.draw.settle`` does).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from handouts.figure.draw.camera import CM, UNITS_PER_METRE
from handouts.figure.draw.grips import CLOSED, LENGTH, PALM, THICK, THUMB_THICK, Grasp, joints_of
from handouts.figure.draw.rounding import closing, outer

Array = NDArray[np.floating[Any]]
_TURN = np.linspace(0, 2 * np.pi, 18, endpoint=False)
_DISC = np.column_stack([np.cos(_TURN), np.sin(_TURN)])
_SHORTEST = 0.9 * CM
"""Shorter lines are left out."""
_FACES = 0.12
"""Cosine to the viewer from which a face of a finger shows its lines."""
_APART, _APART_MIDDLE = 1.2 * CM, 0.62 * CM
"""Fingers that are closer in the picture have no line between them; the middle two may be closer."""
_INSET = 0.42 * CM
"""Lines keep this far from the outline."""
_FROM_ASIDE = 0.45
"""Cosine between the thumb's side and the viewer from which the nearest finger's curl is drawn."""


@dataclass(frozen=True, eq=False, slots=True)
class SeenHand:
    """A hand as seen: outline, lines on it, and spheres (centres (n, 3), radii (n,)) for its depth."""

    outline: Polygon
    lines: MultiLineString
    centres: Array
    radii: Array


def _capsules(chains: list[Array], radii: Array) -> BaseGeometry:
    """The union of the hulls of neighbouring circles along chains of points (n, 2)."""
    clouds = []
    for points in chains:
        rings = points[:, None, :] + _DISC * radii[:, None, None]
        clouds += [shapely.multipoints(rings[i : i + 2].reshape(-1, 2)) for i in range(len(points) - 1)]
    return shapely.union_all(shapely.convex_hull(np.array(clouds)))


def _gap(one: Array, two: Array, bone: int) -> float:
    """How far two fingers (4, 2) are apart in the picture, across the finger."""
    apart = (one[bone : bone + 2] - two[bone : bone + 2]).mean(axis=0)
    way = one[bone + 1] - one[bone]
    size = float(np.linalg.norm(way))
    return abs(float(apart[0] * way[1] - apart[1] * way[0])) / size if size > 0.5 * CM else float(np.linalg.norm(apart))


def _finger_lines(fingers: list[Array], flats: list[Array], to_view: Array) -> list[Array]:
    """Lines (n, 3) between neighbouring fingers, on the face of the hand that the viewer sees."""
    found: list[Array] = []
    for number in range(3):
        middle = (fingers[number] + fingers[number + 1]) / 2
        middle[3] = middle[2] + (middle[3] - middle[2]) * 0.85
        middle[0] = middle[0] + (middle[1] - middle[0]) * 0.30
        steps = np.diff(middle, axis=0)
        outward = np.column_stack([steps[:, 2], np.zeros(3), -steps[:, 0]])
        outward /= np.linalg.norm(outward, axis=1)[:, None] + 1e-9
        facing = outward @ to_view[2]
        curled = float(outward[0] @ outward[2]) < 0.5
        run: list[Array] = []
        for bone in range(3):
            gap = _gap(flats[number][:, :2], flats[number + 1][:, :2], bone)
            sign = 1.0 if facing[bone] > _FACES else -1.0 if not curled and facing[bone] < -_FACES else 0.0
            if sign and gap > (_APART if number != 1 else _APART_MIDDLE):
                lift = outward[bone] * sign * THICK[1] * 0.8
                run += [middle[bone] + lift] if not run else []
                run.append(middle[bone + 1] + lift)
            elif run:
                found.append(np.array(run))
                run = []
        if run:
            found.append(np.array(run))
    return found


def _folds(flats: list[Array], palm: Array, inner: BaseGeometry, unit: float, toward: float) -> list[BaseGeometry]:
    """The lines of a closed hand: the row of finger tips, and the nearest finger's curl where it is seen from the side."""
    found: list[BaseGeometry] = []
    tips = np.array([flat[3] for flat in flats])
    if tips[:, 2].mean() > palm[:, 2].mean() + 0.1 * unit:
        onward = np.mean([flat[3] - flat[2] for flat in flats], axis=0)[:2] * 0.35
        found.append(LineString(tips[:, :2] + onward))
    if abs(toward) > _FROM_ASIDE:
        curl = flats[0 if toward > 0 else 3]
        shape = outer(_capsules([curl[:, :2]], np.array(THICK) * unit))
        root = Point(curl[0, :2]).buffer(0.12 * unit)
        found.append(shape.exterior.intersection(inner.buffer(-0.15 * CM)).difference(root))
    return found


def see_hand(grasp: Grasp, view: Array, stature: float) -> SeenHand:
    """A hand under a camera matrix; ``stature`` in metres."""
    length = LENGTH * stature
    unit = length * UNITS_PER_METRE
    # Columns: where d, r and p point in view space, for a hand of length one.
    to_view = (view / UNITS_PER_METRE) @ grasp.frame[:, [1, 0, 2]]
    origin = view @ grasp.wrist
    fingers, thumb = joints_of(grasp.grip, grasp.radius / length)

    def seen(points: Array) -> Array:
        made: Array = points @ to_view.T * unit + origin
        return made

    flats, thumb_seen = [seen(points) for points in fingers], seen(thumb)
    spheres = np.array(PALM)
    palm, thick = seen(spheres[:, :3]), spheres[:, 3] * unit
    palm_shape = shapely.multipoints((palm[:, None, :2] + _DISC * thick[:, None, None]).reshape(-1, 2)).convex_hull
    finger_shape = _capsules([flat[:, :2] for flat in flats], np.array(THICK) * unit)
    thumb_shape = _capsules([thumb_seen[:, :2]], np.array(THUMB_THICK) * unit)
    if grasp.grip not in CLOSED:
        finger_shape = closing(finger_shape, 0.28 * CM)
    whole = outer(closing(shapely.union_all([palm_shape, finger_shape, thumb_shape]), 0.4 * CM))
    inner = whole.buffer(-_INSET)
    lines: list[BaseGeometry] = [LineString(seen(run)[:, :2]) for run in _finger_lines(fingers, flats, to_view)]
    if grasp.grip in CLOSED:
        lines += _folds(flats, palm, inner, unit, float(to_view[2, 1]))
    clean = [line.intersection(inner) for line in lines]
    fingers_near = float(np.mean([flat[1:, 2].mean() for flat in flats]))
    if thumb_seen[2:, 2].mean() >= max(palm[:, 2].mean(), fingers_near - 0.2 * CM):
        # The thumb lies over the hand: its edge is drawn, but for its root, and hides what is under it.
        cover, root = thumb_shape.buffer(0.25 * CM), Point(thumb_seen[0, :2]).buffer(0.17 * unit)
        clean = [line.difference(cover) for line in clean]
        clean.append(shapely.LinearRing(outer(thumb_shape).exterior.coords).intersection(inner).difference(root))
    kept = [part for line in clean for part in shapely.get_parts(line)
            if isinstance(part, LineString) and part.length > _SHORTEST]  # fmt: skip
    centres = np.vstack([palm, *flats, thumb_seen])
    radii = np.concatenate([thick, *[np.array(THICK) * unit] * 4, np.array(THUMB_THICK) * unit])
    return SeenHand(whole, MultiLineString(kept), centres, radii)

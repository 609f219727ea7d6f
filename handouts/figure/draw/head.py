"""Hair and face: where they are seen on the head.

The hair is the part of a slightly larger skull above a hairline; the face is two eyes, a mouth and the ears.
Never orders or paints.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from handouts.figure.body.body import Body
from handouts.figure.body.linear import inverse
from handouts.figure.draw.camera import CM, UNITS_PER_METRE, outline_rings
from handouts.figure.draw.rounding import closing, opening, outer
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.draw.style import FigureStyle
from handouts.figure.pose.solver import Solved

Array = NDArray[np.floating[Any]]
# Hairline: elevation on the skull in degrees, by azimuth from the front (0) to the back (180).
_HAIRLINES = {
    "short": ((0, 40), (35, 39), (55, 34), (66, 14), (76, -4), (86, -10), (96, -2), (106, 0), (122, -26), (145, -40),
              (180, -46)),
    "bob": ((0, 42), (25, 44), (48, 34), (60, 2), (70, -36), (90, -58), (120, -66), (150, -68), (180, -68)),
    "bun": ((0, 40), (40, 39), (60, 34), (74, 10), (90, 2), (106, 0), (125, -20), (150, -30), (180, -34)),
}  # fmt: skip
_SWELL = {"short": 1.075, "bob": 1.13, "bun": 1.05}


@dataclass(frozen=True, eq=False, slots=True)
class Face:
    """Marks on the face in drawing units."""

    eyes: tuple[Polygon, ...]
    brows: tuple[LineString, ...]
    mouth: LineString | None
    ear: Polygon | None


def _skull(body: Body, solved: Solved, view: Array) -> tuple[Array, Array]:
    number = body.lumps["skull"]
    return view @ solved.centres[number], view @ solved.axes[number]


def _hairline(style: str) -> Array:
    """Unit vectors (n, 3) along the hairline in the head's frame."""
    table = np.array(_HAIRLINES[style], dtype=float)
    azimuth = np.linspace(-180, 180, 121)[:-1]
    rise = np.radians(np.interp(np.abs(azimuth), table[:, 0], table[:, 1]))
    rise = sum(np.roll(rise, shift) for shift in (-1, 0, 1)) / 3
    turn = np.radians(azimuth)
    return np.column_stack([np.cos(rise) * np.cos(turn), np.sin(rise), np.cos(rise) * np.sin(turn)])


def _flat_map(middle: Array) -> tuple[Array, Array]:
    """Two directions across a map's middle."""
    across = np.cross(middle, [0.3, 0.9, 0.31])
    across /= np.linalg.norm(across)
    return across, np.cross(middle, across)


def _map_middle(line: Array, toward: Array) -> Array:
    """The middle of an azimuthal map: near the viewer, its antipode as far from the line as can be."""
    across, other = _flat_map(toward)
    tries = [toward]
    tries += [
        toward * np.cos(tilt) + np.sin(tilt) * (np.cos(way) * across + np.sin(way) * other)
        for tilt in np.radians([18, 34])
        for way in np.radians(np.arange(0, 360, 45))
    ]
    return max(tries, key=lambda middle: -float((line @ -middle).max()))


def _seen_region(line: Array, centre: Array, axes: Array) -> BaseGeometry:
    """The visible part of the region of an ellipsoid above a closed line on it."""
    toward = inverse(axes)[:, 2]
    toward = toward / np.linalg.norm(toward)
    middle = _map_middle(line, toward)
    across, other = _flat_map(middle)

    def flat(vectors: Array) -> Array:
        angle = np.arccos(np.clip(vectors @ middle, -1, 1))
        way = np.arctan2(vectors @ other, vectors @ across)
        return np.column_stack([angle * np.cos(way), angle * np.sin(way)])

    turn = np.linspace(0, 2 * np.pi, 96, endpoint=False)
    one, two = _flat_map(toward)
    rim = np.cos(turn)[:, None] * one + np.sin(turn)[:, None] * two
    disc, ring = Polygon(flat(rim)).buffer(0), Polygon(flat(line)).buffer(0)
    # A direction known to have hair or not, as far from the antipode as any, tells what the ring encloses.
    knows = np.array([[0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.75, -0.66, 0.0]])
    nearest = int((knows @ middle).argmax())
    encloses = ring.contains(Point(*flat(knows[nearest : nearest + 1])[0]))
    region = disc.intersection(ring) if encloses == (nearest < 2) else disc.difference(ring)
    if region.is_empty:
        return region
    points = np.asarray(outer(region).exterior.coords)
    angle = np.hypot(points[:, 0], points[:, 1])
    way = np.arctan2(points[:, 1], points[:, 0])
    vectors = np.cos(angle)[:, None] * middle + np.sin(angle)[:, None] * (
        np.cos(way)[:, None] * across + np.sin(way)[:, None] * other
    )
    return Polygon((vectors @ axes.T + centre)[:, :2]).buffer(0)


def hair_part(body: Body, solved: Solved, view: Array, look: FigureStyle) -> PartOutline | None:
    """The hair as a part, or None where none is seen."""
    style = look.hair_style
    centre, axes = _skull(body, solved, view)
    axes = axes * _SWELL[style]
    shape = _seen_region(_hairline(style), centre, axes)
    if style == "bun":
        knot = centre + axes @ np.array([-0.98, 0.42, 0.0])
        shape = shape.union(Point(knot[0], knot[1]).buffer(0.026 * UNITS_PER_METRE * body.stature * body.head, quad_segs=8))
    if shape.is_empty or shape.area < 200:
        return None
    smooth = outer(opening(closing(shape, 0.5 * CM), 0.7 * CM))
    if smooth.is_empty:
        return None
    return PartOutline("hair", smooth, look.hair_tone, centres=centre[None], inverses=inverse(axes)[None])


def _mark(solved: Solved, body: Body, view: Array, offset: tuple[float, float, float]) -> Array:
    number = body.numbers["head"]
    point: Array = view @ (
        solved.placed.origins[number] + solved.placed.rotations[number] @ (np.array(offset) * body.stature * body.head)
    )
    return point


def _curve_on_face(solved: Solved, body: Body, view: Array, points: Array, normals: Array) -> LineString | None:
    facing = (view[2] / np.linalg.norm(view[2])) @ solved.placed.rotations[body.numbers["head"]] @ normals.T
    kept = [
        _mark(solved, body, view, tuple(point))[:2] for point, seen in zip(points, facing, strict=True) if seen > 0.18
    ]
    return LineString(kept) if len(kept) > 2 else None


def face_of(body: Body, solved: Solved, view: Array, head: Polygon) -> Face:
    """The marks on the face that the camera sees; ``head`` is the outline of the head."""
    rotation = solved.placed.rotations[body.numbers["head"]]
    toward = (view[2] / np.linalg.norm(view[2])) @ rotation
    eyes, brows, ear = [], [], None
    for z in (1, -1):
        if toward @ np.array([0.90, 0.1, 0.44 * z]) > 0.22:
            centre = _mark(solved, body, view, (0.0535, 0.040, 0.0205 * z))
            axes = view @ rotation * (np.array([0.0042, 0.0062, 0.0044]) * body.stature * body.head)
            eye = Polygon(outline_rings(centre[None], axes[None])[0])
            if eye.within(head.buffer(-0.1 * CM)):
                eyes.append(eye)
                mid = np.radians(23 * z)
                arc = np.radians(np.linspace(-1, 1, 7) * 10.5) + mid
                rise = 0.0600 - 0.075 * (arc - mid) ** 2 - 0.004 * (arc - mid) * z
                points = np.column_stack([0.0585 * np.cos(arc), rise, 0.0545 * np.sin(arc)])
                brow = _curve_on_face(solved, body, view, points, np.column_stack([np.cos(arc), 0 * arc, np.sin(arc)]))
                if brow is not None and brow.intersection(head.buffer(-0.15 * CM)).length > 1.0 * CM:
                    brows.append(brow.intersection(head.buffer(-0.15 * CM)))
        if toward @ np.array([-0.1, 0.0, z]) > 0.3:
            centre = _mark(solved, body, view, (-0.006, 0.028, 0.0490 * z))
            axes = view @ rotation * (np.array([0.0100, 0.0145, 0.0040]) * body.stature * body.head)
            ear = Polygon(outline_rings(centre[None], axes[None])[0])
    arc = np.radians(np.linspace(-27, 27, 9))
    rise = 0.0035 + 0.0062 * (arc / arc[-1]) ** 2
    points = np.column_stack([0.0545 * np.cos(arc), rise, 0.0345 * np.sin(arc)])
    mouth = _curve_on_face(solved, body, view, points, np.column_stack([np.cos(arc), 0 * arc, np.sin(arc)]))
    if mouth is not None:
        inner = mouth.intersection(head.buffer(-0.15 * CM))
        mouth = inner if isinstance(inner, LineString) and inner.length > 1.0 * CM else None
    return Face(tuple(eyes), tuple(line for line in brows if isinstance(line, LineString)), mouth, ear)

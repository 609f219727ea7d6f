"""Simple solids for props: boxes, tubes and balls, as parts with an outline and a depth.

Corners and radii in metres; outlines in drawing units.  Never knows what a prop is for.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiPoint, Point, Polygon

from handouts.figure.body.linear import fit_plane, inverse
from handouts.figure.draw.camera import UNITS_PER_METRE
from handouts.figure.draw.silhouette import PartOutline, PropFace

Array = NDArray[np.floating[Any]]
_FACES = (
    ((1, 0, 0), (1, 3, 7, 5)),
    ((-1, 0, 0), (0, 4, 6, 2)),
    ((0, 1, 0), (2, 6, 7, 3)),
    ((0, -1, 0), (0, 1, 5, 4)),
    ((0, 0, 1), (4, 5, 7, 6)),
    ((0, 0, -1), (0, 2, 3, 1)),
)
"""Outward normal and corner numbers (bit 0 x, bit 1 y, bit 2 z) of a box."""


def box(
    view: Array,
    name: str,
    centre: tuple[float, float, float],
    size: tuple[float, float, float],
    *,
    tones: tuple[str, str],
    layer: int = 0,
) -> PartOutline:
    """A box with edges along the axes; ``tones`` for the top and for the sides."""
    middle, half = np.array(centre), np.array(size) / 2
    corners = np.array(
        [middle + half * [(1 if n & 1 else -1), (1 if n & 2 else -1), (1 if n & 4 else -1)] for n in range(8)]
    )
    flat = corners @ view.T
    faces = []
    for normal, numbers in _FACES:
        facing = view @ np.array(normal, dtype=float) / UNITS_PER_METRE
        if facing[2] > 0.03:
            points = flat[list(numbers)]
            plane = _plane(points)
            faces.append(PropFace(points[:, :2], plane, tones[0] if normal[1] else tones[1]))
    outline = MultiPoint(flat[:, :2]).convex_hull
    assert isinstance(outline, Polygon)
    room = (centre, (size[0] / 2, size[1] / 2, size[2] / 2))
    return PartOutline(f"prop {name}", outline, tones[0], faces=tuple(faces), layer=layer, room=room)


def _plane(points: Array) -> tuple[float, float, float]:
    solved = fit_plane(points[:, :2], points[:, 2:3])[:, 0]
    return float(solved[0]), float(solved[1]), float(solved[2])


def _spheres(points: Array, radius: float) -> tuple[Array, Array]:
    dense = []
    for one, two in zip(points, points[1:], strict=False):
        count = max(2, int(np.linalg.norm(two - one) / max(radius, 0.02)) + 1)
        dense.append(one + (two - one) * np.linspace(0, 1, count)[:, None])
    centres = np.vstack(dense)
    return centres, np.repeat((np.eye(3) / (radius * UNITS_PER_METRE))[None], len(centres), axis=0)


def tube(view: Array, name: str, points: Array, radius: float, tone: str, *, flat_ends: bool = True) -> PartOutline:
    """A tube along points (n, 3), such as a band or a stick."""
    centres, inverses = _spheres(np.asarray(points, dtype=float), radius)
    line = LineString(np.asarray(points) @ view[:2].T)
    outline = line.buffer(
        radius * UNITS_PER_METRE, cap_style="flat" if flat_ends and line.length > 1 else "round", quad_segs=4
    )
    if outline.geom_type != "Polygon":
        outline = outline.convex_hull
    # A depth map needs cells: thin tubes are thickened for it, not for drawing.
    thick = max(radius * UNITS_PER_METRE, 5.0)
    return PartOutline(
        f"prop {name}",
        outline,
        tone,
        centres=centres @ view.T,
        inverses=np.repeat((np.eye(3) / thick)[None], len(inverses), axis=0),
    )


def nearer(part: PartOutline, metres: float) -> PartOutline:
    """The same part, ordered as if it were nearer to the viewer."""
    assert part.centres is not None
    return replace(part, centres=part.centres + np.array([0.0, 0.0, metres * UNITS_PER_METRE]))


def ball(view: Array, name: str, centre: Array, radius: float, tone: str) -> PartOutline:
    """A ball."""
    at = view @ np.asarray(centre, dtype=float)
    outline = Point(at[0], at[1]).buffer(radius * UNITS_PER_METRE, quad_segs=16)
    return PartOutline(
        f"prop {name}", outline, tone, centres=at[None], inverses=(np.eye(3) / (radius * UNITS_PER_METRE))[None]
    )


def ellipsoid_part(view: Array, name: str, centre: Array, axes: Array, tone: str) -> PartOutline:
    """A cushion or a roll: an ellipsoid with half axes as columns (3, 3), metres."""
    from_view = view @ axes
    at = view @ centre
    turn = np.linspace(0, 2 * np.pi, 40, endpoint=False)
    ring = np.column_stack([np.cos(turn), np.sin(turn)])
    spread = from_view[:2] @ from_view[:2].T
    across = ring @ spread
    outline = Polygon(at[:2] + across / np.sqrt(np.einsum("ij,ij->i", across, ring))[:, None])
    return PartOutline(f"prop {name}", outline, tone, centres=at[None], inverses=inverse(from_view)[None])


def cylinder(view: Array, name: str, centre: Array, along: Array, *, length: float, radius: float, tone: str) -> PartOutline:
    """A roll lying along a direction, with round ends a little flattened."""
    way = along / np.linalg.norm(along)
    ends = np.array([centre - way * length / 2, centre + way * length / 2])
    rings = []
    one = np.cross(way, [0.3, 0.8, 0.5])
    one /= np.linalg.norm(one)
    two = np.cross(way, one)
    turn = np.linspace(0, 2 * np.pi, 24, endpoint=False)
    for end in ends:
        rings.append(end + radius * (np.cos(turn)[:, None] * one + np.sin(turn)[:, None] * two))
    outline = MultiPoint((np.vstack(rings) @ view.T)[:, :2]).convex_hull
    centres, inverses = _spheres(ends, radius)
    assert isinstance(outline, Polygon)
    return PartOutline(f"prop {name}", outline, tone, centres=centres @ view.T, inverses=inverses)


def prism(
    view: Array, name: str, ends: tuple[Array, Array], *, tones: tuple[str, str], layer: int = 0
) -> PartOutline:
    """A convex outline (n, 3) and the same one elsewhere, joined; ``tones`` for faces that look up and for the others."""
    one, two = ends
    sides = [np.array([one[n], one[(n + 1) % len(one)], two[(n + 1) % len(one)], two[n]]) for n in range(len(one))]
    middle = np.vstack(ends).mean(axis=0)
    faces = []
    for corners in (one, two, *sides):
        normal = np.cross(corners[1] - corners[0], corners[2] - corners[1])
        normal *= np.sign(normal @ (corners.mean(axis=0) - middle))
        size = float(np.linalg.norm(normal)) + 1e-12
        if view[2] @ normal > 0.02 * UNITS_PER_METRE * size:
            flat = corners @ view.T
            faces.append(PropFace(flat[:, :2], _plane(flat), tones[0] if normal[1] > 0.5 * size else tones[1]))
    outline = MultiPoint((np.vstack(ends) @ view.T)[:, :2]).convex_hull
    assert isinstance(outline, Polygon)
    return PartOutline(f"prop {name}", outline, tones[0], faces=tuple(faces), layer=layer)


def wedge(
    view: Array, name: str, along: tuple[float, float], rise: float, half_width: float, *, tones: tuple[str, str]
) -> PartOutline:
    """A slope from x0 to x1 with height ``rise * x``, standing on its lowest edge."""
    x0, x1 = along
    low = rise * x0 - 0.03
    front, back = (
        np.array([[x0, low, z], [x1, low, z], [x1, rise * x1, z], [x0, rise * x0, z]]) for z in (half_width, -half_width)
    )
    return prism(view, name, (front, back), tones=tones, layer=-4)

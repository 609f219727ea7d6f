"""A small part of a picture once more, larger, in a circle: for a movement that is too small to be seen.

The lines are as wide as in the picture; where the part was in the picture before is a dashed contour.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.affinity import affine_transform
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from handouts.figure.body.sites import POINTS
from handouts.figure.draw.camera import CM
from handouts.figure.draw.curves import line_path, shape_path
from handouts.figure.draw.head import Face
from handouts.figure.draw.pieces import Piece, hidden, lines_of
from handouts.figure.draw.style import DrawnPath
from handouts.figure.pose.spec import Named

Array = NDArray[np.floating[Any]]
LARGER = 2.0
"""How much larger the part is drawn."""
_REACH, _REACH_OF_TRUNK = 12 * CM, 14 * CM
"""How far the circle reaches round a point of a limb, and round one of trunk or head."""
_NEAR, _FAR = 3 * CM, 60 * CM
"""How far the large circle stands from the small one."""
_DIRECTIONS = np.radians(np.arange(0, 360, 15))
_APART = 0.7 * CM
"""A contour nearer than this to what is drawn says nothing."""


@dataclass(frozen=True, eq=False, slots=True)
class Inset:
    """The marks of a circle, its middle and radius, and the room it takes."""

    marks: tuple[DrawnPath, ...]
    circle: tuple[float, float, float]
    room: BaseGeometry


def make_inset(point: Named, at: Array, pieces: list[Piece], face: Face, before: BaseGeometry | None, picture: BaseGeometry) -> Inset:
    """The circle that shows what lies round a point ``at`` (x, y); ``before`` is where the body was, ``picture`` all that is drawn."""
    limb = POINTS[point.name][0].endswith(".")
    reach = _REACH if limb else _REACH_OF_TRUNK
    radius = reach * LARGER
    here = (float(at[0]), float(at[1]))
    middle = _free_place(here, reach, radius, picture)
    disc = Point(middle).buffer(radius, quad_segs=16)
    matrix = [LARGER, 0, 0, LARGER, middle[0] - LARGER * here[0], middle[1] - LARGER * here[1]]

    def shown(shape: BaseGeometry) -> BaseGeometry:
        return affine_transform(shape, matrix).intersection(disc)

    marks = [DrawnPath("halo", shape_path(disc, 1.5))]
    unseen = hidden(pieces)
    for number, piece in enumerate(pieces):
        if number not in unseen:
            marks += _piece_marks(piece, face, shown)
    if before is not None:
        body = unary_union([piece.shape for piece in pieces if piece.parts[0].is_body])
        past = shown(before).boundary.intersection(disc.buffer(-2)).difference(shown(body).boundary.buffer(_APART))
        path = "".join(line_path(np.asarray(line.coords)) for line in lines_of(past) if line.length > 5 * CM)
        marks += [DrawnPath("was", path)] if path else []
    edge = [DrawnPath("line", shape_path(Point(middle).buffer(radius, quad_segs=16), 1.5))]
    small = Point(here).buffer(reach, quad_segs=12)
    way = np.array(middle) - here
    way /= float(np.hypot(*way))
    leader = np.array([np.array(here) + way * reach, np.array(middle) - way * radius])
    source = [DrawnPath("thin", shape_path(small, 1.5)), DrawnPath("thin", line_path(leader))]
    room = unary_union([disc.buffer(CM), small.buffer(CM)])
    return Inset((*source, *(mark for mark in marks if mark.path), *edge), (*middle, radius), room)


def _piece_marks(piece: Piece, face: Face, shown: Callable[[BaseGeometry], BaseGeometry]) -> list[DrawnPath]:
    """A piece in the circle: its face, its outline, its creases, the lines of a hand, the face of a head."""
    if not piece.parts[0].is_body:
        part = piece.parts[0]
        if part.tone == "plain" or not part.faces:
            return [DrawnPath("prop" if part.tone == "plain" else part.tone, shape_path(shown(part.polygon)))]
        return [DrawnPath(one.tone, shape_path(shown(Polygon(one.corners).buffer(0)))) for one in part.faces]
    area = shown(piece.shape)
    if area.is_empty:
        return []
    if piece.open_at is None or piece.open_at.is_empty:
        found = [DrawnPath(piece.role, shape_path(area))]
    else:
        found = [DrawnPath(f"{piece.role} bare", shape_path(area)), *_lines(shown(piece.shape.exterior.difference(piece.open_at)), "line")]
    for crease in piece.creases:
        found += _lines(shown(crease), "line")
    for part in piece.parts:
        if part.lines is not None:
            found += _lines(shown(part.lines), "fine")
    if "head" in piece.names:
        found += [DrawnPath("ink", shape_path(shown(eye), 0.4, 4.0)) for eye in face.eyes]
        for line in (*face.brows, *((face.mouth,) if face.mouth is not None else ())):
            found += _lines(shown(line), "thin")
    if face.ear is not None and "hair" in piece.names:
        found.append(DrawnPath("skin thin", shape_path(shown(face.ear), 0.5)))
    return found


def _lines(shape: BaseGeometry, role: str) -> list[DrawnPath]:
    return [DrawnPath(role, line_path(np.asarray(line.coords))) for line in lines_of(shape) if line.length > CM]


def _free_place(here: tuple[float, float], reach: float, radius: float, picture: BaseGeometry) -> tuple[float, float]:
    """The middle of the large circle: near the small one, over nothing, and within the picture where that can be."""
    x0, y0, x1, y1 = picture.bounds
    found = []
    for gap in np.linspace(_NEAR, _FAR, 8):
        for turn in _DIRECTIONS:
            away = reach + radius + float(gap)
            x, y = here[0] + away * float(np.cos(turn)), here[1] + away * float(np.sin(turn))
            hides = Point(x, y).buffer(radius + 1.5 * CM, quad_segs=6).intersection(picture).area / (np.pi * radius**2)
            wide = max(x0 - x + radius, 0) + max(x + radius - x1, 0)
            high = max(y0 - y + radius, 0) + max(y + radius - y1, 0)
            found.append((40.0 * hides + (wide + high) / radius + 0.3 * float(gap) / radius, x, y))
    _, x, y = min(found)
    return x, y

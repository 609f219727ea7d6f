"""The movement as data for a page: how each piece of the end picture moves back to the start.

A piece that keeps its shape gets one affine map a key; one that bends gets its outline as points a key.
Keys are evenly spaced in time; the player interpolates through them with a cubic.  Never draws a still picture.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from handouts.figure.body.linear import fit_plane
from handouts.figure.compute import Figure
from handouts.figure.draw.camera import CM
from handouts.figure.draw.rounding import closing, outer
from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.draw.style import TONES
from handouts.figure.panels import Drawn
from handouts.figure.scene import make_scene, parts_of

Array = NDArray[np.floating[Any]]
_EVERY = 2
"""Every second frame of the motion is a key; the last is the end picture."""
_KEEPS_SHAPE = 6.0
"""How far in drawing units (12 mm) an affine map may miss an outline."""
_STILL = 1.5
"""Drawing units below which a piece does not move."""
_SPACING = 6.0 * CM
_FEWEST, _MOST = 12, 22


@dataclass(frozen=True, eq=False, slots=True)
class PieceOutline:
    """The outline of a piece in one frame, and material points (n, 2) that ride on it."""

    outline: Polygon
    riding: Array


def outlines_at(figure: Figure, numbers: tuple[int, ...]) -> list[dict[str, PartOutline]]:
    """All parts by name in some frames, settled as they are in the still pictures."""
    body = figure.style.body
    scene = make_scene(figure.spec, body, figure.motion, figure.style)
    return [{part.name: part for part in parts_of(scene, scene.frames[number])[1]} for number in numbers]


def _shape(names: tuple[str, ...], parts: dict[str, PartOutline]) -> PieceOutline | None:
    if any(name not in parts or parts[name].polygon.is_empty for name in names):
        return None
    found = [parts[name] for name in names]
    outline = (
        found[0].polygon if len(found) == 1 else outer(closing(unary_union([part.polygon for part in found]), 1.6 * CM))
    )
    return PieceOutline(outline, np.vstack([_riding(part) for part in found]))


def _riding(part: PartOutline) -> Array:
    """Material points of a part; props, whose points may differ in number, give as many along their length."""
    points: Array = (
        part.centres[:, :2] if part.centres is not None else np.vstack([face.corners for face in part.faces])
    )
    if part.is_body:
        return points
    some: Array = points[np.rint(np.linspace(0, len(points) - 1, 6)).astype(int)]
    return some


def _ring(outline: Polygon, count: int) -> Array:
    line = LineString(shapely.orient_polygons(outline).exterior.coords)
    at = np.linspace(0, line.length, count, endpoint=False)
    found: Array = shapely.get_coordinates(shapely.line_interpolate_point(line, at))
    return found


def _similar(before: Array, after: Array) -> Array:
    """The turn, scale and shift (2, 3) that take points (n, 2) to others best; only a shift for a single place."""
    one, two = before.mean(axis=0), after.mean(axis=0)
    z, w = (before - one) @ [1, 1j], (after - two) @ [1, 1j]
    spread = float((abs(z) ** 2).sum())
    factor = complex((np.conj(z) @ w) / spread) if spread > 25.0 else 1 + 0j
    turn = np.array([[factor.real, -factor.imag], [factor.imag, factor.real]])
    return np.column_stack([turn, two - turn @ one])


def _mapped(matrix: Array, points: Array) -> Array:
    made: Array = points @ matrix[:, :2].T + matrix[:, 2]
    return made


def _affine(end: PieceOutline, key: PieceOutline) -> tuple[Array, float]:
    """The affine map (2, 3) that lays the end outline on the key outline, and how far it misses."""
    matrix = _similar(end.riding, key.riding)
    points = _ring(end.outline, 48)
    target = key.outline.exterior
    for _ in range(4):
        laid = shapely.points(_mapped(matrix, points))
        nearest = shapely.get_coordinates(
            shapely.line_interpolate_point(target, shapely.line_locate_point(target, laid))
        )
        matrix = fit_plane(points, nearest).T
    laid_ring = Polygon(_mapped(matrix, points)).exterior
    return matrix, float(shapely.hausdorff_distance(laid_ring, target, densify=0.25))


def _aligned(points: Array, like: Array) -> Array:
    """The same ring begun where it matches another best."""
    shift = min(range(len(points)), key=lambda one: float(((np.roll(points, -one, axis=0) - like) ** 2).sum()))
    return np.roll(points, -shift, axis=0)


def _matrix(affine: Array) -> list[float]:
    """The six numbers of an SVG matrix: shape to a thousandth, shift to a whole unit."""
    shape = [round(float(value), 3) for value in affine[:, :2].T.ravel()]
    return [*shape, *(round(float(value)) for value in affine[:, 2])]


def _piece(drawn: Drawn, keys: list[PieceOutline]) -> list[Any] | None:
    """The data of one piece, or None where it stays still."""
    end, earlier = keys[-1], keys[:-1]
    if max(shapely.hausdorff_distance(shape.outline.exterior, end.outline.exterior) for shape in earlier) < _STILL:
        return None
    maps = [_affine(end, shape) for shape in earlier]
    if max(miss for _, miss in maps) < _KEEPS_SHAPE:
        return [drawn.first, drawn.past, [_matrix(matrix) for matrix, _ in maps]]
    count = int(np.clip(end.outline.exterior.length / _SPACING, _FEWEST, _MOST))
    ring = _ring(end.outline, count)
    riding = [_similar(end.riding, shape.riding) for shape in earlier]
    whole = np.rint(ring).astype(int)
    steps = [
        np.rint(_aligned(_ring(shape.outline, count), _mapped(matrix, ring))).astype(int) - whole
        for shape, matrix in zip(earlier, riding, strict=True)
    ]
    found = [
        drawn.first,
        drawn.past,
        " ".join(TONES[word] for word in drawn.role.split()),
        [whole.ravel().tolist(), *(step.ravel().tolist() for step in steps)],
    ]
    return [*found, [_matrix(matrix) for matrix in riding]] if drawn.past - drawn.first > 1 else found


def motion_data(figure: Figure) -> dict[str, Any]:
    """Data for the player: ``k`` keys; ``p`` moving pieces, each with the range of marks of the end panel it replaces.

    ``[first, past, [map, ...]]``: affine maps ``a b c d e f`` (as in SVG ``matrix``) that take the end picture to each
    earlier key.  ``[first, past, class, [points, step, ...], [map, ...]]``: the outline at the end as ``x y ...``, what
    to add for each earlier key, and maps for the marks after the first.  Coordinates are those of the end
    panel's group.  A held position has no pieces.
    """
    if not figure.spec.moves:
        return {"k": 0, "p": []}
    numbers = tuple(range(0, len(figure.motion.frames), _EVERY))
    frames = outlines_at(figure, numbers)
    pieces = []
    for drawn in figure.panels[-1].pieces:
        keys = [shape for parts in frames if (shape := _shape(drawn.names, parts))]
        if len(keys) == len(numbers) and (data := _piece(drawn, keys)):
            pieces.append(data)
    return {"k": len(numbers), "p": pieces}

"""Outlines as few cubic Bézier curves, and their shortest SVG text.

Fits by Schneider's method (Graphics Gems, 1990): least squares between corners, split where it misses most.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

Array = NDArray[np.floating[Any]]
Curve = tuple[Array | tuple[float, ...], ...]
"""Two points (a straight line) or four (a cubic curve)."""

TOLERANCE = 2.0
"""How far a curve may miss its outline, drawing units (4 mm of the body, 0.14 mm on paper, 0.6 px of a figure 400 px wide)."""
_CORNER = 42.0
"""Degrees of turning at one point that make a corner."""
_MOST_TURN = np.radians(130)
"""How far a stretch may turn before it is cut without trying one curve."""
_STEP = 7.0


def _unit(vector: Array) -> Array:
    length = float(np.hypot(vector[0], vector[1]))
    return vector / length if length > 1e-12 else np.array([1.0, 0.0])


Pair = tuple[float, float]


def _handles(xs: list[float], ys: list[float], us: list[float], first: Pair, last: Pair) -> Pair:
    """Lengths of both handles by least squares (Schneider); plain floats, since stretches are short."""
    x0, y0, x3, y3 = xs[0], ys[0], xs[-1], ys[-1]
    wide, high, (first_x, first_y), (last_x, last_y) = x3 - x0, y3 - y0, first, last
    c11 = c12 = c22 = g1 = g2 = 0.0
    for x, y, u in zip(xs, ys, us, strict=True):
        v = 1 - u
        along = 3 * u * v
        b1, b2 = along * v, along * u
        b3 = u * u * u + b2
        dx, dy = x - x0 - wide * b3, y - y0 - high * b3
        c11 += b1 * b1
        c12 += b1 * b2
        c22 += b2 * b2
        g1 += b1 * (dx * first_x + dy * first_y)
        g2 += b2 * (dx * last_x + dy * last_y)
    c12 *= first_x * last_x + first_y * last_y
    det = c11 * c22 - c12 * c12
    return ((g1 * c22 - g2 * c12) / det, (c11 * g2 - c12 * g1) / det) if abs(det) > 1e-9 else (0.0, 0.0)


Cubic = tuple[float, float, float, float, float, float, float, float]
"""A curve as two polynomials in its parameter: a u³ + b u² + c u + d for x, then for y."""


def _cubic(ends: tuple[float, ...]) -> Cubic:
    x0, y0, x1, y1, x2, y2, x3, y3 = ends
    cx, cy = 3 * (x1 - x0), 3 * (y1 - y0)
    bx, by = 3 * (x2 - x1) - cx, 3 * (y2 - y1) - cy
    return x3 - x0 - cx - bx, bx, cx, x0, y3 - y0 - cy - by, by, cy, y0


def _missed(xs: list[float], ys: list[float], us: list[float], cubic: Cubic) -> tuple[float, int]:
    """Worst squared miss, and its number."""
    ax, bx, cx, dx, ay, by, cy, dy = cubic
    worst, at = -1.0, 0
    for number, (x, y, u) in enumerate(zip(xs, ys, us, strict=True)):
        ex, ey = ((ax * u + bx) * u + cx) * u + dx - x, ((ay * u + by) * u + cy) * u + dy - y
        miss = ex * ex + ey * ey
        if miss > worst:
            worst, at = miss, number
    return worst, at


def _better(xs: list[float], ys: list[float], us: list[float], cubic: Cubic) -> list[float]:
    """Better parameters: one Newton step each."""
    ax, bx, cx, dx, ay, by, cy, dy = cubic
    found = []
    for x, y, u in zip(xs, ys, us, strict=True):
        ex, ey = ((ax * u + bx) * u + cx) * u + dx - x, ((ay * u + by) * u + cy) * u + dy - y
        sx, sy = (3 * ax * u + 2 * bx) * u + cx, (3 * ay * u + 2 * by) * u + cy
        slope = sx * sx + sy * sy
        after = u - (ex * sx + ey * sy) / slope if slope > 1e-9 else u
        found.append(0.0 if after < 0.0 else 1.0 if after > 1.0 else after)
    return found


def _fit_points(points: Array, first: Array, last: Array, tolerance: float, found: list[Curve]) -> None:
    """Curves along points (n, 2) with unit tangents at both ends."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    line = (points[:, 0].tolist(), points[:, 1].tolist(), along.tolist())
    _fit(line, (float(first[0]), float(first[1])), (float(last[0]), float(last[1])), tolerance, found)


Line = tuple[list[float], list[float], list[float]]
"""x, y, and the length from the beginning, of each point; plain floats, since stretches are short."""


def _fit(line: Line, out: Pair, back: Pair, tolerance: float, found: list[Curve]) -> None:
    xs, ys, along = line
    length = along[-1] - along[0]
    if len(xs) <= 3 or length < 2 * tolerance:
        third = length / 3
        inner = ((xs[0] + out[0] * third, ys[0] + out[1] * third), (xs[-1] + back[0] * third, ys[-1] + back[1] * third))
        found.append(((xs[0], ys[0]), *inner, (xs[-1], ys[-1])))
        return
    us = [(one - along[0]) / length for one in along]
    worst = 0
    for turn in range(3):
        one, two = _handles(xs, ys, us, out, back)
        if not (0.03 * length < one < 1.5 * length and 0.03 * length < two < 1.5 * length):
            one = two = length / 3
        ends = (
            xs[0],
            ys[0],
            xs[0] + out[0] * one,
            ys[0] + out[1] * one,
            xs[-1] + back[0] * two,
            ys[-1] + back[1] * two,
            xs[-1],
            ys[-1],
        )
        cubic = _cubic(ends)
        miss, worst = _missed(xs, ys, us, cubic)
        if miss < tolerance * tolerance:
            found.append((ends[0:2], ends[2:4], ends[4:6], ends[6:8]))
            return
        if miss > 16 * tolerance * tolerance:
            break
        if turn < 2:
            us = _better(xs, ys, us, cubic)
    split = min(max(worst, 1), len(xs) - 2)
    wide, high = xs[split - 1] - xs[split + 1], ys[split - 1] - ys[split + 1]
    size = math.hypot(wide, high)
    tangent = (wide / size, high / size) if size > 1e-12 else (1.0, 0.0)
    _fit((xs[: split + 1], ys[: split + 1], along[: split + 1]), out, tangent, tolerance, found)
    _fit((xs[split:], ys[split:], along[split:]), (-tangent[0], -tangent[1]), back, tolerance, found)


def _spaced(points: Array) -> Array:
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    count = max(8, int(along[-1] / _STEP) + 1)
    at = np.linspace(0, along[-1], count)
    return np.column_stack([np.interp(at, along, points[:, 0]), np.interp(at, along, points[:, 1])])


def _corners(points: Array, closed: bool) -> list[int]:
    if closed:
        before, after = points - np.roll(points, 1, axis=0), np.roll(points, -1, axis=0) - points
        base = 0
    else:
        before, after = points[1:-1] - points[:-2], points[2:] - points[1:-1]
        base = 1
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turning = np.degrees(np.abs(np.arctan2(cross, np.einsum("ij,ij->i", before, after))))
    return [int(number) + base for number in np.flatnonzero(turning > _CORNER)]


def _turns(points: Array, first: Array, last: Array) -> list[tuple[Array, Array, Array]]:
    """Stretches of a line that turn no more than one curve can follow, with their end tangents."""
    steps = np.diff(points, axis=0)
    heading = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    turned = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(heading)))])
    count = int(turned[-1] / _MOST_TURN) + 1
    cuts = np.searchsorted(turned, np.linspace(0, turned[-1], count + 1)[1:-1]).tolist()
    bounds = [0, *(cut for cut in dict.fromkeys(cuts) if 1 < cut < len(points) - 2), len(points) - 1]
    found = []
    for one, two in zip(bounds, bounds[1:], strict=False):
        begin = first if one == 0 else _unit(points[one + 1] - points[one - 1])
        end = last if two == len(points) - 1 else _unit(points[two - 1] - points[two + 1])
        found.append((points[one : two + 1], begin, end))
    return found


def curves(points: Array, closed: bool, tolerance: float = TOLERANCE) -> list[Curve]:
    """A polyline (n, 2) as curves; corners stay corners."""
    line = LineString(np.vstack([points, points[:1]]) if closed else points).simplify(0.2)
    kept = np.asarray(line.coords)
    if closed:
        kept = kept[:-1]
    if len(kept) < 2:
        return []
    corners = _corners(kept, closed)
    smooth = closed and not corners
    if closed:
        start = corners[0] if corners else 0
        kept = np.vstack([kept[start:], kept[: start + 1]])
        bounds = [number - start for number in corners or [0]] + [len(kept) - 1]
    else:
        bounds = [0, *corners, len(kept) - 1]
    found: list[Curve] = []
    for one, two in zip(bounds, bounds[1:], strict=False):
        stretch = kept[one : two + 1]
        if len(stretch) == 2:
            found.append((stretch[0], stretch[1]))
            continue
        spaced = _spaced(stretch)
        first, last = _unit(spaced[1] - spaced[0]), _unit(spaced[-2] - spaced[-1])
        if smooth:
            first = _unit(spaced[1] - spaced[-2])
            last = -first
        for piece, one_way, other_way in _turns(spaced, first, last):
            _fit_points(piece, one_way, other_way, tolerance, found)
    return found


def _numbers(values: list[int]) -> str:
    text = ""
    for value in values:
        text += str(value) if not text or value < 0 else f" {value}"
    return text


_SMOOTH = 2
"""Units by which a handle may differ from the mirror of the one before and still be written as that: the curve moves by less than half of it."""


def path_of(found: list[Curve], closed: bool) -> str:
    """SVG path text in whole units, relative, with smooth joins where they cost less."""
    if not found:
        return ""
    x, y = (round(float(value)) for value in found[0][0])
    text, last, mirror = f"M{_numbers([x, y])}", "M", (0, 0)
    for curve in found:
        ends = [(round(float(point[0])) - x, round(float(point[1])) - y) for point in curve[1:]]
        flat = [value for pair in ends for value in pair]
        if len(curve) == 2:
            if ends[0] == (0, 0):
                continue
            mirror = (0, 0)
            command, numbers = ("v", flat[1:]) if not flat[0] else ("h", flat[:1]) if not flat[1] else ("l", flat)
        else:
            near = abs(ends[0][0] - mirror[0]) <= _SMOOTH and abs(ends[0][1] - mirror[1]) <= _SMOOTH and last in "cs"
            command, numbers = ("s", flat[2:]) if near else ("c", flat)
            mirror = (ends[2][0] - ends[1][0], ends[2][1] - ends[1][1])
        joined = _numbers(numbers)
        text += (
            joined if command == last and joined[0] == "-" else f" {joined}" if command == last else command + joined
        )
        x, y, last = x + ends[-1][0], y + ends[-1][1], command
    return text + ("z" if closed else "")


def shape_path(shape: BaseGeometry, tolerance: float = TOLERANCE, least: float = 12.0) -> str:
    """The outlines of a shape as path text; specks below ``least`` square units and small holes are left out."""
    text = ""
    for polygon in getattr(shape, "geoms", [shape]):
        if isinstance(polygon, Polygon) and polygon.area > least:
            for ring in (polygon.exterior, *(hole for hole in polygon.interiors if Polygon(hole).area > 8 * least)):
                text += path_of(curves(np.asarray(ring.coords)[:-1], True, tolerance), True)
    return text


def line_path(points: Array, tolerance: float = TOLERANCE) -> str:
    """An open line as path text."""
    return path_of(curves(np.asarray(points), False, tolerance), False)


def corner_path(points: Array) -> str:
    """A closed polygon with straight sides as path text."""
    return path_of([(one, two) for one, two in zip(points, np.roll(points, -1, axis=0)[:-1], strict=False)], True)

"""Arrows beside moving parts, and the ghost of the start pose.

An arrow is one clean arc: a parabola near the path of a moving point.  It is set where it costs least: a map of costs
is laid over the picture, and the arc is tried at many places near its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from handouts.figure.draw.camera import CM
from handouts.figure.draw.curves import shape_path
from handouts.figure.draw.rounding import outer
from handouts.figure.draw.style import DrawnPath

Array = NDArray[np.floating[Any]]
Extent = tuple[float, float, float, float]
_HEAD, _HALF_HEAD = 6.4 * CM, 3.5 * CM
_TAIL, _NECK = 0.7 * CM, 1.2 * CM
"""Half width of the stem at its tail and at its head."""
_MOST_LIMBS = 2
"""More moving limbs than these leave no ghost, which would clutter."""
_STILL = 0.8 * CM
"""A path that is shorter has no arrow."""
_LEAST = 16.0 * CM
"""Length of the shortest arrow."""
WEIGHTS = {"hatch": 16.0, "arrow": 16.0, "head": 14.0, "hand": 10.0, "shoe": 8.0, "body": 4.5, "band": 4.0,
           "thing": 0.6, "ghost": 0.4}  # fmt: skip
"""What a centimetre of an arrow costs over each thing."""
_CELL, _AROUND, _AIR = 1.8 * CM, 34 * CM, 3.2 * CM
"""Width of a cell of the map, how far the map goes beyond the picture, and how much room an arrow keeps to each side."""
_ASIDE, _BEHIND, _AHEAD, _OUT = 0.62, 0.95, 0.38, 0.28
"""Cost of each centimetre that an arrow stands aside, behind or ahead of the movement, or outside the picture."""
_BENT, _TRIMMED, _ENTERS = 26.0, 16.0, 5.0
"""Cost of bending an arc by its chord, of leaving out all of it, and of each time that it goes over the body."""
_BENDS = (0.0, 0.14, -0.14, 0.28, -0.28)
"""Bends that are tried, shares of the chord."""
_TRIMS = ((0.02, 0.97), (0.08, 0.97), (0.02, 0.90), (0.10, 0.90), (0.18, 0.92), (0.08, 0.82))
"""Stretches of the path that are tried, shares of its time."""
_COUNT, _AT_HEAD = 26, 7
"""Points on an arc, and how many of them at its head count twice."""
_NEEDS_HALO = 0.25
"""Mean cost of a centimetre over which an arrow lies on something."""


def _shifts() -> Array:
    """Places to try (n, 2): none, and eleven distances in eighteen directions."""
    turns = np.radians(np.arange(0, 360, 20))
    distances = np.array([3, 5, 7, 9, 11, 13, 16, 19, 22, 26, 30]) * CM
    around = distances[:, None, None] * np.column_stack([np.cos(turns), np.sin(turns)])
    return np.vstack([[[0.0, 0.0]], around.reshape(-1, 2)])


_SHIFTS = _shifts()


@dataclass(frozen=True, eq=False, slots=True)
class Arrow:
    """An arrow: its marks, its shape, the room it takes, what lies under it (mean cost of a centimetre), how far aside it stands."""

    marks: tuple[DrawnPath, ...]
    shape: Polygon
    room: BaseGeometry
    over: float
    aside: float


@dataclass(eq=False, slots=True)
class CostMap:
    """What an arrow would cost at each place of a picture: cells from ``left`` and ``top``, ``bounds`` of the picture."""

    left: float
    top: float
    cost: Array
    body: NDArray[np.bool_]
    bounds: Extent

    def add(self, shape: BaseGeometry, weight: float) -> None:
        """An area to keep free, with room around it; of several the dearest counts."""
        if shape.is_empty:
            return
        wide = shape.simplify(0.8 * CM).buffer(_AIR, quad_segs=2)
        x0, y0, x1, y1 = wide.bounds
        columns = slice(max(0, int((x0 - self.left) / _CELL)), max(0, int((x1 - self.left) / _CELL) + 1))
        rows = slice(max(0, int((y0 - self.top) / _CELL)), max(0, int((y1 - self.top) / _CELL) + 1))
        here = self.cost[rows, columns]
        if not here.size:
            return
        xs = self.left + (np.arange(here.shape[1]) + columns.start + 0.5) * _CELL
        ys = self.top + (np.arange(here.shape[0]) + rows.start + 0.5) * _CELL
        shapely.prepare(wide)
        inside = shapely.contains_xy(wide, xs[None, :].repeat(len(ys), 0), ys[:, None].repeat(len(xs), 1))
        self.cost[rows, columns] = np.where(inside, np.maximum(here, weight), here)
        if weight >= WEIGHTS["body"]:
            self.body[rows, columns] |= inside

    def at(self, points: Array) -> tuple[Array, NDArray[np.bool_]]:
        """Cost and whether there is body, for points (..., 2)."""
        columns = np.clip(((points[..., 0] - self.left) / _CELL).astype(int), 0, self.cost.shape[1] - 1)
        rows = np.clip(((points[..., 1] - self.top) / _CELL).astype(int), 0, self.cost.shape[0] - 1)
        return self.cost[rows, columns], self.body[rows, columns]

    def outside(self, points: Array) -> Array:
        """How far points (..., 2) lie outside the picture."""
        x0, y0, x1, y1 = self.bounds
        x, y = points[..., 0], points[..., 1]
        made: Array = np.maximum(0, np.maximum(x0 - x, x - x1)) + np.maximum(0, np.maximum(y0 - y, y - y1))
        return made


def cost_map(bounds: Extent, things: list[tuple[BaseGeometry, float]]) -> CostMap:
    """A map with all that an arrow should keep away from."""
    x0, y0, x1, y1 = bounds
    shape = (int((y1 - y0 + 2 * _AROUND) / _CELL) + 1, int((x1 - x0 + 2 * _AROUND) / _CELL) + 1)
    made = CostMap(x0 - _AROUND, y0 - _AROUND, np.zeros(shape), np.zeros(shape, dtype=bool), bounds)
    for thing, weight in things:
        made.add(thing, weight)
    return made


def _along(line: Array) -> Array:
    """How far along a line each of its points is."""
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])


def _at(line: Array, along: Array, places: Array) -> Array:
    """Points (n, 2) at places along a line."""
    return np.column_stack([np.interp(places, along, line[:, axis]) for axis in (0, 1)])


def _arc(path: Array) -> Array:
    """Control points (3, 2) of a calm parabola near a path, through its ends."""
    time = _along(path)
    time = time / (time[-1] + 1e-9)
    weight = 2 * time * (1 - time)
    rest = path - np.outer((1 - time) ** 2, path[0]) - np.outer(time**2, path[-1])
    control = (weight[:, None] * rest).sum(axis=0) / (weight @ weight + 1e-9)
    chord = path[-1] - path[0]
    size = float(np.linalg.norm(chord)) + 1e-9
    middle = (path[0] + path[-1]) / 2
    along, across = chord / size, np.array([-chord[1], chord[0]]) / size
    bow = control - middle
    # The bow is held to 0.9 of the chord across and near its middle: an arc that cannot hook.
    bow = across * np.clip(bow @ across, -0.9 * size, 0.9 * size) + along * np.clip(bow @ along, -0.18 * size, 0.18 * size)
    return np.array([path[0], middle + bow, path[-1]])


def _parabola(control: Array, low: float, high: float) -> Array:
    time = np.linspace(low, high, _COUNT)[:, None]
    made: Array = (1 - time) ** 2 * control[0] + 2 * time * (1 - time) * control[1] + time**2 * control[2]
    return made


def _best(control: Array, length: float, costs: CostMap) -> tuple[Array, float, float]:
    """The cheapest line (n, 2) for an arc, the mean cost under it, and how far it is moved."""
    chord = control[2] - control[0]
    size = float(np.linalg.norm(chord)) + 1e-9
    onward, across = chord / size, np.array([-chord[1], chord[0]]) / size
    forth = _SHIFTS @ onward / CM
    moved = np.hypot(np.where(forth > 0, _AHEAD, _BEHIND) * forth, _ASIDE * (_SHIFTS @ across) / CM)
    weight = np.ones(_COUNT)
    weight[-_AT_HEAD:] = 2.0
    least, best = np.inf, (control, 0.0, 0.0)
    for low, high in _TRIMS if length > 1.4 * _LEAST else _TRIMS[:1]:
        for bend in _BENDS:
            line = _parabola(control + np.array([[0.0], [bend * size], [0.0]]) * across, low, high)
            places = line[None] + _SHIFTS[:, None]
            cost, body = costs.at(places)
            total = (cost * weight).sum(axis=1) * (_along(line)[-1] / CM / _COUNT) + moved
            total += costs.outside(places).max(axis=1) / CM * _OUT + abs(bend) * _BENT + (1 - high + low) * _TRIMMED
            total += (np.diff(body.astype(int), axis=1) > 0).sum(axis=1) * _ENTERS
            one = int(total.argmin())
            if total[one] < least:
                least = float(total[one])
                best = (line + _SHIFTS[one], float(cost[one].mean()), float(np.hypot(*_SHIFTS[one])))
    return best


def _shape(line: Array) -> Polygon:
    """An arrow along a line as one shape: a stem that swells toward its head."""
    along = _along(line)
    total = along[-1]
    head = min(_HEAD, total * 0.46)
    points = _at(line, along, np.linspace(0.0, total - head * 0.72, 22))
    steps = np.gradient(points, axis=0)
    steps /= np.linalg.norm(steps, axis=1)[:, None] + 1e-9
    across = np.column_stack([-steps[:, 1], steps[:, 0]]) * np.linspace(_TAIL, _NECK, 22)[:, None]
    stem = Polygon(np.vstack([points + across, (points - across)[::-1]])).buffer(0)
    tip, back = line[-1], _at(line, along, np.array([total - head]))[0]
    way = (tip - back) / (np.linalg.norm(tip - back) + 1e-9)
    side = np.array([-way[1], way[0]]) * _HALF_HEAD * head / _HEAD
    barbs = Polygon([tip, tip - way * head + side, tip - way * head * 0.74, tip - way * head - side])
    return outer(unary_union([stem, Point(points[0]).buffer(_TAIL, quad_segs=3), barbs]))


def arrow_of(path: Array, costs: CostMap) -> Arrow | None:
    """The arrow for a point's flat path (n, 2), where it costs least; None where nothing moves."""
    if _along(path)[-1] < _STILL:
        return None
    control = _arc(path)
    length = float(_along(_parabola(control, 0, 1))[-1])
    if length < _LEAST:
        middle = control.mean(axis=0)
        control = middle + (control - middle) * (_LEAST / max(length, 1.0))
    line, over, aside = _best(control, length, costs)
    shape = _shape(line)
    text = shape_path(shape, 0.9)
    halo = (DrawnPath("halo", text),) if over > _NEEDS_HALO else ()
    return Arrow((*halo, DrawnPath("arrow", text)), shape, shape.buffer(0.6 * CM), over, aside)


_LEAST_SEEN = 0.4
"""Share of a ghost that must show beside the body: less of it is a scrap that nobody reads, as where legs change places."""


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
    if shape.difference(body).area < _LEAST_SEEN * shape.area or shape.area > 0.55 * body.area:
        return None
    return shape
